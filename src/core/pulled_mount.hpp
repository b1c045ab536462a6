#pragma once

/// A mount under one pull by hand: whether it may go, and how far it moves where a tape can be
/// held. Private to the core.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

/// A pull on one gear with nothing else on the lines.
struct HandPull {
  std::size_t gear = 0;
  std::size_t position = 0;  ///< of its boom
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};
  Force pull{};
};

/// A place to hold a tape at, and the way that counts.
struct TapePlace {
  std::size_t place = 0;
  bool backward = false;  ///< counts against the sign of the place: down, aft
};

struct Movement {
  Length least{};
  Length most{};
  bool rough = false;
};

class PulledMount {
 public:
  virtual ~PulledMount() = default;
  /// Least factor of what may go under it, over the ends of what is not known; 0: it moves as a
  /// whole.
  [[nodiscard]] virtual double factor(const HandPull& p) = 0;
  /// The place that moves most; nothing when the mount moves as a whole.
  [[nodiscard]] virtual std::optional<TapePlace> place_to_watch(const HandPull& p) = 0;
  [[nodiscard]] virtual std::optional<Movement> movement(const HandPull& p, const TapePlace& w) = 0;
  [[nodiscard]] virtual std::string words(const TapePlace& w) const = 0;
  /// What to hold the tape to, for all places.
  [[nodiscard]] virtual std::string how_to_watch() const = 0;
  /// What moves besides, unknown how far.
  [[nodiscard]] virtual bool wall_gives() const = 0;
};

/// Source:   board_engine.hpp, plate_engine.hpp. Throws DomainError as they do. The setup must
///           outlive it.
[[nodiscard]] std::unique_ptr<PulledMount> pulled_mount(const Setup& setup);

}  // namespace thole
