#pragma once

/// Tables of materials, fasteners, threads and store sizes.
///
/// A table is a list of entries of one kind; an entry has named values, each with unit, basis,
/// source and how the source was seen. The library is a plain value: built-in tables and the
/// user's own are added alike (see thole/reading.hpp). Typed views (`metal`, `thread`, ...) read
/// an entry and refuse what is missing.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/quantities.hpp>
#include <thole/source.hpp>
#include <thole/unit_text.hpp>

namespace thole {

/// What a stored figure is. A strength is never `typical`.
enum class Basis {
  minimum,         ///< specification minimum
  characteristic,  ///< 5th percentile
  mean_yield,      ///< wood dowel and screw values
  rated,           ///< a working load that already contains a factor
  mean,            ///< stiffness, dent limit of wood, clear wood
  typical,         ///< stiffness and density only
  nominal,         ///< sizes
  exact,           ///< by definition
  judgement,       ///< chosen
};

[[nodiscard]] std::string_view word_for(Basis basis);

struct TableValue {
  Measure measure;
  Basis basis = Basis::nominal;
  Citation source;
  std::string written;  ///< as in the table: "22 ksi"
};

struct Entry {
  std::string kind;
  std::string name;
  std::vector<std::string> also;
  std::map<std::string, std::string> about;
  std::map<std::string, TableValue> values;
  std::string note;
  std::string table;     ///< which table it came from
  bool by_user = false;  ///< from a user's table or written out in the setup
};

/// A property that entries of a kind may or must have.
struct PropertyRule {
  std::string_view name;
  Dimension dimension;
  bool required;
};

struct KindRule {
  std::string_view kind;
  std::string_view plural;  ///< for headings
  std::vector<PropertyRule> properties;
};

/// The kinds of tables and what their entries hold: the one place that a new kind is added.
[[nodiscard]] const std::vector<KindRule>& table_kinds();
/// Throws UnknownName.
[[nodiscard]] const KindRule& table_kind(std::string_view kind);

/// A wrought metal. Strengths are specification minima.
struct Metal {
  std::string name;
  Stress ultimate;
  Stress yield;
  Stress shear_ultimate;  ///< 0.6 x ultimate where the table has none (ADM since 2010)
  Stress modulus;
  bool weld_affected = false;
  bool aluminium = true;  ///< not a steel
  Citation source;        ///< of the ultimate strength
  friend bool operator==(const Metal&, const Metal&) = default;
};

/// Graded lumber. Strengths are the reference values of the table, dry, before any factor.
///
/// Values that a table lacks are derived on the low side: tension 0.4 and compression 0.5 of
/// bending (below every grade of the NDS tables in hand and every class of EN 338; judgement), the
/// least modulus by the rule of NDS Appendix D (NDS) or 0.66 of the mean (EN 338, just below EN
/// 384), the specific gravity of EN 338 classes from the characteristic density: a 5th percentile
/// where the NDS means an average, so it is never overstated. NDS entries must have their own.
struct Wood {
  std::string name;
  bool nds = true;  ///< allowable values of the NDS; false: EN 338 characteristic values, never KF
  bool southern_pine = false;
  bool hardwood = false;   ///< only where the table says so; softwood distances are the larger
  Length tabulated_width;  ///< Southern Pine: width that the values are for, wider is refused
  Stress bending;
  Stress tension;
  Stress shear;
  Stress compression_perp;  ///< NDS: a mean at 0.04 in of dent; EN 338: characteristic
  Stress compression;
  Stress modulus;
  Stress modulus_min;
  double specific_gravity = 0;  ///< oven-dry
  Citation source;              ///< of the bending strength
  Seen seen = Seen::page;       ///< the weakest of all its values
  friend bool operator==(const Wood&, const Wood&) = default;
};

struct FastenerMaterial {
  std::string name;
  Stress ultimate;
  Stress yield;
  Stress shear_ultimate;
  Stress modulus;
  Citation source;
  friend bool operator==(const FastenerMaterial&, const FastenerMaterial&) = default;
};

/// External and internal thread of one size; see thole/thread.hpp for areas.
struct Thread {
  std::string name;
  Length diameter;
  Length pitch;
  Length external_major_min;
  Length external_pitch_min;
  Length internal_minor_max;
  Length internal_pitch_max;
  Length clearance;          ///< normal clearance hole
  Length head_across_flats;  ///< hexagon head and nut
  Length tap_drill;
  std::string tap_drill_name;
  /// Least minor diameter of a spaced (tapping) thread, which has no limits above; else 0.
  Length root{};
  Citation source;
  friend bool operator==(const Thread&, const Thread&) = default;
};

/// Figures of the like of other makers: they only lower what is given for the insert in hand.
struct BlindInsertRow {
  std::optional<Moment> turns_at;
  std::optional<Force> thread_proof;
  Citation source;
};

struct Washer {
  std::string name;
  Length outside;
  Length hole;
  Length thickness;
  friend bool operator==(const Washer&, const Washer&) = default;
};

/// A working load that already contains its factor; see materials/eye-bolts.yaml.
struct EyeRating {
  std::string name;
  Force in_line{};
  Force at_45_deg{};
  Force breaking{};  ///< minimum breaking load in line
  bool shouldered = false;
  bool rated = false;  ///< false: bent wire, no published rating
  Citation source;
  friend bool operator==(const EyeRating&, const EyeRating&) = default;
};

/// Built once, then read only.
class MaterialLibrary {
 public:
  /// Throws DomainError when the kind has an entry of that name already or a rule is broken.
  void add(Entry entry);

  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }
  [[nodiscard]] const Entry* find(std::string_view kind, std::string_view name) const;
  [[nodiscard]] std::vector<std::string> names(std::string_view kind) const;
  /// The end of a message about an unknown name: "; did you mean ...?" with every entry that is as
  /// near as the nearest, because one of them alone may be a stronger one; "" when none is near.
  [[nodiscard]] std::string near_names(std::string_view kind, std::string_view name) const;

