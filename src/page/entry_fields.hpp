#pragma once

/// The entries that the page offers for a setup: every key that the reader asks of it, with its
/// words, and what stands there.

#include <string>
#include <vector>

#include "page/read_text.hpp"

namespace thole::page {

struct EntryField {
  std::string path;   ///< "gear.0.ball"
  std::string label;  ///< of the reader
  std::string group;  ///< a heading: "Gear 1: downrigger"
  std::string text;   ///< as in the file; "" where it is not there
  std::string kind;   ///< length, force, mass, angle, number, choice, yes_no, text, list
  std::vector<std::string> choices;
  std::string names;  ///< kind of the table whose names stand here: "thread"; "": none
  std::string known;  ///< measured, tagged, assumed; "": takes no mark
  bool required = false;
  int line = 0;  ///< of the value; 0: not there
  std::string help;
  std::string part;  ///< path of the innermost map round it that may be left out; "": none
};

/// In the order of the reader. Keys that belong to another choice than the one made are left out
/// unless they are there.
[[nodiscard]] std::vector<EntryField> entry_fields(const ReadText& read);

}  // namespace thole::page
