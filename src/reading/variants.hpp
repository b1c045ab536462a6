#pragma once

/// The keys `variants` and `patterns` of a setup, on the tree of its text. Private to reading.

#include <vector>

#include <thole/setup.hpp>

#include "reading/fields.hpp"

namespace thole::reading {

/// A setup from its tree, whatever stands under `variants` and `patterns`. Throws InputError with
/// every problem. In setup_reader.cpp.
[[nodiscard]] Setup read_tree(const Document& document, const MaterialLibrary& library,
                              Asked* asked = nullptr);

/// Reads both keys for their form only. `mount_kind` is "" when it could not be read.
void read_comparison_keys(Fields& top, const std::string& mount_kind,
                          const MaterialLibrary& library);

/// Problems of the variants, each read as a setup of its own, and of the family against the setup
/// as drawn.
[[nodiscard]] std::vector<Problem> problems_of_comparison(const Document& document,
                                                          const Setup& drawn,
                                                          const MaterialLibrary& library);

}  // namespace thole::reading
