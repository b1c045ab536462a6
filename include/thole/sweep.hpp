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
  std::string of;                   ///< "mount.host.thickness", or "boom length"
  std::vector<std::string> values;  ///< as written in the file, with their units; or
  std::string from, to;             ///< and `steps` of equal size
  int steps = 0;
};

struct SweepName {
  std::string_view name;  ///< "inboard distance"
  std::string_view what;
};
[[nodiscard]] const std::vector<SweepName>& sweep_names();

struct SweepPoint {
  std::string value;    ///< as put into the file
  double si = 0;        ///< for plots; 0 for words
  std::string why_not;  ///< it cannot be read or calculated so
  std::optional<Worth> worth;
  std::optional<Force> not_before;
  std::string first;
  std::vector<GearLimit> gear_limits;
};

struct SweepAnswer {
  std::string of;     ///< the path
  std::string label;  ///< of the input, "wall thickness"
  std::string unit;   ///< of `si`
  std::string drawn;  ///< the value as drawn
  std::vector<SweepPoint> points;
  bool stopped = false;
};

struct SweepOptions {
  unsigned threads = 2;  ///< results do not depend on it
  Angle step = degrees(5);
  Watch watch;
};

/// Source, Valid, Accuracy: as `assess` of each value. Throws InputError with every problem of the
/// text as drawn, UnknownName for a path or name that does not exist, UnitError for a value without
/// a unit, DomainError for an empty range or more than 500 values.
[[nodiscard]] SweepAnswer sweep(std::string_view text, const std::string& file,
                                const MaterialLibrary& library, const SweepQuestion& question,
                                const SweepOptions& options = {});

/// What one input does to the answer when it is a little worse than written.
struct InputEffect {
  std::string path;
  std::string label;
  std::string value;  ///< as it stands
  Knowledge known = Knowledge::assumed;
  std::string tried;      ///< "0.072 in, the next thinner", "20 % more"
  std::string why_tried;  ///< how far off it may be: a maker's range, a ruler, judgement
  Worth worth;            ///< then
  double change = 0;      ///< of the least ratio: -0.2 is a fifth less
  bool decides = false;   ///< it turns the verdict, or takes more than a tenth
};

struct InputAnswer {
  Worth as_drawn;
  std::vector<InputEffect> effects;    ///< worst first
  std::vector<std::string> not_tried;  ///< labels of inputs that no worse value is known for
  bool stopped = false;
};

/// Every input that is no size from a store, each by itself at the bad end of what it may be: those
/// that are assumed farther off than those that are measured.
/// Source:   `assess` of each; ranges: judgement where none is published, said in each row.
/// Throws InputError with every problem of the text.
[[nodiscard]] InputAnswer which_inputs_decide(std::string_view text, const std::string& file,
                                              const MaterialLibrary& library,
                                              const SweepOptions& options = {});

[[nodiscard]] std::string sweep_table(const Setup& setup, const SweepAnswer& answer);
[[nodiscard]] std::string sweep_json(const Setup& setup, const SweepAnswer& answer);
[[nodiscard]] std::string input_table(const Setup& setup, const InputAnswer& answer);
[[nodiscard]] std::string input_json(const Setup& setup, const InputAnswer& answer);

}  // namespace thole
