#pragma once

/// Files written whole or not at all, whatever happens on the way.

#include <csignal>
#include <string>

namespace thole::cli {

/// Why no file may be written to `path`; "" when nothing is seen against it. A plain file, or a
/// link to one, that is there may be written over only with `replace`; a folder, a device, a pipe,
/// a link to nowhere and a write-protected file never. Writes nothing.
[[nodiscard]] std::string why_not_written(const std::string& path, bool replace);

/// One file on its way: under no name where the file system can, else under a hidden one of its own
/// beside the target. What has not been kept at the end of its life is taken away again.
class WholeFile {
 public:
  /// All bytes go to the disk here. Throws Error, as `place` does.
  WholeFile(std::string path, const std::string& text, bool replace);
  ~WholeFile();
  WholeFile(WholeFile&& other) noexcept;
  WholeFile(const WholeFile&) = delete;
  WholeFile& operator=(const WholeFile&) = delete;
  WholeFile& operator=(WholeFile&&) = delete;

  /// Gives it its name in one step. What was there is kept aside until `keep`.
  void place();
  void keep();

 private:
  void begin(const std::string& folder);
  void write(const std::string& text);
  void name_it();
  void take_place_of_old();
  void remove_hidden();
  [[noreturn]] void fail(int why) const;

  std::string path_;    ///< as the user wrote it
  std::string target_;  ///< links followed
  std::string hidden_;  ///< name beside the target; "" where it has none
  bool replace_ = false;
  bool placed_ = false;
  bool swapped_ = false;  ///< the old file now has the hidden name
  int fd_ = -1;
};

/// Holds back the signals that would end the program until the end of its life: several files get
/// their names, or none.
class SignalsHeld {
 public:
  SignalsHeld();
  ~SignalsHeld();
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;

 private:
  sigset_t before_{};
};

}  // namespace thole::cli
