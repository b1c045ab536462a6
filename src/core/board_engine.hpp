#pragma once

/// One cross-board under any load of its cases: the checks and the limits. Numeric kernel, private
/// to the core.

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/loads.hpp>

#include "checks/board_model.hpp"
#include "core/known_loads.hpp"

namespace thole::board {

/// A failure mode that concerns the board, with the factors it needs.
struct Mode {
  const FailureMode* mode = nullptr;
  Applicability applicable;
  double needed = 0;
  double full = 0;  ///< never below the stored one
  bool lowered = false;
  bool of_foot = false;  ///< of a gear's foot on the board, see `stand`
};

/// Does one of the ranges hold every direction of the other, on a grid of 5 deg?
[[nodiscard]] bool covers(const std::vector<DirectionRange>& ranges, const DirectionRange& other);

/// Straight down and straight up lie in every range that reaches so far.
[[nodiscard]] bool lies_in(const std::vector<DirectionRange>& ranges, const Direction<Boat>& d);

/// One load of a case.
struct Trial {
  int gear = -1;
  int boom = 0;        ///< index of its boom position; when stowed: of where it is stowed
  int others = -1;     ///< boom position of the other gears; -1: as `boom`
  bool alone = false;  ///< the other gears do not tow meanwhile
  unsigned idle = 0;   ///< of several others: a bit for each that does not tow
  [[nodiscard]] bool tows(int other) const { return !alone && (idle >> unsigned(other) & 1U) == 0; }
  [[nodiscard]] int boom_of_others() const { return others < 0 ? boom : others; }
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};  ///< of the pull, axes of that gear
  Eigen::Vector3d acceleration{0, 0, -1};          ///< g, forward, starboard, up
  int person = -1;                                 ///< point on the board
  double y = 0;                                    ///< of a person, forward of the middle
  Side near = Side::port;  ///< the end that holds the board along itself, or the other by variant

  [[nodiscard]] bool operator==(const Trial& o) const {
    return gear == o.gear && boom == o.boom && others == o.others && alone == o.alone &&
           idle == o.idle && way.si_values() == o.way.si_values() &&
           acceleration == o.acceleration && person == o.person && y == o.y && near == o.near;
  }
};

/// What came of a load.
struct Outcome {
  bool mechanism = false;
  std::string motion;
  std::string remedy;
};

class Engine {
 public:
  /// `known`: the same that would be derived from the setup, for many boards under the same gear.
  explicit Engine(const Setup& setup, const KnownLoads* known = nullptr);

  [[nodiscard]] const std::vector<Mode>& modes() const { return modes_; }
  [[nodiscard]] const std::vector<Mode>& all() const { return all_; }
  /// Looks no more at these modes: what bent already ends no pull.
  void leave_out(const std::set<std::pair<std::string, std::string>>& modes_of_parts) {
    std::erase_if(modes_, [&](const Mode& m) {
      return modes_of_parts.count({std::string(m.mode->id), ""}) > 0;
    });
  }
  /// The load cases of the setup, and after them `hidden()` more that only serve the hold limit:
  /// what the list had before the owner made a case narrower.
  [[nodiscard]] const std::vector<LoadCase>& cases() const { return cases_; }
  [[nodiscard]] std::size_t hidden() const { return hidden_; }
  [[nodiscard]] double needed(const Mode& m, Category c) const;
  /// Ends of the ranges of stiffness, slack and hold along the board; 0 is the middle.
  [[nodiscard]] static int variants() { return 4; }
  /// Made when first asked for.
  [[nodiscard]] Model& model(int variant, Side near);
  /// What all models have in common: places, strengths, axes.
  [[nodiscard]] const Model& common() const { return *first_; }

  /// Loads of a case on a grid no coarser than `step`.
  [[nodiscard]] std::vector<Trial> trials(const LoadCase& c, Angle step) const;
  /// The eight loads round a trial at a distance of `step`, within the range of the case.
  [[nodiscard]] std::vector<Trial> around(const LoadCase& c, const Trial& t, Angle step) const;
  /// The same pull with the other gears idle or pointing elsewhere, the other end holding the board
  /// along itself, lighter in a wave.
  [[nodiscard]] std::vector<Trial> otherwise(const LoadCase& c, const Trial& t) const;
  /// How far from the middle line of this board a person is put.
  [[nodiscard]] double reach_of_people(const LoadCase& c) const;
  /// "boom 45 deg, astern, 60 deg down".
  [[nodiscard]] std::string describe(const LoadCase& c, const Trial& t) const;

