#include "cli/whole_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <utility>

#include <thole/error.hpp>

#include "cli/support.hpp"

namespace thole::cli {
namespace {

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.find_last_of('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

bool names_a_link(const std::string& path) {
  struct stat info {};
  return lstat(path.c_str(), &info) == 0 && S_ISLNK(info.st_mode);
}

bool there(const std::string& path) {
  struct stat info {};
  return lstat(path.c_str(), &info) == 0;
}

// Where a link leads; the path itself where it is none or leads nowhere.
std::string followed(const std::string& path) {
  if (!names_a_link(path)) return path;
  char* real = realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string out = real;
  std::free(real);
  return out;
}

// Renames only where nothing has the new name.
int rename_new(const std::string& from, const std::string& to) {
#ifdef RENAME_NOREPLACE
  if (renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return -1;
#endif
  if (link(from.c_str(), to.c_str()) != 0) return -1;
  return unlink(from.c_str());
}

// Two files change names in one step; false where the file system cannot.
bool swap_names(const std::string& one, const std::string& other) {
#ifdef RENAME_EXCHANGE
  return renameat2(AT_FDCWD, one.c_str(), AT_FDCWD, other.c_str(), RENAME_EXCHANGE) == 0;
#else
  errno = ENOSYS;
  return false;
#endif
}

std::string hidden_name(const std::string& folder, unsigned n) {
  return folder + "/.thole-" + std::to_string(getpid()) + "-" + std::to_string(n);
}

std::string without_write_access(int why) {
  if (why == EACCES) return "is write-protected and is left as it is";
  return std::string("cannot be written: ") + std::strerror(why);
}

// Of what has the name already.
std::string why_not_replaced(const std::string& path, bool replace) {
  struct stat info {};
  if (stat(path.c_str(), &info) != 0) {
    return replace ? "is a link to nowhere and is left as it is"
                   : "exists already and is left as it is";
  }
  if (S_ISDIR(info.st_mode)) return "is a folder, a file is expected";
  if (!replace) return "exists already and is left as it is";
  if (!S_ISREG(info.st_mode)) return "is no plain file and is left as it is";
  if (access(path.c_str(), W_OK) != 0) return without_write_access(errno);
  return "";
}

}  // namespace

std::string why_not_written(const std::string& path, bool replace) {
  if (path.empty() || path.back() == '/') return "is a folder, a file is expected";
  struct stat info {};
  if (lstat(path.c_str(), &info) == 0) {
    const std::string why = why_not_replaced(path, replace);
    if (!why.empty()) return why;
  } else if (errno != ENOENT && errno != ENOTDIR) {
    return std::strerror(errno);
  }
  const std::string folder = folder_of(followed(path));
  if (stat(folder.c_str(), &info) != 0 || !S_ISDIR(info.st_mode)) {
    return "there is no folder " + shown(folder);
  }
  if (access(folder.c_str(), W_OK | X_OK) != 0) {
    return "nothing can be written in its folder: " + std::string(std::strerror(errno));
  }
  return "";
}

WholeFile::WholeFile(std::string path, const std::string& text, bool replace)
    : path_(std::move(path)), target_(replace ? followed(path_) : path_), replace_(replace) {
  const std::string why = why_not_written(path_, replace);
  if (!why.empty()) throw Error(shown(path_) + ": " + why);
  try {
    begin(folder_of(target_));
    write(text);
  } catch (...) {
    remove_hidden();
    if (fd_ >= 0) close(fd_);
    throw;
  }
}

WholeFile::WholeFile(WholeFile&& other) noexcept
    : path_(std::move(other.path_)),
      target_(std::move(other.target_)),
      hidden_(std::exchange(other.hidden_, {})),
      replace_(other.replace_),
      placed_(std::exchange(other.placed_, false)),
      swapped_(std::exchange(other.swapped_, false)),
      fd_(std::exchange(other.fd_, -1)) {}

WholeFile::~WholeFile() {
  if (placed_ && swapped_) (void)swap_names(hidden_, target_);
  if (placed_ && !swapped_) unlink(target_.c_str());
  remove_hidden();
  if (fd_ >= 0) close(fd_);
}

void WholeFile::fail(int why) const {
  throw Error(shown(path_) + ": cannot be written: " + std::strerror(why));
}

void WholeFile::begin(const std::string& folder) {
  constexpr mode_t mode = 0644;
#ifdef O_TMPFILE
  // Without a name nothing is left of it even where the program is killed. It gets one through
  // /proc.
  if (access("/proc/self/fd", X_OK) == 0) {
    fd_ = open(folder.c_str(), O_WRONLY | O_TMPFILE | O_CLOEXEC, mode);  // NOLINT(hicpp-vararg)
    if (fd_ >= 0) return;
  }
#endif
  for (unsigned n = 0; fd_ < 0; ++n) {
    const std::string name = hidden_name(folder, n);
    fd_ = open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC,  // NOLINT(hicpp-vararg)
               mode);
    if (fd_ >= 0) hidden_ = name;
    if (fd_ < 0 && errno != EEXIST) fail(errno);
  }
}

void WholeFile::write(const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t n = ::write(fd_, text.data() + done, text.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) fail(n < 0 ? errno : ENOSPC);
    done += static_cast<std::size_t>(n);
  }
  struct stat old {};
  if (replace_ && stat(target_.c_str(), &old) == 0) (void)fchmod(fd_, old.st_mode & 0777U);
  // Some file systems tell of a full disk only here; some know no such call.
  if (fsync(fd_) != 0 && errno != EINVAL && errno != EROFS) fail(errno);
}

// A hidden name for one that has none.
void WholeFile::name_it() {
  const std::string nameless = "/proc/self/fd/" + std::to_string(fd_);
  for (unsigned n = 0; hidden_.empty(); ++n) {
    const std::string name = hidden_name(folder_of(target_), n);
    if (linkat(AT_FDCWD, nameless.c_str(), AT_FDCWD, name.c_str(), AT_SYMLINK_FOLLOW) == 0) {
      hidden_ = name;
    } else if (errno != EEXIST) {
      fail(errno);
    }
  }
}

void WholeFile::take_place_of_old() {
  if (swap_names(hidden_, target_)) {
    swapped_ = true;
    placed_ = true;
    return;
  }
  if (errno != EINVAL && errno != ENOSYS) fail(errno);
  if (std::rename(hidden_.c_str(), target_.c_str()) != 0) fail(errno);
  hidden_.clear();  // the old one is gone: nothing to take back
}

void WholeFile::place() {
  name_it();
  if (replace_ && there(target_)) return take_place_of_old();
  if (rename_new(hidden_, target_) != 0) {
    if (errno == EEXIST) throw Error(shown(path_) + ": exists already and is left as it is");
    fail(errno);
  }
  hidden_.clear();
  placed_ = true;
}

void WholeFile::keep() {
  remove_hidden();
  placed_ = false;
  swapped_ = false;
}

void WholeFile::remove_hidden() {
  if (!hidden_.empty()) unlink(hidden_.c_str());
  hidden_.clear();
}

SignalsHeld::SignalsHeld() {
  sigset_t held{};
  sigemptyset(&held);
  for (const int s : {SIGINT, SIGTERM, SIGHUP, SIGQUIT}) sigaddset(&held, s);
  sigprocmask(SIG_BLOCK, &held, &before_);
}

SignalsHeld::~SignalsHeld() { sigprocmask(SIG_SETMASK, &before_, nullptr); }

}  // namespace thole::cli
