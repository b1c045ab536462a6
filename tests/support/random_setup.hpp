#pragma once

/// Texts of random setups over all that the reader takes, and how to make one of them plainer.
///
/// Every choice has a name and depends on the seed and its name alone, so that one choice made
/// plain leaves all others as they were: a setup that breaks an invariant is shrunk choice by
/// choice.

#include <cstdint>
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace thole::test {

/// What a setup is made from: all choices that are not in `plain` by the seed, those as by habit.
struct Genome {
  std::uint64_t seed = 0;
  std::set<std::string> plain;
};

class Choices {
 public:
  explicit Choices(const Genome& genome) : genome_(genome) {}

  /// 0 when plain.
  int below(const std::string& name, int n);
  /// no when plain.
  bool one_in(const std::string& name, int n) { return below(name, n) == n - 1; }
  double between(const std::string& name, double plain, double from, double to);
  /// The same, as many between 1 and 10 as between 10 and 100.
  double spread(const std::string& name, double plain, double from, double to);
  /// The first when plain.
  std::string_view pick(const std::string& name, const std::vector<std::string_view>& words);

  /// Names of all choices made so far.
  [[nodiscard]] const std::vector<std::string>& made() const { return made_; }

 private:
  // Between 0 and 1 by seed and name; nothing decided (`plain`) where the genome says so.
  bool decided(const std::string& name, double& share);

  const Genome& genome_;
  std::vector<std::string> made_;
};

/// The text of a setup. Nearly always a valid one; what the reader refuses is no setup.
[[nodiscard]] std::string setup_text(Choices& choices);
[[nodiscard]] std::string setup_text(const Genome& genome);

/// Makes as many choices plain as still break something: `breaks` is asked of each text.
[[nodiscard]] Genome shrunk(const Genome& genome,
                            const std::function<bool(const std::string& text)>& breaks,
                            int most_tries = 400);

// ---- Parts, shared by the files that write them
// ---------------------------------------------------------------------------

/// A size as written and what it is worth in millimetres.
struct Size {
  double mm = 0;
  std::string text;
};

class Draft {
 public:
  Draft(Choices& choices, bool in_inches) : c(choices), inch(in_inches) {}

  Choices& c;
  const bool inch;

  /// A length given in mm, written in the units of the file.
  [[nodiscard]] Size size(double mm) const;
  Size length(const std::string& name, double plain, double from, double to);
  /// Newtons, kilograms, metres per second.
  [[nodiscard]] std::string force(double newtons) const;
  [[nodiscard]] std::string mass(double kg) const;
  [[nodiscard]] std::string moment(double newton_metres) const;
  [[nodiscard]] std::string stress(double mpa) const;
  [[nodiscard]] std::string speed(double metres_per_second) const;
  [[nodiscard]] std::string angle(double degrees) const;
  /// With the word of how it is known; measured when plain.
  std::string known(const std::string& name, const std::string& text);
};

/// A scalar of YAML, quoted where it must be.
[[nodiscard]] std::string scalar(std::string_view text);

/// Fasteners by size, small to large: threads, widths and washers that go with them.
struct ThreadSize {
  std::string_view name;
  double mm;  ///< wide
  std::string_view washer;
  double head;  ///< mm, of a round one
};
[[nodiscard]] const ThreadSize& thread_of(Draft& d, const std::string& name);
[[nodiscard]] std::string_view fastener_material(Draft& d, const std::string& name);
[[nodiscard]] std::string metal(Draft& d, const std::string& name, bool steel_too = false);

/// Lines of `mount:` and of `gear:`; `boards` with places on a board.
[[nodiscard]] std::string plate_mount(Draft& d);
[[nodiscard]] std::string bracket_mount(Draft& d);

struct BoardSizes {
  double width = 0;  ///< mm, fore and aft
  double clear = 0;
  double overhang = 0;
  double half_seat = 0;  ///< half of the seat along the boat, both sides
};
[[nodiscard]] std::string board_mount(Draft& d, BoardSizes& sizes);
/// Nothing: on a plate.
[[nodiscard]] std::string gear_list(Draft& d, const BoardSizes* board);

}  // namespace thole::test
