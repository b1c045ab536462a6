#include "cli/outputs.hpp"

#include <filesystem>
#include <system_error>

#include <thole/error.hpp>

#include "cli/support.hpp"

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

bool there(const std::string& path) {
  std::error_code none;
  return fs::exists(fs::symlink_status(path, none));
}

// Over a file that is there only once everything is written.
std::string beside_it(const Output& o) { return o.path + ".thole-new"; }

void check_one(const Output& o, bool replace) {
  bool fits = false;
  std::string expected;
  for (const std::string& suffix : o.suffixes) {
    fits = fits || has_suffix(o.path, suffix);
    expected += (expected.empty() ? "" : " or ") + suffix;
  }
  if (!fits) {
    throw Error(o.option + " writes " + o.words + ": the name of the file must end in " + expected +
                ", found \"" + o.path + "\"");
  }
  std::error_code none;
  if (fs::is_directory(o.path, none)) {
    throw Error(o.option + " " + o.path + ": is a folder, a file is expected");
  }
  if (there(o.path) && !replace) {
    throw Error(o.option + " " + o.path +
                ": exists already and is left as it is; --replace writes over it");
  }
  const fs::path folder = fs::path(o.path).parent_path();
  if (!folder.empty() && !fs::is_directory(folder, none)) {
    throw Error(o.option + " " + o.path + ": there is no folder " + folder.string());
  }
  if (there(o.path) && there(beside_it(o))) {
    throw Error(o.option + " " + o.path + ": " + beside_it(o) +
                " is in the way, left by a run that was stopped: take it away");
  }
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
        throw Error(o.option + " " + o.path + ": is the file that is read; another name is needed");
      }
    }
    for (std::size_t k = 0; k < i; ++k) {
      if (!outputs[k].path.empty() && same_file(o.path, outputs[k].path)) {
        throw Error(o.option + " and " + outputs[k].option + " name the same file: " + o.path);
      }
    }
    check_one(o, replace);
  }
}

void write_outputs(const std::vector<Output>& outputs, bool replace) {
  std::vector<std::string> written;
  try {
    std::vector<const Output*> over;
    for (const Output& o : outputs) {
      if (o.path.empty()) continue;
      const bool old = replace && there(o.path);
      const std::string to = old ? beside_it(o) : o.path;
      write_new_file(to, o.text);
      written.push_back(to);
      if (old) over.push_back(&o);
    }
    for (const Output* o : over) {
      std::error_code failed;
      fs::rename(beside_it(*o), o->path, failed);
      if (failed) throw Error(o->path + ": cannot be replaced: " + failed.message());
    }
  } catch (...) {
    std::error_code none;
    for (const std::string& path : written) fs::remove(path, none);
    throw;
  }
}

}  // namespace thole::cli
