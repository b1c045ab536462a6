// Preloaded into the program by files_test.py: what files meet in bad hours, at the same place in
// each run. THOLE_CUT holds words:
//   kill, term   the first write to a file stops half way with that signal
//   full         the same with a full disk, at the second half
//   slow         writes take a while, so that two runs overlap
//   named        no file without a name, as on some file systems
//   no-swap      no exchange of names either
//   stuck        the second file cannot get its name

#include <dlfcn.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdlib>
#include <cstring>

namespace {

bool asked(const char* word) {
  const char* all = std::getenv("THOLE_CUT");
  return all != nullptr && std::strstr(all, word) != nullptr;
}

template <class Function>
Function next(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}

bool plain_file(int fd) {
  struct stat info {};
  return fd > 2 && fstat(fd, &info) == 0 && S_ISREG(info.st_mode);
}

int refused(int why) {
  errno = why;
  return -1;
}

int calls = 0;
int renames = 0;

}  // namespace

extern "C" {

ssize_t write(int fd, const void* bytes, size_t n) {
  const auto real = next<ssize_t (*)(int, const void*, size_t)>("write");
  if (!plain_file(fd)) return real(fd, bytes, n);
  ++calls;
  if (asked("slow")) usleep(200000);
  const bool cut = asked("kill") || asked("term") || asked("full");
  if (!cut) return real(fd, bytes, n);
  if (calls == 1) return real(fd, bytes, n / 2);
  if (asked("kill")) raise(SIGKILL);
  if (asked("term") && calls == 2) raise(SIGTERM);
  if (asked("full")) return refused(ENOSPC);
  return real(fd, bytes, n);
}

int open(const char* path, int flags, ...) {
  va_list list;
  va_start(list, flags);
  const mode_t mode = va_arg(list, mode_t);
  va_end(list);
  if ((flags & O_TMPFILE) == O_TMPFILE && asked("named")) return refused(EOPNOTSUPP);
  return next<int (*)(const char*, int, mode_t)>("open")(path, flags, mode);
}

int renameat2(int from, const char* one, int to, const char* other, unsigned flags) {
  if (asked("no-swap")) return refused(EINVAL);
  if (asked("stuck") && ++renames == 2) return refused(EPERM);
  return next<int (*)(int, const char*, int, const char*, unsigned)>("renameat2")(from, one, to,
                                                                                  other, flags);
}
}
