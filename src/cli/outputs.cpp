#include "cli/outputs.hpp"

#include <filesystem>
#include <system_error>

#include <thole/error.hpp>

#include "cli/support.hpp"
#include "cli/whole_file.hpp"

namespace thole::cli {

namespace {

namespace fs = std::filesystem;

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

// Two names of one file, whether it exists or is only about to.
bool same_file(const std::string& a, const std::string& b) {
  std::error_code none;
  if (fs::exists(a, none) && fs::exists(b, none)) return fs::equivalent(a, b, none);
  const fs::path one = fs::weakly_canonical(fs::absolute(a, none), none);
  const fs::path other = fs::weakly_canonical(fs::absolute(b, none), none);
  return one == other;
}

void check_one(const Output& o, bool replace) {
  bool fits = false;
  std::string expected;
  for (const std::string& suffix : o.suffixes) {
    fits = fits || has_suffix(o.path, suffix);
    expected += (expected.empty() ? "" : " or ") + suffix;
  }
  if (!fits) {
    throw Error(o.option + " writes " + o.words + ": the name of the file must end in " + expected +
                ", found \"" + shown(o.path) + "\"");
  }
  const std::string why = why_not_written(o.path, replace);
  if (why.empty()) return;
  const bool could = !replace && why_not_written(o.path, true).empty();
  throw Error(o.option + " " + shown(o.path) + ": " + why +
              (could ? "; --replace writes over it" : ""));
}

}  // namespace

bool has_suffix(const std::string& path, const std::string& suffix) {
  if (path.size() <= suffix.size()) return false;
  return lower(path.substr(path.size() - suffix.size())) == suffix;
}

void check_outputs(const std::vector<Output>& outputs, const std::vector<std::string>& inputs,
                   bool replace) {
  for (std::size_t i = 0; i < outputs.size(); ++i) {
    const Output& o = outputs[i];
    if (o.path.empty()) continue;
    for (const std::string& in : inputs) {
      if (same_file(o.path, in)) {
        throw Error(o.option + " " + shown(o.path) +
                    ": is the file that is read; another name is needed");
      }
    }
    for (std::size_t k = 0; k < i; ++k) {
      if (!outputs[k].path.empty() && same_file(o.path, outputs[k].path)) {
        throw Error(o.option + " and " + outputs[k].option +
                    " name the same file: " + shown(o.path));
      }
    }
    check_one(o, replace);
  }
}

void write_outputs(const std::vector<Output>& outputs, bool replace) {
  const SignalsHeld held;
  std::vector<WholeFile> files;
  for (const Output& o : outputs) {
    if (!o.path.empty()) files.emplace_back(o.path, o.text, replace);
  }
  for (WholeFile& f : files) f.place();
  for (WholeFile& f : files) f.keep();
}

void check_new_file(const std::string& path) {
  const std::string why = why_not_written(path, false);
  if (!why.empty()) throw Error(shown(path) + ": " + why);
}

void write_new_file(const std::string& path, const std::string& text) {
  write_outputs({{"", path, {}, "", text}}, false);
}

}  // namespace thole::cli