  [[nodiscard]] Vector load(const LoadCase& c, const Trial& t, double pull) const;
  /// What is heavy in it alone, pressing as the trial shakes it; with a person it hangs still.
  [[nodiscard]] Vector weights(const LoadCase& c, const Trial& t) const;
  /// The same at rest: nothing pulls, nothing shakes.
  [[nodiscard]] Vector at_rest(const LoadCase& c, const Trial& t) const;
  /// A load in all columns of the model, those of people included.
  [[nodiscard]] Vector in_all_columns(const Trial& t, const Vector& F) const;
  /// Position of the boom of a gear; when it is stowed, which of its stowed angles.
  [[nodiscard]] int boom_of(const LoadCase& c, const Trial& t, int gear) const;

  /// Solves and fills `actions()`. `people`: the vector has columns for people.
  Outcome act(int variant, const Trial& t, const Vector& F);
  /// The feet of gears on the board alone: they need no contact state.
  void stand(const Vector& F, const Trial& t);
  [[nodiscard]] const BoardActions& actions() const { return actions_; }
  [[nodiscard]] const one_way::Answer& answer() const { return answer_; }
  /// Motion of the base of a gear (three shifts, three turns), after `act`.
  [[nodiscard]] Eigen::Matrix<double, 6, 1> base_motion(int gear) const;
  [[nodiscard]] double sag() const;

  /// Smallest factor over target of the modes (or of one), 0 for a mechanism. With `stop` the
  /// search ends at the first below one. What limits the life limits no pull.
  double worst_ratio(int variant, const Trial& t, const Vector& F, Category category, bool full,
                     const Mode* only, const Mode** which = nullptr, bool stop = false,
                     bool feet = true);

  struct Limit {
    double pull = 0;
    const Mode* mode = nullptr;  ///< null: nothing ends it, or it tips
    std::string tips;
  };
  /// Largest pull up to `most` that the modes allow, walked from contact state to contact state.
  Limit largest_pull(int variant, const LoadCase& c, const Trial& t, double most, bool full,
                     const Mode* only, bool feet = true);

 private:
  // A person at one place of the board: columns 1 for all that is steady, then the three forces.
  struct Person {
    std::unique_ptr<one_way::Contacts> contacts;
    Matrix response_f;
  };
  Person& person(int variant, const Trial& t);
  [[nodiscard]] Matrix place_of_person(const Trial& t) const;
  [[nodiscard]] Vector steady(const Eigen::Vector3d& g_board) const;

  void add_weights(Vector& F, const LoadCase& c, const Trial& t,
                   const Eigen::Vector3d& g_board) const;
  void add_weight(Vector& F, int gear, const Eigen::Vector3d& g_board, Ball ball, int boom) const;
  void add_pull(Vector& F, LoadPath path, int gear, int boom, const Direction<Boat>& way,
                double pull) const;
  void add_towing(Vector& F, int gear, int boom) const;

  const Setup& setup_;
  std::vector<LoadCase> cases_;
  std::size_t hidden_ = 0;
  std::vector<std::unique_ptr<Model>> models_;  ///< two of each variant
  std::map<std::tuple<int, int, int, double, int, unsigned>, Person> persons_;
  const Model* first_ = nullptr;  ///< for what all have in common
  std::vector<Mode> all_, modes_;
  std::vector<PullRange> towing_;   ///< of each gear, downriggers only
  Eigen::Matrix3d starboard_axes_;  ///< from forward, starboard, up to the board's
  double accident_least_ = 1.25;
  double rated_going_ = 0;  ///< largest rating over breaking load of the eyes
  BoardActions actions_;
  one_way::Answer answer_;
  Vector response_;
};

}  // namespace thole::board
