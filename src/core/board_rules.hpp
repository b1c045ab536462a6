#pragma once

/// The rules that a cross-board, and the gear on any mount, must keep before anything is
/// computed. Private to core and reading: the reader knows where each part stands in its file.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

enum class BoardPart { mount, board, port_ledge, starboard_ledge, hold_down, leg, gear };

struct BrokenRule {
  BoardPart part = BoardPart::mount;
  std::size_t index = 0;  ///< of a hold-down, leg or gear
  std::string key;        ///< below the part: "strip.depth"; may be empty
  std::string text;
};

/// Every rule that the setup breaks; its mount is a cross-board.
[[nodiscard]] std::vector<BrokenRule> broken_board_rules(const Setup& setup);

/// Every rule that a gear on a plate breaks and whose place in the file is known by its key.
[[nodiscard]] std::vector<BrokenRule> broken_gear_rules(const Setup& setup);

/// The first of them without its text, many times faster. Nothing: the board keeps all.
[[nodiscard]] std::optional<BrokenRule> first_broken_board_rule(const Setup& setup);

/// Throws DomainError with the first rule that the board breaks.
void validate_board(const Setup& setup);

/// The rules of a rod holder or plain load, on any mount. Throws DomainError.
void validate_gear(const Gear& gear);

}  // namespace thole
