#include <algorithm>
#include <cctype>
#include <span>

#include <thole/check.hpp>
#include <thole/display.hpp>
#include <thole/report.hpp>

#include "report/text.hpp"

namespace thole {

namespace {

std::string lower(std::string text) {
  for (char& c : text) c = char(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

std::string hosts_of(const FailureMode& m) {
  std::vector<std::string> names;
  for (const HostKind kind : {HostKind::metal_wall, HostKind::timber, HostKind::plywood,
                              HostKind::laminate, HostKind::cored_panel}) {
    if ((m.hosts & host_bit(kind)) != 0) names.emplace_back(word_for(kind));
  }
  return names.size() == 5 ? "" : text::joined(names);
}

std::string proof_of(const FailureMode& m) {
  if (m.outside_checks >= 2) {
    return "checked against " + std::to_string(m.outside_checks) + " or more published figures";
  }
  return std::string("formula seen, not proved outside") +
         (m.outside_checks == 1 ? " (one published figure)" : "");
}

std::string factor_of(const FailureMode& m, const MaterialLibrary& library) {
  if (m.group == "distance") return "a distance: none";
  std::string out =
      show_number(library.required_factor(m.group).measure.si) + " (" + std::string(m.group) + ")";
  if (m.fatigue) out += "; never refuses, makes `holds if`";
  if (m.spoils) out += "; a limit of use, nothing goes by it";
  return out;
}

std::string entry(const FailureMode& m, const MaterialLibrary& library) {
  const auto line = [](const char* what, const std::string& words) {
    return words.empty() ? std::string() : text::wrapped(what, words);
  };
  return std::string(m.id) + ": " + std::string(m.gives_way) + "\n" +
         line("  on      ", hosts_of(m)) +
         line("  source  ",
              std::string(m.source) + " (" + std::string(sentence_for(m.seen)) + ")") +
         line("  valid   ", std::string(m.valid)) + line("  close   ", std::string(m.accuracy)) +
         line("  proved  ", proof_of(m)) + line("  factor  ", factor_of(m, library));
}

bool has_all(const FailureMode& m, const std::vector<std::string>& words) {
  const std::string hay =
      lower(std::string(m.id) + ": " + std::string(m.gives_way) + " " + std::string(m.source) +
            " " + std::string(m.group) + " " + hosts_of(m) + " " + proof_of(m));
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& w) { return hay.find(lower(w)) != std::string::npos; });
}

}  // namespace

std::string mode_table(const MaterialLibrary& library, const std::vector<std::string>& words) {
  std::string out;
  int proved = 0;
  int all = 0;
  const auto list = [&](const char* heading, std::span<const FailureMode> modes) {
    std::string part;
    for (const FailureMode& m : modes) {
      if (!has_all(m, words)) continue;
      part += "\n" + entry(m, library);
      ++all;
      if (m.outside_checks >= 2) ++proved;
    }
    if (!part.empty()) out += (out.empty() ? "" : "\n") + std::string(heading) + "\n" + part;
  };
  list("FAILURE MODES OF A GUNWALE PLATE OR BRACKET", catalogue());
  list("FAILURE MODES OF A CROSS-BOARD", board_catalogue());
  if (all == 0) return "";
  return out + "\n" +
         text::wrapped("",
                       std::to_string(all) + " modes; " + std::to_string(proved) +
                           " of them checked against two published figures or more; of the others "
                           "every report says that they are not");
}

}  // namespace thole
