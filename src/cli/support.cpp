#include "cli/support.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include <thole/reading.hpp>

#include "cli/commands.hpp"
#include "report/text.hpp"

namespace thole::cli {

namespace {
constexpr std::size_t most_bytes = 1 << 20;
int write_error = 0;

// Bytes of the character at `i`: 0 where it is no UTF-8, or no terminal should see it.
std::size_t printable_length(const std::string& text, std::size_t i) {
  const auto byte = [&](std::size_t k) {
    return k < text.size() ? static_cast<unsigned char>(text[k]) : 0U;
  };
  const unsigned first = byte(i);
  if (first < 0x80) return first >= 0x20 && first != 0x7f ? 1 : 0;
  const std::size_t n = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4) return 0;
  unsigned code = first & (0xffU >> (n + 1));
  for (std::size_t k = 1; k < n; ++k) {
    if ((byte(i + k) & 0xc0U) != 0x80) return 0;
    code = code << 6U | (byte(i + k) & 0x3fU);
  }
  constexpr unsigned least[] = {0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xd800 && code <= 0xdfff;
  const bool control = code <= 0x9f;                       // C1
  const bool turns = code >= 0x2028 && code <= 0x202e;     // lines, direction
  const bool isolates = code >= 0x2066 && code <= 0x2069;  // direction
  if (code < least[n - 2] || code > 0x10ffff || surrogate) return 0;
  return control || turns || isolates ? 0 : n;
}

std::string why_not_opened(const std::string& path, int why) {
  struct stat info {};
  const bool link = lstat(path.c_str(), &info) == 0 && S_ISLNK(info.st_mode);
  if (why == ENOENT) return link ? "is a link to nowhere" : "no such file";
  if (why == ELOOP) return "is a link that leads in a circle";
  if (why == ENXIO && S_ISSOCK(info.st_mode)) return "is a socket, a file is expected";
  return std::strerror(why);
}

// A pipe without a writer reads as if it were at its end: whoever is about to write is given a
// moment.
constexpr int moments = 40;
void wait_a_moment() { (void)poll(nullptr, 0, 50); }

std::string text_from(int fd, bool pipe, const std::string& name) {
  std::string text;
  char buffer[65536];
  for (int waited = 0;;) {
    const ssize_t n = read(fd, buffer, sizeof buffer);
    if (n > 0) {
      text.append(buffer, static_cast<std::size_t>(n));
      if (text.size() <= most_bytes) continue;
      throw Error(name + ": larger than 1 MiB; a setup is a page or two");
    }
    if (n == 0) {
      if (!pipe || !text.empty()) return text;
      if (++waited > moments) throw Error(name + ": is a pipe, and nothing came out of it");
      wait_a_moment();
    } else if (errno == EAGAIN) {  // on Linux also EWOULDBLOCK
      struct pollfd until {
        fd, POLLIN, 0
      };
      (void)poll(&until, 1, -1);
    } else if (errno != EINTR) {
      throw Error(name + ": cannot be read: " + std::strerror(errno));
    }
  }
}

}  // namespace

void say(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) write_error = errno;
}

void complain_of_input(const std::string& lines) {
  const std::string text = text::printable(lines);
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void complain(const std::string& text) { complain_of_input("error: " + text + "\n"); }

void begin() {
  // A file that is opened must not become stdout or stderr because that one was closed. Read-only,
  // so that writing there goes on failing.
  for (int fd = open("/dev/null", O_RDONLY);  // NOLINT(hicpp-vararg)
       fd >= 0; fd = dup(fd)) {
    if (fd <= STDERR_FILENO) continue;
    close(fd);
    break;
  }
  // A file that grows too large is then told like a full disk.
  std::signal(SIGXFSZ, SIG_IGN);
}

std::string shown(const std::string& word) {
  constexpr std::size_t most = 160;
  if (word.size() > most) {
    return shown(word.substr(0, most / 2)) + "..." + shown(word.substr(word.size() - most / 2));
  }
  std::string out;
  for (std::size_t i = 0; i < word.size();) {
    const std::size_t n = printable_length(word, i);
    if (n > 0) {
      out += word.substr(i, n);
    } else {
      out += fmt::format("\\x{:02x}", static_cast<unsigned char>(word[i]));
    }
    i += std::max<std::size_t>(n, 1);
  }
  return out;
}

std::string read_file(const std::string& path) {
  // A pipe that nobody writes to must not hold us up when it is opened.
  const int fd = open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);  // NOLINT
  if (fd < 0) throw Error(shown(path) + ": " + why_not_opened(path, errno));
  struct Closed {
    int fd;
    ~Closed() { close(fd); }
  } const closed{fd};
  struct stat info {};
  if (fstat(fd, &info) == 0 && S_ISDIR(info.st_mode)) {
    throw Error(shown(path) + ": is a folder, a file is expected");
  }
  return text_from(fd, S_ISFIFO(info.st_mode), shown(path));
}

Setup setup_from(const std::string& path, const MaterialLibrary& library) {
  return read_setup(read_file(path), shown(path), library);
}

MaterialLibrary library_with(const std::vector<std::string>& tables) {
  MaterialLibrary library = built_in_materials();
  for (const std::string& path : tables) add_table(library, read_file(path), shown(path));
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
