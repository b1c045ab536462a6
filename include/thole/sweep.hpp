#pragma once

/// One quantity of a setup over a range, and which inputs decide (target thole::reading).

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/changes.hpp>
#include <thole/material.hpp>
#include <thole/progress.hpp>
#include <thole/setup.hpp>

namespace thole {

/// What is swept: a path in the file, or one of the names of `sweep_names`.
struct SweepQuestion {
  std::string of;                   ///< "mount.host.thickness", "gear.*.boom_length", "boom length"
  std::vector<std::string> values;  ///< as written in the file, with their units; or
  std::string from, to;             ///< and `steps` of equal size, in the unit of `from`
  int steps = 0;                    ///< 0: ten
};

/// Neither values nor a range: the common walls of the tables, of a wall only.
struct SweepName {
  std::string_view name;  ///< "inboard distance"
  std::string_view what;
};
[[nodiscard]] const std::vector<SweepName>& sweep_names();

struct SweepPoint {
  std::string value;            ///< as asked for
  std::string written;          ///< as put into the file: of "inboard distance" the other sign
  std::optional<double> plots;  ///< SI, angles in degrees; nothing for words
  std::string why_not;          ///< it cannot be read or calculated so
  std::optional<Worth> worth;
  /// Least factor over factor needed without checks of distances, which no pull changes.
  std::optional<double> loaded_ratio;
  std::optional<Force> not_before;
  std::string first;  ///< to go
  std::vector<GearLimit> gear_limits;
  std::optional<Force> boat_setting;  ///< the least by the boat's heel
  /// From the hull to the cable, plumb below the boom tip: the least of all downriggers and boom
  /// positions. Below zero: over the boat.
  std::optional<Length> cable_gap;
};

struct SweepAnswer {
  std::string of;                       ///< as asked for
  std::string label;                    ///< of the input, "wall thickness"
  std::string what;                     ///< of a name of ours: where it counts from
  std::vector<std::string> paths;       ///< where the value was put
  std::string unit;                     ///< of `plots`: "m", "deg"; "" for words
  SweepPoint as_drawn;                  ///< `plots`: nothing where several gears differ
  std::optional<std::size_t> drawn_at;  ///< the point that is as drawn
  std::vector<SweepPoint> points;
  std::string cable;  ///< how its gap is found, or why it is not known; "" without a downrigger
  bool stopped = false;
};

struct SweepOptions {
  unsigned threads = 2;  ///< results do not depend on it
  Angle step = degrees(5);
  Watch watch;
};

/// Source:   `assess` of each value put into the text; of the cable gap plain geometry.
/// Valid:    as `assess`. A value that cannot be read or calculated is kept with its reason.
/// Accuracy: of the assessment. The cable gap: wire straight down, boat square at side and transom.
/// Throws InputError with every problem of the text as drawn, UnknownName for a path or name that
/// does not exist, UnitError for a value without a unit, DomainError for an empty range or more
/// than 500 values.
[[nodiscard]] SweepAnswer sweep(std::string_view text, const std::string& file,
                                const MaterialLibrary& library, const SweepQuestion& question,
                                const SweepOptions& options = {});

/// What one input does to the answer when it is a little worse than written.
struct InputEffect {
  std::vector<std::string> paths;  ///< in the file; several that have one value go together
  std::string label;
  std::string value;  ///< as it stands
  Knowledge known = Knowledge::assumed;
  bool is_input = true;   ///< false: what is tried always, such as more load
  std::string tried;      ///< "0.080 in, the next thinner", "8.4 lbf, 20 % more"
  std::string why_tried;  ///< how far off it may be: a tape, a maker's range; mostly judgement
  Worth worth;            ///< then
  /// Least factor over factor needed: of all checks, or of those under load where that loses more.
  double before = 0;
  double after = 0;
  std::string gives_way;  ///< then, of `after`
  double change = 0;      ///< -0.2 is a fifth less
  bool decides = false;   ///< it turns the verdict, or takes more than a tenth
};

struct InputNotTried {
  std::string label;
  std::vector<std::string> paths;
  std::string why;
};

struct InputAnswer {
  Worth as_drawn;                          ///< without a verdict nothing is tried
  Worth loaded;                            ///< as drawn, without checks of distances
  std::vector<InputEffect> effects;        ///< worst first
  std::vector<InputNotTried> not_tried;    ///< each other input
  std::vector<std::string> measure_first;  ///< labels of the assumed ones that decide
  bool stopped = false;
};

/// Every input that is no size from a store, each by itself at the bad end of what it may be: those
/// that are assumed farther off than those that are measured.
/// Source:   `assess` of each; ranges: judgement, said in each row.
/// Valid:    as `assess`; one input at a time: several that are off together may take more.
/// Accuracy: of the assessment.
/// Throws InputError with every problem of the text.
[[nodiscard]] InputAnswer which_inputs_decide(std::string_view text, const std::string& file,
                                              const MaterialLibrary& library,
                                              const SweepOptions& options = {});

[[nodiscard]] std::string sweep_table(const Setup& setup, const SweepAnswer& answer);
[[nodiscard]] std::string sweep_json(const Setup& setup, const SweepAnswer& answer);
[[nodiscard]] std::string input_table(const Setup& setup, const InputAnswer& answer);
[[nodiscard]] std::string input_json(const Setup& setup, const InputAnswer& answer);

}  // namespace thole
