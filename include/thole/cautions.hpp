#pragma once

/// Cautions that need no figure: what every user of such a mount is told, and what the setup alone
/// gives cause for. Those that hang on the checks are in `Assessment::cautions`.

#include <string>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

/// Beside `Assessment::cautions`, which they do not repeat; most important first.
/// Source:   common practice, no source; towed gear slips and is cut free: makers' guidance, as
///           retold. Valid: a setup that `validate` takes. Accuracy: advice, no calculation.
/// Throws DomainError as `look_at_fit`.
[[nodiscard]] std::vector<std::string> standing_cautions(const Setup& setup);

}  // namespace thole
