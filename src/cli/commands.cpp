#include "cli/commands.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <stdexcept>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

namespace thole::cli {
namespace {

constexpr std::size_t most_bytes = 1 << 20;

void say(const std::string& text) { std::fwrite(text.data(), 1, text.size(), stdout); }

void complain(const std::string& text) {
  const std::string line = "error: " + text + "\n";
  std::fwrite(line.data(), 1, line.size(), stderr);
}

std::string read_file(const std::string& path) {
  struct stat info {};
  if (stat(path.c_str(), &info) != 0) {
    throw Error(path + ": " + (errno == ENOENT ? "no such file" : std::strerror(errno)));
  }
  if (S_ISDIR(info.st_mode)) throw Error(path + ": is a folder, a file is expected");
  std::FILE* f = std::fopen(path.c_str(), "rb");
  if (f == nullptr) throw Error(path + ": " + std::strerror(errno));
  std::string text;
  char buffer[65536];
  std::size_t n = 0;
  while (text.size() <= most_bytes && (n = std::fread(buffer, 1, sizeof buffer, f)) > 0) {
    text.append(buffer, n);
  }
  const bool bad = std::ferror(f) != 0;
  std::fclose(f);
  if (bad) throw Error(path + ": cannot be read");
  if (text.size() > most_bytes) throw Error(path + ": larger than 1 MiB; a setup is a page or two");
  return text;
}

MaterialLibrary library_with(const std::vector<std::string>& tables) {
  MaterialLibrary library = built_in_materials();
  for (const std::string& path : tables) add_table(library, read_file(path), path);
  return library;
}

// Every error becomes text on stderr and code 2; nothing has been written by then.
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

bool colour_wanted() {
  const char* no = std::getenv("NO_COLOR");
  if (no != nullptr && *no != '\0') return false;
  return isatty(STDOUT_FILENO) != 0;
}

std::string lower(std::string s) {
  for (char& c : s) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return s;
}

std::string entry_text(const Entry& e) {
  std::string out = e.name;
  std::string also;
  for (const std::string& a : e.also) also += (also.empty() ? "" : ", ") + a;
  if (!also.empty()) out += "  (also " + also + ")";
  if (e.by_user) out += "  [your table " + e.table + "]";
  out += "\n";
  for (const auto& [name, text] : e.about) out += "    " + name + ": " + text + "\n";
  for (const auto& [name, v] : e.values) {
    out += "    " + name + " " + v.written + ", " + std::string(word_for(v.basis)) + "; " +
           to_text(v.source) + "\n";
  }
  if (!e.note.empty()) out += "    note: " + e.note + "\n";
  return out;
}

}  // namespace

int check(const CheckArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const Setup setup = read_setup(read_file(arguments.setup), arguments.setup, library);
    const Assessment result = assess(setup);
    say(arguments.json
            ? json_report(setup, result)
            : terminal_report(setup, result,
                              {.colour = colour_wanted(), .details = arguments.details}));
    return result.verdict == Verdict::holds ? 0 : 1;
  });
}

int list_materials(const std::vector<std::string>& words, const std::vector<std::string>& tables) {
  return guarded([&] {
    const MaterialLibrary library = library_with(tables);
    if (words.empty()) {
      std::string out = "Tables (thole materials WORD... lists entries with their sources)\n";
      for (const KindRule& rule : table_kinds()) {
        std::size_t n = 0;
        for (const Entry& e : library.entries()) {
          if (e.kind == rule.kind) ++n;
        }
        out += "  " + std::string(rule.plural) + ": " + std::to_string(n) + "\n";
      }
      say(out);
      return 0;
    }
    std::string out;
    std::string heading;
    for (const Entry& e : library.entries()) {
      // Every word must be found in the kind, the names or the facts.
      const KindRule& rule = table_kind(e.kind);
      std::string hay = lower(std::string(rule.plural) + " " + e.kind + " " + e.name);
      for (const std::string& a : e.also) hay += " " + lower(a);
      for (const auto& [name, text] : e.about) hay += " " + lower(text);
      bool all = true;
      for (const std::string& w : words) all = all && hay.find(lower(w)) != std::string::npos;
      if (!all) continue;
      if (heading != rule.plural) {
        heading = rule.plural;
        out += (out.empty() ? "" : "\n") + heading + "\n\n";
      }
      out += entry_text(e);
    }
    if (out.empty()) {
      std::string asked;
      for (const std::string& w : words) asked += (asked.empty() ? "" : " ") + w;
      std::vector<std::string> names;
      for (const Entry& e : library.entries()) names.push_back(e.name);
      const std::string near = nearest_spelling(asked, names);
      throw Error("no table entry matches \"" + asked + "\"" +
                  (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
    }
    say(out);
    return 0;
  });
}

int write_starter(const std::string& path, const std::string& mount) {
  return guarded([&] {
    const std::string text = starter_setup(mount);
    // O_EXCL: an existing file, or a link to nowhere, is never written.
    const int fd = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL, 0644);  // NOLINT(hicpp-vararg)
    if (fd < 0) {
      throw Error(path + ": " +
                  (errno == EEXIST ? "exists already and is left as it is" : std::strerror(errno)));
    }
    std::size_t done = 0;
    while (done < text.size()) {
      const ssize_t n = write(fd, text.data() + done, text.size() - done);
      if (n <= 0) {
        close(fd);
        unlink(path.c_str());
        throw Error(path + ": cannot be written");
      }
      done += static_cast<std::size_t>(n);
    }
    close(fd);
    say("wrote " + path + "; fill it in at the boat, then: thole check " + path + "\n\n" +
        measuring_list(mount));
    return 0;
  });
}

int print_measuring_list(const std::string& mount) {
  return guarded([&] {
    say(measuring_list(mount));
    return 0;
  });
}

int print_schema(const std::string& which) {
  return guarded([&] {
    if (which == "setup") {
      say(setup_schema());
    } else if (which == "report") {
      say(report_schema());
    } else {
      throw Error("\"" + which + "\" is no schema; setup or report is expected");
    }
    return 0;
  });
}

}  // namespace thole::cli
