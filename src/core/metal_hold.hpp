#pragma once

/// What one fastener holds in the metal round it. Private to the core.

#include <optional>

#include <thole/metal_strength.hpp>
#include <thole/setup.hpp>

namespace thole {

/// A screw whose own thread is in the metal: tapped or self-tapping.
[[nodiscard]] bool is_tapped(const Fastening& f);

/// Of such a screw: the rule for its thread, machine or spaced. Throws DomainError where a
/// countersink leaves no thread.
[[nodiscard]] PullOut pull_out_of(const Fastening& f, const Host& h);

/// Of a screw or insert, pulled once; nothing where no rule and no given figure covers it. Whether
/// the rule is within its scope is not asked.
[[nodiscard]] std::optional<Force> held_in_metal(const Fastening& f, const Host& h);

/// Of the thread of a blind insert: the lower of what is given and what the tables have.
[[nodiscard]] std::optional<Force> insert_thread_strength(const BlindInsert& b);

}  // namespace thole
