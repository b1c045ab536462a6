#pragma once

/// What all commands share: files, output, errors.

#include <cstdio>
#include <stdexcept>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/material.hpp>
#include <thole/setup.hpp>

namespace thole::cli {

void say(const std::string& text);
/// "error: ..." on stderr, without what a terminal would obey.
void complain(const std::string& text);
/// The same for lines that are complete.
void complain_of_input(const std::string& lines);
/// To be called first: closed streams stay closed when files are opened, and a full disk is an
/// error.
void begin();
/// A word of the user in a message: on one line whatever it holds, bytes that no terminal should
/// see as \x1b, its middle left out where it is long.
[[nodiscard]] std::string shown(const std::string& word);
/// A file, or what comes out of a pipe. Throws Error for what cannot be read or is above 1 MiB.
[[nodiscard]] std::string read_file(const std::string& path);
/// The setup in a file, under its name as shown.
[[nodiscard]] Setup setup_from(const std::string& path, const MaterialLibrary& library);
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
    complain_of_input(text);
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