  /// Throw UnknownName with the nearest spelling, DomainError when a needed value is missing.
  /// `weld_affected`: the strength within 1 in (25 mm) of a weld; UnknownName when none is stored.
  [[nodiscard]] Metal metal(std::string_view name, bool weld_affected = false) const;
  [[nodiscard]] FastenerMaterial fastener_material(std::string_view name) const;
  [[nodiscard]] Thread thread(std::string_view name) const;
  /// Of a self-tapping screw.
  [[nodiscard]] Thread spaced_thread(std::string_view name) const;
  /// Torque at which a threaded rivet of that metal ("aluminium", "steel") turns in its wall, and
  /// the proof load of its thread, as far as a table has them.
  [[nodiscard]] BlindInsertRow blind_insert(std::string_view metal, const Thread& thread) const;
  [[nodiscard]] Washer washer(std::string_view name) const;
  [[nodiscard]] Wood wood(std::string_view name) const;
  /// An eye bolt by its full name ("forged collar M8") or by its kind alone ("forged collar"), to
  /// which the size of the thread is added. DomainError when the thread is not that of the entry.
  [[nodiscard]] EyeRating eye_bolt(std::string_view name, const Thread& thread) const;
  /// A factor by its name in the table: "CM shear", "KF connection".
  [[nodiscard]] double wood_factor(std::string_view name) const;
  /// The factor that a group of failure modes needs, with its source.
  [[nodiscard]] const TableValue& required_factor(std::string_view group) const;
  /// Common walls of one market (`inch` or `metric`), thinnest first.
  [[nodiscard]] std::vector<Length> walls(std::string_view market) const;

 private:
  [[nodiscard]] const Entry& need(std::string_view kind, std::string_view name) const;

  std::vector<Entry> entries_;
  std::map<std::string, std::size_t> index_;
};

/// The typed view of an entry that may live outside a library (a metal written out in a setup).
[[nodiscard]] Metal metal_of(const Entry& entry, bool weld_affected);
/// The same for lumber. Throws DomainError unless the entry names its rules (NDS or EN 338).
[[nodiscard]] Wood wood_of(const Entry& entry);

}  // namespace thole
