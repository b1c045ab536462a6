#pragma once

/// The space of a search for sizes: quantities with their options, and the mount that a choice of
/// one option each makes. Private to reading.

#include <cstddef>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <thole/sizing.hpp>

namespace thole::reading {

/// One option of each quantity.
using Choice = std::vector<std::size_t>;

class SizeSpace {
 public:
  virtual ~SizeSpace() = default;
  SizeSpace(const SizeSpace&) = delete;
  SizeSpace& operator=(const SizeSpace&) = delete;

  [[nodiscard]] const std::vector<SizeQuantity>& quantities() const { return quantities_; }
  /// The product of the options; the last quantity changes fastest.
  [[nodiscard]] std::size_t designs() const;
  [[nodiscard]] Choice choice(std::size_t design) const;
  [[nodiscard]] std::size_t number(const Choice& choice) const;

  /// The setup without what only reports need: `build` makes each design in a copy of it.
  [[nodiscard]] const Setup& bare() const { return bare_; }
  /// Makes the mount of a choice in a copy of `bare()` or of the setup. Throws DomainError where it
  /// cannot be made.
  virtual void build(const Choice& choice, Setup& out) const = 0;
  /// The setup of a choice with its inputs, as its report would list them.
  [[nodiscard]] Setup setup_of(const Choice& choice) const;

  [[nodiscard]] virtual Mass mass(const Setup& design) const = 0;
  [[nodiscard]] virtual Area section(const Setup& design) const = 0;

  /// Fills what a report says of the space.
  void describe(SizeAnswer& out) const;

 protected:
  SizeSpace(const Setup& setup, const SizeQuestion& question, const MaterialLibrary& library);

  /// Is this quantity to be free? Marks it as one that this mount has.
  [[nodiscard]] bool is_free(std::string_view word);
  /// Was it asked for by its word, so that it is an error where it cannot be?
  [[nodiscard]] bool is_asked(std::string_view word) const;
  /// Not free: DomainError where it was asked for, else a remark.
  void cannot(std::string_view word, const std::string& why);
  std::size_t add(SizeQuantity quantity);
  virtual void set_inputs(const Choice& choice, Setup& out) const = 0;

  static void forget(Setup& s, const std::vector<std::string>& paths);
  static void note(Setup& s, const std::string& path, const std::string& label,
                   const std::string& value, Knowledge known = Knowledge::tagged);

  [[nodiscard]] double density(const Metal& metal) const;
  [[nodiscard]] static double density(const FastenerMaterial& material);
  [[nodiscard]] static double density(const Wood& wood, bool wet);
  /// Shank, head and nut.
  [[nodiscard]] static double bolt(const Thread& thread, const FastenerMaterial& material,
                                   Length grip, bool nut);
  [[nodiscard]] static double washer(Length outside, Length hole, double density);
  /// A plain washer of the tables for a thread, or its widest. Nothing: there is none.
  [[nodiscard]] const Washer* table_washer(const Thread& thread, bool wide) const;
  [[nodiscard]] bool inch() const { return s_.units == ReaderUnits::inch; }
  /// Coarse threads of the tables in the units of the setup, least first.
  [[nodiscard]] std::vector<Thread> threads(Length least, Length most, const Thread& drawn) const;
  /// Thicknesses that flat bar is sold in.
  [[nodiscard]] std::vector<Length> bar_thicknesses() const;
  [[nodiscard]] std::vector<Length> bar_widths() const;

  const Setup& s_;
  const SizeQuestion& q_;
  const MaterialLibrary& library_;
  std::vector<std::string> free_;
  std::vector<SizeQuantity> quantities_;
  SizeAnswer words_;  ///< what `describe` copies

 private:
  void read_washers();

  Setup bare_;
  std::map<std::string, Washer, std::less<>> plain_, wide_;  ///< by size: "1/4", "M6"
};

/// Throws as `size_mount`.
[[nodiscard]] std::unique_ptr<SizeSpace> board_space(const Setup& setup,
                                                     const SizeQuestion& question,
                                                     const MaterialLibrary& library);
[[nodiscard]] std::unique_ptr<SizeSpace> plate_space(const Setup& setup,
                                                     const SizeQuestion& question,
                                                     const MaterialLibrary& library);
[[nodiscard]] std::unique_ptr<SizeSpace> space_of(const Setup& setup, const SizeQuestion& question,
                                                  const MaterialLibrary& library);

}  // namespace thole::reading
