#pragma once

/// What all commands share: files, output, errors.

#include <cstdio>
#include <stdexcept>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/material.hpp>

namespace thole::cli {

void say(const std::string& text);
void complain(const std::string& text);
/// Throws Error for what is no readable file of at most 1 MiB.
[[nodiscard]] std::string read_file(const std::string& path);
/// Writes a file that is not there yet. Throws Error for one that exists, which stays as it is, and
/// for one that cannot be written, which is taken away again.
void write_new_file(const std::string& path, const std::string& text);
/// The built-in tables and those of the user.
[[nodiscard]] MaterialLibrary library_with(const std::vector<std::string>& tables);
[[nodiscard]] bool colour_wanted();

/// Every error becomes text on stderr and code 2; nothing has been written by then.
template <class Body>
int guarded(Body body) {
  try {
    return body();
  } catch (const InputError& e) {
    std::string text;
    for (const Problem& p : e.problems()) text += "error: " + to_text(p);
    const std::size_t n = e.problems().size();
    text += std::to_string(n) + (n == 1 ? " problem" : " problems") + ", nothing was checked\n";
    std::fwrite(text.data(), 1, text.size(), stderr);
    return 2;
  } catch (const InternalError& e) {
    complain(std::string("a fault in thole itself, please report it: ") + e.what());
    return 2;
  } catch (const std::exception& e) {
    complain(e.what());
    return 2;
  }
}

}  // namespace thole::cli
