// Forces on fasteners, supports and along a board as a table for a spreadsheet (RFC 4180).

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {

namespace {

constexpr double pound_force = 4.4482216152605;  // N, exact

// In the order of the table.
enum Column {
  note,
  load_case,
  title,
  category,
  decides,
  worst,
  gear,
  pull_n,
  pull_lbf,
  direction,
  boom_deg,
  raised_deg,
  kind,
  item,
  number,
  x_mm,
  y_mm,
  z_mm,
  force_x_n,
  force_y_n,
  force_z_n,
  tension_n,
  tension_lbf,
  shear_n,
  shear_lbf,
  twist,
  bending_flat,
  bending_edge,
  bimoment,
  moved_x_mm,
  moved_y_mm,
  moved_z_mm,
  turn_deg,
  state,
  columns
};

constexpr std::array<std::string_view, columns> names{
    "note",       "case",       "title",          "category",       "decides",       "worst",
    "gear",       "pull N",     "pull lbf",       "direction",      "boom deg",      "raised deg",
    "kind",       "item",       "number",         "x mm",           "y mm",          "z mm",
    "force x N",  "force y N",  "force z N",      "tension N",      "tension lbf",   "shear N",
    "shear lbf",  "twist N m",  "bends flat N m", "bends edge N m", "bimoment N m2", "moved x mm",
    "moved y mm", "moved z mm", "turn deg",       "state"};

// Signs that a spreadsheet takes for the beginning of a formula, their wide forms included.
bool reads_as_formula(const std::string& text) {
  const std::size_t at = text.find_first_not_of(' ');
  if (at == std::string::npos) return false;
  const std::string_view rest = std::string_view(text).substr(at);
  for (const std::string_view sign :
       {"=", "+", "-", "@", "\xef\xbc\x9d", "\xef\xbc\x8b", "\xef\xbc\x8d", "\xef\xbc\xa0"}) {
    if (rest.substr(0, sign.size()) == sign) return true;
  }
  return false;
}

// One cell on one line whatever the user wrote; a long name is cut.
std::string words(const std::string& text) {
  constexpr std::size_t most = 120;
  std::string clean = text::plain(text::printable(text), most);
  if (reads_as_formula(clean)) clean.insert(0, "'");
  std::string out = "\"";
  for (const char c : clean) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string figure(double v) {
  if (!std::isfinite(v)) return "";
  const std::string out = show_number(v);
  return out == "-0" ? "0" : out;
}

class Row {
 public:
  Row& words_in(Column c, const std::string& text) {
    cells_[c] = words(text);
    return *this;
  }
  Row& figure_in(Column c, double v) {
    cells_[c] = figure(v);
    return *this;
  }
  Row& force_in(Column n, Column lbf, Force v) {
    figure_in(n, v.value());
    return figure_in(lbf, v.value() / pound_force);
  }
  template <class Q, class Frame>
  Row& three_in(Column first, const Vector<Q, Frame>& v, double unit) {
    for (int i = 0; i < 3; ++i) figure_in(Column(first + i), v.si_values()(i) / unit);
    return *this;
  }
  void write(std::string& out) const {
    for (std::size_t i = 0; i < columns; ++i) {
      if (i > 0) out += ',';
      out += cells_[i];
    }
    out += "\r\n";
  }

 private:
  std::array<std::string, columns> cells_;
};

constexpr double mm = 0.001;  // m

void say(std::string& out, const std::string& text) {
  // Sentences of our own, but a title or verdict in them may hold the user's words: cut like them,
  // by lines.
  std::string line;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = std::min(text.find(' ', i), text.size());
    const std::string word = text.substr(i, end - i);
    if (!line.empty() && line.size() + 1 + word.size() > 110) {
      Row().words_in(note, line).write(out);
      line.clear();
    }
    line += (line.empty() ? "" : " ") + word;
    i = end + 1;
  }
  if (!line.empty()) Row().words_in(note, line).write(out);
}

void write_head(std::string& out, const Setup& s, const Assessment& a) {
  for (std::size_t i = 0; i < columns; ++i) {
    if (i > 0) out += ',';
    out += words(std::string(names[i]));
  }
  out += "\r\n";
  const bool board = s.on_board();
  say(out, made_by() + ", forces of: " + text::plain(text::printable(s.title), 80));
  say(out, wording::headline(a.verdict) + ": " + text::plain(text::printable(a.sentence), 400));
  say(out, board ? wording::board_scope : wording::scope);
  say(out, wording::deferral);
  say(out,
      "Of each load case that is calculated: one load, the one that is hardest on its worst check, "
      "at the end of the guesses of stiffness at which it is. The most of one item may come under "
      "another load: no row is a limit, none holds a factor.");
  say(out,
      "N, N m, N m2, mm, deg; lbf beside N. Pull: on the gear named; none with people and rides. "
      "Weights and the other gears act as well: rows of kind load. worst: the case of the worst "
      "check.");
  if (board) {
    say(out,
        "Places and forces of supports, cuts and movements along the board: x from its port end to "
        "starboard, y forward of its middle line, z up from the middle of its thickness.");
    say(out,
        "load: all that acts on the board, force at x y z and beside it moments about the axes "
        "there "
        "(twist about x, bends flat about y, bends edge about z, right-handed): a gear's weight "
        "and "
        "pull at the middle of its foot; a ride shakes the weights. With the supports they "
        "balance.");
    say(out,
        "support: force on the board, at the middle of what it presses; open: it does not touch.");
    say(out,
        "cut: forces on the part toward the port end. x pull along, y fore and aft, z up and down; "
        "twist about x, bends flat about y, bends edge about z, right-handed; sagging has bends "
        "flat below zero. A pair at one place is just before and just behind it. moved: from the "
        "board under its weights alone.");
    say(out,
        "fastener: of a gear's foot x forward, y outboard from its middle, forces by the gear on "
        "it; of a ledge x along the row, y below the seat, state at most: no bolt of the row takes "
        "more, how they share it is not known. Hold-downs stand among the supports. Feet are not "
        "in rows of people.");
    say(out,
        "motion: foot and tip of a gear from rest under weights: x forward, y outboard on its "
        "side, z up.");
  } else {
    say(out,
        "Axes: x forward, y outboard along the wall, z out of it, from the middle of the base (of "
        "a "
        "fitting: of its foot), on the wall.");
    say(out,
        "load: all that acts on the base, as a force in its middle and moments about the axes "
        "there "
        "(twist about x, bends flat about y, bends edge about z, right-handed); a ride shakes the "
        "weights.");
    say(out,
        "support: what presses on a stiff base, at the middle of it. fastener: force x and y: "
        "shear "
        "on it by what it holds; force z: its pull by a stiff base, which with load and bed "
        "balances; tension: its pull with what a bending base adds.");
    say(out,
        "motion: foot and tip of a gear from rest under weights, base rigid on its bed, nothing "
        "slides: x forward, y outboard, z up. Bed and fasteners are guesses: an order of size.");
  }
  if (a.forces.empty()) {
    say(out, a.verdict == Verdict::no_verdict ? wording::no_figures
                                              : "no load case is calculated: there are no forces");
  }
}

// What all rows of a case begin with.
Row row_of(const Assessment& a, std::size_t index, const char* what) {
  const CaseForces& f = a.forces[index];
  const LoadCase& c = a.cases[f.loading.load_case].load_case;
  Row row;
  row.words_in(load_case, c.id).words_in(title, c.title);
  row.words_in(category, std::string(word_for(c.category)));
  row.words_in(decides, c.decides ? "yes" : "no");
  row.words_in(worst, a.worst_forces == index ? "yes" : "no");
  row.words_in(gear, f.loading.gear).words_in(direction, f.loading.words);
  if (c.path != LoadPath::ride) row.force_in(pull_n, pull_lbf, f.loading.pull);
  if (f.loading.boom) row.figure_in(boom_deg, in_degrees(*f.loading.boom));
  if (f.loading.raised) row.figure_in(raised_deg, in_degrees(*f.loading.raised));
  row.words_in(kind, what);
  return row;
}

template <class Frame>
void write_load(std::string& out, Row row, const AppliedLoad<Frame>& f) {
  row.words_in(item, f.name).three_in(x_mm, f.at, mm).three_in(force_x_n, f.force, 1);
  row.three_in(twist, f.moment, 1).write(out);
}

void write_bed(std::string& out, Row row, const BedForce& f) {
  row.words_in(item, "bed").figure_in(x_mm, f.at.x.value() / mm);
  row.figure_in(y_mm, f.at.y.value() / mm).figure_in(z_mm, 0);
  row.figure_in(force_x_n, 0).figure_in(force_y_n, 0).figure_in(force_z_n, f.up.value());
  row.write(out);
}

void write_fastener(std::string& out, Row row, const FastenerForce& f, bool board) {
  row.words_in(item, f.part.empty() ? "base" : f.part).figure_in(number, f.number);
  row.figure_in(x_mm, f.at.x.value() / mm).figure_in(y_mm, f.at.y.value() / mm);
  row.figure_in(force_x_n, f.forward.value()).figure_in(force_y_n, f.outboard.value());
  if (!board) row.figure_in(force_z_n, f.stiff.value());
  row.force_in(tension_n, tension_lbf, f.tension);
  row.force_in(shear_n, shear_lbf,
               Force::from_value(std::hypot(f.forward.value(), f.outboard.value())));
  if (f.at_most) row.words_in(state, "at most");
  row.write(out);
}

void write_support(std::string& out, Row row, const SupportForce& f) {
  row.words_in(item, f.name).three_in(x_mm, f.at, mm).three_in(force_x_n, f.on_board, 1);
  row.words_in(state, f.open ? "open" : "touches");
  row.write(out);
}

void write_cut(std::string& out, Row row, const CutForce& f, bool moves) {
  row.words_in(item, "board").figure_in(x_mm, f.from_port.value() / mm);
  row.figure_in(force_x_n, f.along.value()).figure_in(force_y_n, f.fore_aft.value());
  row.figure_in(force_z_n, f.up_down.value());
  row.figure_in(twist, f.twist.value()).figure_in(bending_flat, f.flat.value());
  row.figure_in(bending_edge, f.edge.value()).figure_in(bimoment, f.warping.value());
  if (moves) {
    row.figure_in(moved_y_mm, f.shift.value() / mm).figure_in(moved_z_mm, f.lift.value() / mm);
    row.figure_in(turn_deg, in_degrees(f.turn));
  }
  row.write(out);
}

void write_motion(std::string& out, const Row& row, const GearMotion& m) {
  const auto write = [&](const std::string& of, const Vector<Length, Boat>& moved) {
    Row one = row;
    one.words_in(item, of + " of " + m.gear).three_in(moved_x_mm, moved, mm);
    one.figure_in(turn_deg, in_degrees(m.turn)).write(out);
  };
  write("foot", m.foot);
  write("tip", m.tip);
}

}  // namespace

std::string forces_csv(const Setup& s, const Assessment& a) {
  std::string out;
  write_head(out, s, a);
  for (std::size_t i = 0; i < a.forces.size(); ++i) {
    const CaseForces& f = a.forces[i];
    for (const auto& one : f.on_board) write_load(out, row_of(a, i, "load"), one);
    for (const auto& one : f.on_base) write_load(out, row_of(a, i, "load"), one);
    if (f.bed) write_bed(out, row_of(a, i, "support"), *f.bed);
    for (const auto& one : f.fasteners) {
      write_fastener(out, row_of(a, i, "fastener"), one, s.on_board());
    }
    for (const auto& one : f.supports) write_support(out, row_of(a, i, "support"), one);
    for (const auto& one : f.cuts) {
      write_cut(out, row_of(a, i, "cut"), one, !f.motions.empty());
    }
    for (const auto& one : f.motions) write_motion(out, row_of(a, i, "motion"), one);
  }
  return out;
}

}  // namespace thole
