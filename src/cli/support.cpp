#include "cli/support.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include <thole/reading.hpp>

#include "cli/commands.hpp"

namespace thole::cli {

namespace {
constexpr std::size_t most_bytes = 1 << 20;
int write_error = 0;
}  // namespace

void say(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) write_error = errno;
}

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

void write_new_file(const std::string& path, const std::string& text) {
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
      const std::string why = std::strerror(n < 0 ? errno : ENOSPC);
      close(fd);
      unlink(path.c_str());
      throw Error(path + ": cannot be written: " + why);
    }
    done += static_cast<std::size_t>(n);
  }
  if (close(fd) != 0) {
    const std::string why = std::strerror(errno);
    unlink(path.c_str());
    throw Error(path + ": cannot be written: " + why);
  }
}

MaterialLibrary library_with(const std::vector<std::string>& tables) {
  MaterialLibrary library = built_in_materials();
  for (const std::string& path : tables) add_table(library, read_file(path), path);
  return library;
}

bool colour_wanted() {
  const char* no = std::getenv("NO_COLOR");
  if (no != nullptr && *no != '\0') return false;
  return isatty(STDOUT_FILENO) != 0;
}

int finish(int code) {
  errno = 0;
  if (std::fflush(stdout) != 0) write_error = errno;
  if (write_error == 0 && std::ferror(stdout) == 0) return code;
  complain(std::string("the output could not be written") +
           (write_error != 0 ? std::string(": ") + std::strerror(write_error) : std::string()));
  return 2;
}

}  // namespace thole::cli
