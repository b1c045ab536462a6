#pragma once

/// From text to setup and tables (target thole::reading). Texts come in as strings: only the
/// caller touches files.

#include <string>
#include <string_view>

#include <thole/material.hpp>
#include <thole/setup.hpp>

namespace thole {

/// The tables of materials/, compiled in. Built on first use, then shared.
[[nodiscard]] const MaterialLibrary& built_in_materials();

/// Adds the entries of one table (YAML text) to the library. `file` is the name for messages.
/// Throws InputError with all problems; then the library is unchanged.
void add_table(MaterialLibrary& library, std::string_view text, const std::string& file,
               bool by_user = true);

/// Reads one setup. Throws InputError with every problem of the text.
[[nodiscard]] Setup read_setup(std::string_view text, const std::string& file,
                               const MaterialLibrary& library);

/// The JSON Schema (draft 2020-12) of the setup file, made from the same description of keys that
/// the reader follows.
[[nodiscard]] std::string setup_schema();

/// A commented starter setup for `thole new`, of a `gunwale_plate`, a `bracket` or a `cross_board`,
/// its measures in inches, feet and pounds or in millimetres, metres, kilograms and newtons. Throws
/// UnknownName for another kind.
[[nodiscard]] std::string starter_setup(std::string_view mount_kind = "gunwale_plate",
                                        ReaderUnits units = ReaderUnits::inch);
/// What to measure at the boat, with how and what is assumed if it cannot be had.
[[nodiscard]] std::string measuring_list(std::string_view mount_kind = "gunwale_plate");

}  // namespace thole
