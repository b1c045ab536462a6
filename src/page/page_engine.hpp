#pragma once

/// The engine of the offline page: text in, JSON out (target thole::page). The page's script
/// computes nothing; every figure, word and picture on it comes from here.

#include <functional>
#include <string>
#include <string_view>

#include <thole/progress.hpp>

namespace thole::page {

/// Answers one question about a setup.
///
/// `what`: about, draw, check, edit, mark, another, units, apply, move, step, sheet, template,
/// files, changes, size, compare. `request`: a JSON object, its keys by `what`; `example` names one
/// that takes the place of the text. The answer is one JSON object: {"ok": true, ...} or {"ok":
/// false, "problems": [{"path", "line", "column", "message", "text"}]} with the reader's own
/// messages. `watch` is told of progress by the long ones.
///
/// Never throws. Source, Valid, Accuracy: those of the functions of the library that it calls; it
/// computes nothing but places on its drawings and values from them, rounded to 1/16 in, 1 mm or
/// 5 deg.
[[nodiscard]] std::string answer(std::string_view what, std::string_view setup_text,
                                 std::string_view request, const Watch& watch = {});

}  // namespace thole::page
