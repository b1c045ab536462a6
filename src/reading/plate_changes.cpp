// What may be built otherwise on a gunwale plate or a bracket. A gunwale plate is taken as part of
// the gear as it was bought: its holes stay, and what is larger is a plate of its own between gear
// and gunwale. A bracket is its owner's own plate and may be made anew.

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <thole/display.hpp>

#include "core/geometry.hpp"
#include "reading/change_kinds.hpp"
#include "reading/tree_edits.hpp"

namespace thole::reading {

using namespace literals;

namespace {

using Drafts = std::vector<Draft>;

// One pattern of fasteners into the boat, and where it stands in the file.
struct Bolts {
  std::string path;
  const Fastening* f = nullptr;
  std::string of;                // "", " of the cleat"
  Length fore_aft{}, athwart{};  // of what lies on the wall
};

struct Size {
  Length fore_aft{}, athwart{};
};

Size size_of(const Outline& outline) {
  Size s;
  if (outline.empty()) return s;
  const auto [aft, fore] = std::minmax_element(outline.begin(), outline.end(),
                                               [](auto& p, auto& q) { return p.x < q.x; });
  const auto [in, out] = std::minmax_element(outline.begin(), outline.end(),
                                             [](auto& p, auto& q) { return p.y < q.y; });
  return {fore->x - aft->x, out->y - in->y};
}

const GunwalePlate* plate_of(const Drawn& d) {
  return d.setup.on_board() ? nullptr : &d.setup.plate();
}

// Fasteners that enter the boat: of the base and of the fitting below U-bolts.
std::vector<Bolts> bolts_of(const Drawn& d) {
  std::vector<Bolts> out;
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr) return out;
  if (!geometry::is_clasped(*m)) {
    const Size s = size_of(m->base.outline);
    out.push_back({"mount.fastening", &m->fastening, "", s.fore_aft, s.athwart});
  }
  if (m->bracket && m->bracket->fitting) {
    const Fitting& f = *m->bracket->fitting;
    const Size s = size_of(f.foot.outline);
    out.push_back(
        {"mount.fitting.fastening", &f.fastening, " of the " + f.name, s.fore_aft, s.athwart});
  }
  return out;
}

bool machine_thread(const Drawn& d, const Fastening& f) {
  return d.library.find("thread", f.thread.name) != nullptr;
}

std::string usual_thread(const Drawn& d) { return d.inch() ? "1/4-20" : "M6"; }

// "1/4 fender 1" belongs to 1/4-20, "M6 penny 18" to M6.
bool is_washer_of(const std::string& washer, const std::string& thread) {
  const std::string size = thread.substr(0, thread.find('-'));
  return washer.starts_with(size + " ");
}

// Washers of a thread wider than this, the next first.
std::vector<Washer> washers_above(const Drawn& d, const std::string& thread, Length than) {
  std::vector<Washer> out;
  for (const std::string& name : d.library.names("washer")) {
    if (!is_washer_of(name, thread)) continue;
    const Washer w = d.library.washer(name);
    if (w.outside.value() > 1.05 * than.value()) out.push_back(w);
  }
  std::sort(out.begin(), out.end(),
            [](const Washer& a, const Washer& b) { return a.outside < b.outside; });
  return out;
}

// Coarse threads of the same system above this one.
std::vector<Thread> threads_above(const Drawn& d, const Thread& than, std::size_t most) {
  std::vector<Thread> out;
  const bool metric = than.name.starts_with("M");
  for (const Entry& e : d.library.entries()) {
    if (e.kind != "thread" || e.by_user || e.name.starts_with("M") != metric) continue;
    const auto series = e.about.find("series");
    if (!metric && (series == e.about.end() || series->second != "UNC")) continue;
    try {
      Thread t = d.library.thread(e.name);
      if (t.diameter.value() > 1.02 * than.diameter.value()) out.push_back(t);
    } catch (const std::exception&) {
      continue;  // an entry without all that a bolt needs
    }
  }
  std::sort(out.begin(), out.end(),
            [](const Thread& a, const Thread& b) { return a.diameter < b.diameter; });
  if (out.size() > most) out.resize(most);
  return out;
}

// The widest that goes into the section from its open end and lies under the middle of the base;
// nothing: not limited.
std::optional<Length> room_of(const GunwalePlate& m) {
  const Host& h = m.host;
  if (!h.is_metal() || h.form == WallForm::sheet) return std::nullopt;
  const bool closed = h.form == WallForm::closed_section;
  Length inboard = m.base.from_inboard_edge;
  Length outboard = h.flat - m.base.from_inboard_edge;
  if (closed || h.lip_root_inboard) inboard -= h.thickness;
  if (closed || !h.lip_root_inboard) outboard -= h.thickness;
  return Length(2.0 * std::min(inboard, outboard));
}

// What a piece centred under the base may measure, as far as the file tells. Of a sheet it does not
// say on which side its support lies: both ways.
Size most_of(const GunwalePlate& m) {
  const geometry::Flat f = geometry::flat_of(m);
  Size s{2.0 * std::min<Length>(-f.aft, f.forward), 2.0 * std::min<Length>(-f.inboard, f.outboard)};
  if (const auto room = room_of(m)) s.athwart = std::min(s.athwart, *room);
  if (m.host.is_metal() && m.host.form == WallForm::sheet && m.host.to_support.value() > 0) {
    s.fore_aft = std::min(s.fore_aft, Length(2.0 * m.host.to_support));
    s.athwart = std::min(s.athwart, Length(2.0 * m.host.to_support));
  }
  return s;
}

// ---- Room

struct Clash {
  std::string words;
  double depth = 0;  // metres
};
using Clashes = std::map<std::string, Clash>;

void clash(Clashes& out, const std::string& key, Length depth, const std::string& words) {
  if (depth < 0.01_mm) return;
  Clash& c = out[key];
  if (depth.value() > c.depth) c = {words, depth.value()};
}

double apart(const PlanPoint& a, const PlanPoint& b) {
  return std::hypot((a.x - b.x).value(), (a.y - b.y).value());
}

// The widest head or washer on the base that meets no other, not the body, and no edge.
Length widest_head(const BasePlate& base, const std::vector<PlanPoint>& holes) {
  Length out = 1.0_m;
  for (std::size_t i = 0; i < holes.size(); ++i) {
    out = std::min(out, Length(2.0 * geometry::to_outline_edge(base.outline, holes[i])));
    if (base.body) {
      out = std::min(out, Length(2.0 * apart(holes[i], {}) * si::metre - *base.body));
    }
    for (std::size_t j = 0; j < i; ++j) {
      out = std::min(out, Length(apart(holes[i], holes[j]) * si::metre));
    }
  }
  return out;
}

// The same of a washer behind the wall.
Length widest_washer(const GunwalePlate& m, const std::vector<PlanPoint>& holes) {
  Length out = 1.0_m;
  const geometry::Flat f = geometry::flat_of(m);
  const auto room = room_of(m);
  for (std::size_t i = 0; i < holes.size(); ++i) {
    if (room) {
      const bool closed = m.host.form == WallForm::closed_section;
      const Length in = closed || m.host.lip_root_inboard ? m.host.thickness : Length{};
      const Length out_ = closed || !m.host.lip_root_inboard ? m.host.thickness : Length{};
      const PlanPoint& p = holes[i];
      out = std::min(
          {out, Length(2.0 * (p.y - f.inboard - in)), Length(2.0 * (f.outboard - out_ - p.y))});
    }
    for (std::size_t j = 0; j < i; ++j) {
      out = std::min(out, Length(apart(holes[i], holes[j]) * si::metre));
    }
  }
  return out;
}

Length from_line(const PlanPoint& p, const PlanPoint& a, const PlanPoint& b) {
  const double dx = (b.x - a.x).value();
  const double dy = (b.y - a.y).value();
  const double t = ((p.x - a.x).value() * dx + (p.y - a.y).value() * dy) / (dx * dx + dy * dy);
  const double on = std::min(std::max(t, 0.0), 1.0);
  return apart(p, {a.x + on * (b.x - a.x), a.y + on * (b.y - a.y)}) * si::metre;
}

void beside_angles(const GunwalePlate& m, Clashes& out) {
  for (const Stiffener& a : m.bracket->stiffeners) {
    const Length half = 0.5 * a.leg;
    for (const PlanPoint& p : m.fastening.holes) {
      if (m.fastening.hold == HoldBy::u_bolt) break;  // where its nuts lie is not asked
      const Length nut = 0.6 * m.fastening.thread.head_across_flats;
      clash(out, "angle, nut", half + nut - from_line(p, a.from, a.to),
            "the angles and the nuts of the bracket");
    }
    // A quarter of the leg may lie under the foot, which is packed level.
    clash(out, "angle, foot",
          0.5 * half + 0.5 * m.bracket->gear_width - from_line(m.bracket->gear_at, a.from, a.to),
          "the angles and the foot of the gear");
  }
}

Clashes clashes_of(const Setup& s) {
  Clashes out;
  const GunwalePlate& m = s.plate();
  const auto heads = [&](const std::string& key, const BasePlate& base, const Fastening& f) {
    // A bow's two nuts lie beside its place in the file.
    if (f.hold == HoldBy::u_bolt || f.hold == HoldBy::clamp || f.rivet) return;
    if (f.head > 1.05 * f.thread.head_across_flats) {
      clash(out, key + "head", f.head - widest_head(base, f.holes),
            "the washers under the heads and what is beside them");
    }
    if (f.hold == HoldBy::through_bolt && f.washer && !f.backing) {
      clash(out, key + "washer", f.washer->outside - widest_washer(m, f.holes),
            "the washers behind and what is beside them");
    }
  };
  heads("", m.base, m.fastening);
  if (m.second) heads("second ", m.base, *m.second);
  const Size most = most_of(m);
  if (m.fastening.backing && !geometry::is_clasped(m)) {
    const Backing& b = *m.fastening.backing;
    const Length over = std::max(b.fore_aft - most.fore_aft, b.athwart - most.athwart);
    clash(out, "behind", over, "the piece behind and the edge of what it lies against");
  }
  if (!m.bracket) {
    const geometry::Flat f = geometry::flat_of(m);
    for (const PlanPoint& p : m.base.outline) {
      const Length over =
          std::max({p.x - f.forward, f.aft - p.x, p.y - f.outboard, f.inboard - p.y});
      clash(out, "base", over, "the plate and the edge of the gunwale");
    }
    return out;
  }
  if (m.bracket->fitting)
    heads("fitting ", m.bracket->fitting->foot, m.bracket->fitting->fastening);
  beside_angles(m, out);
  return out;
}

Length rounded_down(const Drawn& d, Length v) {
  const Length step = d.inch() ? Length(0.25_in) : Length(5.0_mm);
  return std::floor(double(v / step) + 1e-6) * step;
}
Length rounded_up(const Drawn& d, Length v) {
  const Length step = d.inch() ? Length(0.5_in) : Length(10.0_mm);
  return std::ceil(double(v / step) - 1e-6) * step;
}

struct Stock {
  std::string metal;
  std::string words;  // "flat bar of 6061-T6"
};

// 6061-T6 as bar up to the widest that is sold, else as plate.
Stock stock_for(const Drawn& d, Length width) {
  const auto widths = stock_sizes(d, "flat_bar", "width");
  if (!widths.empty() && width <= widths.back() + 0.1_mm) {
    return {d.inch() ? "6061-T6 extrusion" : "EN 6061-T6 extrusion", "flat bar of 6061-T6"};
  }
  return {"6061-T6 sheet", "plate of 6061-T6"};
}

// Width of the bar that it is cut from, where that is wider.
std::string cut_from(const Drawn& d, Length width) {
  for (const Length& v : stock_sizes(d, "flat_bar", "width")) {
    if (v >= width - 0.1_mm) {
      return v > width + 0.1_mm ? ", cut from " + written(d, v) : std::string();
    }
  }
  return "";
}

std::vector<Length> thicknesses(const Drawn& d, Length from, std::size_t most) {
  return above(stock_sizes(d, "flat_bar", "thickness"), from - 0.1_mm, most);
}

std::string map_of(const Drawn& d, const std::string& metal, Length thickness, const Size& s) {
  return "{material: " + reading::quoted(metal) + ", thickness: " + written(d, thickness) +
         ", fore_aft: " + written(d, s.fore_aft) + ", athwart: " + written(d, s.athwart) + "}";
}

std::string by(const Drawn& d, Length a, Length b, Length c) {
  return written(d, a) + " x " + written(d, b) + " x " + written(d, c);
}

// A plate behind the wall: as wide as the base and an inch more all round, as far as there is room.
Size behind_size(const Drawn& d, const GunwalePlate& m, const Bolts& b) {
  const Length more = d.inch() ? Length(2.0_in) : Length(50.0_mm);
  const Size most = most_of(m);
  return {std::min(rounded_up(d, b.fore_aft + more), rounded_down(d, most.fore_aft)),
          std::min(rounded_up(d, b.athwart + more), rounded_down(d, most.athwart))};
}

void leave_out(const Drawn& d, Draft& out, const std::string& path) {
  if (node_at(d, path) != nullptr) out.edits.push_back({path, ""});
}

bool holds_in_wall(HoldBy h) {
  return h == HoldBy::tapped || h == HoldBy::self_tapping || h == HoldBy::blind_insert ||
         h == HoldBy::thread_insert || h == HoldBy::rivet;
}

const char* access_note = "only where a hand or spanner reaches behind the wall";

// ---- The kinds
// -----------------------------------------------------------------------------------

// The screw as drawn, or the largest smaller one that stays 1.5 D within what is behind; that
// marked, with a wide washer, since the holes of the base are too wide for it.
struct Screw {
  std::string thread;
  std::string words;
  std::vector<Edit> edits;
  std::string note;
};

std::vector<Screw> screws_for(const Drawn& d, const Bolts& b, Length width) {
  Screw own;
  own.thread = machine_thread(d, *b.f) ? b.f->thread.name : usual_thread(d);
  own.words = own.thread;
  std::vector<Screw> out{own};
  const Length edge = 0.5 * (width - size_of(b.f->holes).athwart);
  const Length diameter = d.library.thread(own.thread).diameter;
  if (diameter <= edge / 1.5) return out;
  const char* const smaller[] = {d.inch() ? "1/4-20" : "M6", d.inch() ? "#10-24" : "M5"};
  for (const char* name : smaller) {
    const Thread t = d.library.thread(name);
    if (t.diameter > edge / 1.5 || t.diameter >= diameter) continue;
    const std::string grade = d.setup.salt_water ? "A4-70" : "A2-70";
    Screw s;
    s.thread = t.name;
    s.words = t.name + ", marked " + grade;
    s.edits = {{b.path + ".thread", reading::quoted(t.name)},
               {b.path + ".material", "{is: " + grade + ", known: tagged}"}};
    auto wide = washers_above(d, t.name, t.head_across_flats);
    const BasePlate& foot = b.of.empty() ? plate_of(d)->base : plate_of(d)->bracket->fitting->foot;
    std::erase_if(wide, [&](const Washer& w) { return w.outside > widest_head(foot, b.f->holes); });
    if (!wide.empty()) {
      s.edits.push_back({b.path + ".head", written(d, wide.back().outside)});
      s.note = "the holes of the base are wide for it: a " + written(d, wide.back().outside) +
               " washer under each head";
    }
    out.push_back(s);
    break;
  }
  return out;
}

void set_hold(const Drawn& d, Draft& out, const Bolts& b, const std::string& hold,
              const Screw& screw) {
  out.edits.push_back({b.path + ".hold", hold});
  for (const char* key : {"blind_insert", "thread_insert", "rivet", "size", "length", "threaded",
                          "countersunk_wall"}) {
    leave_out(d, out, b.path + "." + key);
  }
  if (hold != "through_bolt") leave_out(d, out, b.path + ".washer");
  out.edits.insert(out.edits.end(), screw.edits.begin(), screw.edits.end());
  if (screw.edits.empty() && !machine_thread(d, *b.f)) {
    out.edits.push_back({b.path + ".thread", screw.thread});
  }
}

void through_bolt(const Drawn& d, Drafts& out) {
  for (const Bolts& b : bolts_of(d)) {
    const GunwalePlate& m = *plate_of(d);
    const bool wood = in_wood(b.f->hold);
    if (!wood && !holds_in_wall(b.f->hold) && b.f->hold != HoldBy::tapped_bar) continue;
    if (b.f->hold == HoldBy::thread_insert && b.f->backing) continue;
    const bool closed = m.host.is_metal() && m.host.form == WallForm::closed_section;
    const Size s = behind_size(d, m, b);
    if (!(s.fore_aft.value() > 0) || !(s.athwart.value() > 0)) continue;
    for (const Screw& screw : screws_for(d, b, s.athwart)) {
      for (const Length& t : thicknesses(d, d.inch() ? Length(0.1875_in) : Length(5.0_mm), 3)) {
        Draft x;
        const Stock stock = stock_for(d, std::min(s.fore_aft, s.athwart));
        set_hold(d, x, b, "through_bolt", screw);
        x.edits.push_back({b.path + ".behind", map_of(d, stock.metal, t, s)});
        x.words = "through-bolt it" + b.of + ", nuts and a " + by(d, t, s.athwart, s.fore_aft) +
                  " " + stock.words + " behind; bolts: " + screw.words;
        x.notes = {closed ? "a closed section lets no hand in: near its open end, or a yard cuts a "
                            "port; otherwise a tapped bar"
                          : access_note,
                   "locking nuts; paste between stainless and aluminium"};
        if (!screw.note.empty()) x.notes.push_back(screw.note);
        x.trouble.cost = closed ? Cost::yard_job : Cost::store;
        x.trouble.trips = 1;
        weigh(x.trouble, d.library, stock.metal, t * s.fore_aft * s.athwart);
        out.push_back(std::move(x));
      }
    }
  }
}

void tapped_bar(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || !m->host.is_metal()) return;
  for (const Bolts& b : bolts_of(d)) {
    if (!holds_in_wall(b.f->hold)) continue;
    const auto room = room_of(*m);
    const Size pattern = size_of(b.f->holes);
    const Length wanted = room ? *room : Length(pattern.athwart + 4.0 * b.f->thread.diameter);
    const Size most = most_of(*m);
    const Length width = room ? rounded_down(d, wanted)
                              : std::min(rounded_up(d, wanted), rounded_down(d, most.athwart));
    const Length length = std::min(
        rounded_up(d, std::max(b.fore_aft, Length(pattern.fore_aft + 4.0 * b.f->thread.diameter)) +
                          (d.inch() ? Length(1.0_in) : Length(25.0_mm))),
        rounded_down(d, most.fore_aft));
    if (!(width.value() > 0) || !(length.value() > 0)) continue;
    for (const Screw& screw : screws_for(d, b, width)) {
      for (const Length& t : thicknesses(d, d.inch() ? Length(0.25_in) : Length(6.0_mm), 2)) {
        Draft x;
        const Stock stock = stock_for(d, width);
        set_hold(d, x, b, "tapped_bar", screw);
        x.edits.push_back({b.path + ".behind", map_of(d, stock.metal, t, {length, width})});
        x.words = std::string("tap a bar") + (room ? ", slid in" : "") + " behind the wall" + b.of +
                  ": " + by(d, t, width, length) + " " + stock.words + cut_from(d, width) +
                  "; screws: " + screw.words;
        x.notes.emplace_back(
            room ? "needs the open end of the gunwale, at its end cap; caliper what "
                   "goes in"
                 : access_note);
        if (!screw.note.empty()) x.notes.push_back(screw.note);
        x.trouble.cost = Cost::store;
        x.trouble.trips = 1;
        weigh(x.trouble, d.library, stock.metal, t * width * length);
        out.push_back(std::move(x));
      }
    }
  }
}

void thread_insert(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || !m->host.is_metal()) return;
  for (const Bolts& b : bolts_of(d)) {
    if (b.f->hold != HoldBy::tapped || m->host.thickness < b.f->thread.diameter) continue;
    Draft x;
    x.edits = {{b.path + ".hold", "thread_insert"},
               {b.path + ".thread_insert",
                "{kind: coil, length: " + written(d, b.f->thread.diameter) + "}"}};
    leave_out(d, x, b.path + ".countersunk_wall");
    x.words = "coils of wire in the tapped holes" + b.of + ", " + written(d, b.f->thread.diameter) +
              " long";
    x.notes = {"drill and tap to the coil's own size"};
    x.trouble.cost = Cost::coins;
    x.trouble.trips = 1;
    out.push_back(std::move(x));
  }
}

void backing_plate(const Drawn& d, Drafts& out) {
  for (const Bolts& b : bolts_of(d)) {
    const GunwalePlate& m = *plate_of(d);
    if (b.f->hold != HoldBy::through_bolt || b.f->backing) continue;
    const bool cleat = !b.of.empty();
    Size s = behind_size(d, m, b);
    if (cleat) {  // a strip
      const Size pattern = size_of(b.f->holes);
      const Length more = d.inch() ? Length(1.5_in) : Length(40.0_mm);
      const auto widths = stock_sizes(d, "flat_bar", "width");
      const auto wide = above(widths, b.athwart + (d.inch() ? Length(0.5_in) : Length(12.0_mm)), 1);
      s = {rounded_up(d, std::max(pattern.fore_aft, b.fore_aft) + more),
           wide.empty() ? rounded_up(d, b.athwart + more) : wide.front()};
    }
    if (!(s.fore_aft.value() > 0) || !(s.athwart.value() > 0)) continue;
    for (const Length& t : thicknesses(d, d.inch() ? Length(0.1875_in) : Length(5.0_mm), 4)) {
      Draft x;
      const Stock stock = stock_for(d, std::min(s.fore_aft, s.athwart));
      x.edits = {{b.path + ".behind", map_of(d, stock.metal, t, s)}};
      x.words = std::string(cleat ? "strip" : "plate") + " behind the bolts" + b.of + ": " +
                by(d, t, s.athwart, s.fore_aft) + " " + stock.words;
      x.notes = {access_note};
      x.trouble.cost = Cost::store;
      x.trouble.trips = 1;
      weigh(x.trouble, d.library, stock.metal, t * s.fore_aft * s.athwart);
      out.push_back(std::move(x));
    }
  }
}

void larger_backing(const Drawn& d, Drafts& out) {
  for (const Bolts& b : bolts_of(d)) {
    if (!b.f->backing) continue;
    const GunwalePlate& m = *plate_of(d);
    const Backing& old = *b.f->backing;
    const std::string bar = b.f->hold == HoldBy::tapped_bar ? "bar" : "plate";
    const auto weighed = [&](Draft& x, Length t, const Size& s) {
      x.trouble.cost = Cost::store;
      x.trouble.trips = 1;
      weigh(x.trouble, d.library, old.metal.name,
            t * s.fore_aft * s.athwart - old.thickness * old.fore_aft * old.athwart);
    };
    for (const Length& t : above(stock_sizes(d, "flat_bar", "thickness"), old.thickness, 2)) {
      Draft x;
      x.edits = {{value_path(d, b.path + ".behind.thickness"), written(d, t)}};
      x.words = bar + " behind the wall" + b.of + " " + written(d, t) + " thick in place of " +
                written(d, old.thickness);
      weighed(x, t, {old.fore_aft, old.athwart});
      out.push_back(std::move(x));
    }
    const Size s = behind_size(d, m, b);
    const Size larger{std::max(s.fore_aft, old.fore_aft), std::max(s.athwart, old.athwart)};
    if (larger.fore_aft > 1.1 * old.fore_aft || larger.athwart > 1.1 * old.athwart) {
      Draft x;
      x.edits = {{value_path(d, b.path + ".behind.fore_aft"), written(d, larger.fore_aft)},
                 {value_path(d, b.path + ".behind.athwart"), written(d, larger.athwart)}};
      x.words = bar + " behind the wall" + b.of + " " + written(d, larger.athwart) + " wide and " +
                written(d, larger.fore_aft) + " long";
      x.notes = {"look what else stands behind the wall"};
      weighed(x, old.thickness, larger);
      out.push_back(std::move(x));
    }
  }
}

void turn_base(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || m->bracket) return;
  const Outline& o = m->base.outline;
  const auto& holes = m->fastening.holes;
  const auto square = [](const std::vector<PlanPoint>& points) {
    return std::all_of(points.begin(), points.end(), [&](const PlanPoint& p) {
      return std::any_of(points.begin(), points.end(), [&](const PlanPoint& q) {
        return abs(q.x + p.y) < 0.01_mm && abs(q.y - p.x) < 0.01_mm;
      });
    });
  };
  if (square(o) && square(holes)) return;
  double turned = 90;
  const std::string now = text_at(d, "mount.base.turned");
  if (!now.empty()) turned += std::round(in_degrees(parse<Angle>(now)) * 1e9) / 1e9;
  if (turned > 360) turned -= 360;
  Draft x;
  x.edits = {{value_path(d, "mount.base.turned"), exact_number(turned) + " deg"}};
  x.words = "turn the base by 90 deg";
  x.notes = {"the holder or boom must still point its way; holes drilled already are filled"};
  x.trouble.cost = Cost::nothing;
  x.trouble.holes = int(holes.size());
  out.push_back(std::move(x));
}

void middle_of_flat(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || m->bracket || !m->host.is_metal() || !(m->host.flat.value() > 0)) return;
  if (abs(m->base.from_inboard_edge - 0.5 * m->host.flat) < 1.0_mm) return;
  Draft x;
  x.edits = {{"mount.base.from_inboard_edge", written(d, 0.5 * m->host.flat)}};
  x.words = "set the base in the middle of the flat";
  x.notes = {"holes drilled already are filled"};
  x.trouble.holes = int(m->fastening.holes.size());
  out.push_back(std::move(x));
}

// U-bolts too: what a larger one asks of the plate, the plate has.
void larger_bolt(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr) return;
  std::vector<Bolts> all = bolts_of(d);
  if (m->fastening.hold == HoldBy::u_bolt)
    all.insert(all.begin(), {"mount.fastening", &m->fastening, "", {}, {}});
  for (const Bolts& b : all) {
    if (!machine_thread(d, *b.f) || b.f->blind || b.f->insert) continue;
    for (const Thread& t : threads_above(d, b.f->thread, 2)) {
      Draft x;
      x.edits = {{value_path(d, b.path + ".thread"), reading::quoted(t.name)}};
      const std::string head = b.path + ".head";
      if (node_at(d, head) != nullptr && b.f->head < 1.7 * t.diameter) {
        const auto wide = washers_above(d, t.name, 1.7 * t.diameter);
        x.edits.push_back({value_path(d, head),
                           written(d, wide.empty() ? t.head_across_flats : wide.front().outside)});
      } else if (node_at(d, head) != nullptr && b.f->head <= 1.05 * t.head_across_flats) {
        x.edits.push_back({value_path(d, head), written(d, t.head_across_flats)});
      }
      if (b.f->washer) {
        const auto wide = washers_above(d, t.name, 0.99 / 1.05 * b.f->washer->outside);
        const auto any = washers_above(d, t.name, t.diameter);
        if (any.empty()) continue;
        x.edits.push_back({value_path(d, b.path + ".washer"),
                           reading::quoted((wide.empty() ? any.back() : wide.front()).name)});
      }
      const bool u = b.f->hold == HoldBy::u_bolt;
      x.words = t.name +
                (u                                   ? " U-bolts"
                 : b.f->hold == HoldBy::through_bolt ? " bolts"
                                                     : " screws") +
                b.of + " in place of " + b.f->thread.name;
      x.notes = {
          u ? "they must still fit what they go over"
            : "the holes are drilled out, those of what stands on them too: look at its edges"};
      x.trouble.cost = Cost::coins;
      x.trouble.trips = 1;
      out.push_back(std::move(x));
    }
  }
}

// Unmarked stainless counts as the lowest grade.
void marked_bolts(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr) return;
  std::vector<Bolts> all = bolts_of(d);
  if (m->fastening.hold == HoldBy::u_bolt)
    all.insert(all.begin(), {"mount.fastening", &m->fastening, "", {}, {}});
  const std::string grade = d.setup.salt_water ? "A4-70" : "A2-70";
  for (const Bolts& b : all) {
    if (b.f->material.name != "stainless, unmarked") continue;
    Draft x;
    x.edits = {{b.path + ".material", "{is: " + grade + ", known: tagged}"}};
    x.words = "bolts" + b.of + " marked " + grade + " in place of unmarked ones";
    if (b.f->hold == HoldBy::u_bolt)
      x.words = "U-bolts marked " + grade + " in place of unmarked ones";
    x.notes = {"the mark stands on the head"};
    x.trouble.cost = Cost::coins;
    x.trouble.trips = 1;
    out.push_back(std::move(x));
  }
}

void wide_washers(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr) return;
  std::vector<Bolts> all = bolts_of(d);
  if (m->fastening.hold == HoldBy::u_bolt)
    all.insert(all.begin(), {"mount.fastening", &m->fastening, "", {}, {}});
  for (const Bolts& b : all) {
    if (!machine_thread(d, *b.f)) continue;
    // Of a U-bolt the two nuts lie beside the place in the file: nothing is known of their room.
    const bool bow = b.f->hold == HoldBy::u_bolt;
    const BasePlate& foot = b.of.empty() ? m->base : m->bracket->fitting->foot;
    const Length most = bow ? Length(3.0 * b.f->thread.diameter) : widest_head(foot, b.f->holes);
    auto wider = washers_above(d, b.f->thread.name, b.f->head);
    std::erase_if(wider, [&](const Washer& w) { return w.outside > most; });
    if (!wider.empty()) {
      Draft x;
      const Washer& w = wider.back();
      x.edits = {{value_path(d, b.path + ".head"), written(d, w.outside)}};
      x.words = "washers of " + written(d, w.outside) + " under the " +
                (b.f->hold == HoldBy::u_bolt ? "nuts on the plate" : "heads on the base") + b.of;
      x.trouble.cost = Cost::coins;
      x.trouble.trips = 1;
      out.push_back(std::move(x));
    }
    if (b.f->hold != HoldBy::through_bolt || b.f->backing) continue;
    const Length now = b.f->washer ? b.f->washer->outside : b.f->thread.head_across_flats;
    auto behind = washers_above(d, b.f->thread.name, now);
    std::erase_if(behind,
                  [&](const Washer& w) { return w.outside > widest_washer(*m, b.f->holes); });
    if (behind.empty()) continue;
    Draft x;
    const Washer& w = behind.back();
    x.edits = {{value_path(d, b.path + ".washer"), reading::quoted(w.name)}};
    x.words = "washers of " + written(d, w.outside) + " under the nuts" + b.of;
    x.trouble.cost = Cost::coins;
    x.trouble.trips = 1;
    x.notes = {"thick ones: a thin washer dishes"};
    out.push_back(std::move(x));
  }
}

// The gear's own base and its bolts: they stay as bought on a plate of its own, and carry what they
// carried before, but are no part of the mount any more.
bool is_of_gear(std::string_view mode) {
  constexpr std::array<std::string_view, 12> modes{"pull-over",
                                                   "base-bending",
                                                   "base-bearing",
                                                   "bolt-tension",
                                                   "bolt-shear",
                                                   "bolt-tension-and-shear",
                                                   "screw-tension",
                                                   "screw-shear",
                                                   "screw-tension-and-shear",
                                                   "rivet-shear",
                                                   "rivet-tension-and-shear",
                                                   "wood-screw-breaks"};
  return std::find(modes.begin(), modes.end(), mode) != modes.end();
}

// A plate of its own between gear and gunwale, larger than the base, with holes of its own farther
// apart. Only where the gear's base and bolts are enough as drawn: nothing looks at them then. What
// they hold as drawn is written as the rating of the gear, so that no setting goes beyond it.
void own_plate(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || m->bracket || m->second || m->base.outline.size() != 4) return;
  if (!text_at(d, "mount.base.turned").empty() || node_at(d, "mount.base.outline") != nullptr)
    return;
  if (!(m->fastening.rows_along_sides && m->fastening.holes.size() == 4)) return;
  for (const CheckResult& c : d.assessment.checks) {
    if (c.part.empty() && c.standing == Standing::applies && is_of_gear(c.mode) && !c.holds) return;
  }
  std::optional<Force> allowed;
  std::vector<Edit> rating;
  if (m->base.metal) {
    if (d.setup.gear.size() != 1) return;
    const Gear& g = d.setup.gear.front();
    const std::string path =
        item_path(d, "gear", 0) + (g.rod_holder ? ".holder_rating" : ".body_rating");
    const bool rated = g.rod_holder ? g.rod_holder->holder_rating.has_value()
                                    : g.downrigger && g.downrigger->body_rating.has_value();
    if ((g.rod_holder || g.downrigger) && !rated) {
      AssessOptions with_limits;
      with_limits.step = degrees(10);
      for (const CheckResult& c : assess(d.setup, with_limits).checks) {
        const bool own = c.part.empty() && c.standing == Standing::applies && is_of_gear(c.mode);
        if (own && c.limit_at && (!allowed || *c.limit_at < *allowed)) allowed = *c.limit_at;
      }
      if (!allowed || item_path(d, "gear", 0).empty()) return;
      rating = {{path, "{pull: " + about(*allowed, d.setup.units, Rounding::down) +
                           ", source: 'its base and bolts, as drawn before the plate'}"}};
    }
  }
  const Size old = size_of(m->base.outline);
  const Size pattern = size_of(m->fastening.holes);
  const Length dia = m->fastening.thread.diameter;
  const Size most = most_of(*m);
  for (const double inches : {2.0, 4.0}) {
    const Length more = d.inch() ? Length(inches * 1.0_in) : Length(inches * 25.0_mm);
    Size s{rounded_up(d, old.fore_aft + more), rounded_up(d, old.athwart + more)};
    if (m->host.is_metal() && m->host.form != WallForm::sheet) {
      const Length half =
          std::min(m->base.from_inboard_edge, Length(m->host.flat - m->base.from_inboard_edge));
      s.athwart = std::max(old.athwart, std::min(s.athwart, rounded_down(d, 2.0 * half)));
    } else if (!m->host.is_metal()) {
      s = {std::max(old.fore_aft, std::min(s.fore_aft, rounded_down(d, most.fore_aft))),
           std::max(old.athwart, std::min(s.athwart, rounded_down(d, most.athwart)))};
    }
    // Holes 2 D within the plate, and on a panel or timber 4 D from its nearest edge.
    Size wide{std::max(pattern.fore_aft, rounded_down(d, s.fore_aft - 4.0 * dia)),
              std::max(pattern.athwart, rounded_down(d, s.athwart - 4.0 * dia))};
    if (!m->host.is_metal()) {
      const Length within = rounded_down(d, 2.0 * (m->host.to_edge - 4.0 * dia));
      wide = {std::max(pattern.fore_aft, std::min(wide.fore_aft, within)),
              std::max(pattern.athwart, std::min(wide.athwart, within))};
    }
    if (wide.fore_aft == pattern.fore_aft && wide.athwart == pattern.athwart) continue;
    const Length least = d.inch() ? Length(0.25_in) : Length(6.0_mm);
    for (const Length& t : thicknesses(d, std::max(m->base.thickness, least), 2)) {
      Draft x;
      const Stock stock = stock_for(d, std::min(s.fore_aft, s.athwart));
      x.edits = {
          {value_path(d, "mount.base.fore_aft"), written(d, s.fore_aft)},
          {value_path(d, "mount.base.athwart"), written(d, s.athwart)},
          {"mount.base.material", reading::quoted(stock.metal)},
          {value_path(d, "mount.base.thickness"), written(d, t)},
          {value_path(d, "mount.base.body"), written(d, std::min(old.fore_aft, old.athwart))},
          {"mount.fastening.holes", "{fore_aft: " + written(d, wide.fore_aft) +
                                        ", athwart: " + written(d, wide.athwart) + "}"}};
      x.edits.insert(x.edits.end(), rating.begin(), rating.end());
      x.words = "a plate of its own under the gear: " + by(d, t, s.athwart, s.fore_aft) + " " +
                stock.words + ", its holes " + written(d, wide.fore_aft) + " fore-aft and " +
                written(d, wide.athwart) + " athwart";
      if (m->fastening.backing) {
        const Size b{std::max(m->fastening.backing->fore_aft,
                              std::min(s.fore_aft, rounded_down(d, most.fore_aft))),
                     std::max(m->fastening.backing->athwart,
                              std::min(s.athwart, rounded_down(d, most.athwart)))};
        x.edits.push_back(
            {value_path(d, "mount.fastening.behind.fore_aft"), written(d, b.fore_aft)});
        x.edits.push_back({value_path(d, "mount.fastening.behind.athwart"), written(d, b.athwart)});
      }
      x.trouble.holes = int(m->fastening.holes.size());
      x.notes = {
          "the gear's own base and its bolts into this plate are not checked, nor cracks in time" +
          (allowed
               ? ": as drawn they hold to about " + about(*allowed, d.setup.units, Rounding::down)
               : std::string())};
      x.trouble.cost = Cost::store;
      x.trouble.trips = 1;
      weigh(x.trouble, d.library, stock.metal, t * s.fore_aft * s.athwart);
      out.push_back(std::move(x));
    }
  }
}

void solid_core(const Drawn& d, Drafts& out) {
  const GunwalePlate* m = plate_of(d);
  if (m == nullptr || m->host.kind != HostKind::cored_panel || m->host.panel.solid_at_bolts) return;
  Draft x;
  x.edits = {{value_path(d, "mount.host.solid_at_bolts"), "yes"}};
  x.words = "dig the core out round each bolt and fill it with thickened epoxy, or set in sleeves";
  x.notes = {"dry core only; a yard looks at it first",
             "drill again through the filler, bed and seal"};
  x.trouble.cost = Cost::store;
  x.trouble.trips = 1;
  out.push_back(std::move(x));
}

// ---- Brackets

const Bracket* bracket_of(const Drawn& d) {
  const GunwalePlate* m = plate_of(d);
  return m != nullptr && m->bracket ? &*m->bracket : nullptr;
}

void positive_stop(const Drawn& d, Drafts& out) {
  const Bracket* b = bracket_of(d);
  if (b == nullptr || b->stop || !geometry::is_clasped(*plate_of(d))) return;
  Draft x;
  x.edits = {{value_path(d, "mount.stop"), "yes"}};
  x.words =
      "a positive stop in place of friction: a lip turned down against the gunwale, or a piece "
      "of angle bolted under the plate, and a pin";
  x.notes = {"it must stop sliding inboard and outboard and turning round"};
  x.trouble.cost = Cost::store;
  x.trouble.trips = 1;
  out.push_back(std::move(x));
}

void thicker_plate(const Drawn& d, Drafts& out) {
  if (bracket_of(d) == nullptr) return;
  const BasePlate& base = plate_of(d)->base;
  if (!base.metal) return;
  const Size s = size_of(base.outline);
  const auto weighed = [&](Draft& x, const std::string& metal, Length t) {
    x.trouble.cost = Cost::store;
    x.trouble.trips = 1;
    weigh(x.trouble, d.library, metal, t * s.fore_aft * s.athwart);
    const Volume old = base.thickness * s.fore_aft * s.athwart;
    const auto same = density_of(d.library, base.metal->name) ? base.metal->name : metal;
    weigh(x.trouble, d.library, same, old, -1);  // aluminium for aluminium
  };
  const auto sizes = stock_sizes(d, "flat_bar", "thickness");
  for (const Length& t : above(sizes, base.thickness, 2)) {
    Draft x;
    x.edits = {{value_path(d, "mount.base.thickness"), written(d, t)}};
    x.words = "bracket plate " + written(d, t) + " thick in place of " +
              written(d, base.thickness) + ", same metal";
    weighed(x, base.metal->name, t);
    out.push_back(std::move(x));
  }
  if (base.metal->name.starts_with("6061-T6")) return;
  for (const Length& t : above(sizes, base.thickness, 4)) {
    Draft x;
    x.edits = {{"mount.base.material", "6061-T6 sheet"},
               {value_path(d, "mount.base.thickness"), written(d, t)}};
    x.words = "bracket of " + written(d, t) + " plate of 6061-T6 in place of " +
              written(d, base.thickness);
    x.notes = {"a mark or certificate of the merchant"};
    weighed(x, "6061-T6 sheet", t);
    out.push_back(std::move(x));
  }
}

struct AngleStock {
  Length leg, thickness;
};

void stiffeners(const Drawn& d, Drafts& out) {
  const Bracket* b = bracket_of(d);
  if (b == nullptr || !text_at(d, "mount.base.turned").empty()) return;
  const GunwalePlate& m = *plate_of(d);
  const Size s = size_of(m.base.outline);
  const bool athwart = abs(b->gear_at.y) >= abs(b->gear_at.x);
  const Length along = athwart ? s.athwart : s.fore_aft;
  const Length across = athwart ? s.fore_aft : s.athwart;
  const std::vector<AngleStock> sizes =
      d.inch()
          ? std::vector<AngleStock>{{1.5_in, 0.125_in}, {1.5_in, 0.1875_in}, {2.0_in, 0.1875_in}}
          : std::vector<AngleStock>{{40.0_mm, 3.0_mm}, {40.0_mm, 5.0_mm}, {50.0_mm, 5.0_mm}};
  const std::string alloy = d.inch() ? "6061-T6 extrusion" : "EN 6061-T6 extrusion";
  Length had{};
  for (const Stiffener& a : b->stiffeners) had = std::max(had, a.leg + a.thickness);
  for (const AngleStock& a : sizes) {
    if (a.leg + a.thickness <= had) continue;
    const Length end = rounded_down(d, 0.5 * along - 5.0_mm);
    const Length at = rounded_down(d, 0.5 * across - 0.5 * a.leg);
    if (!(at.value() > 0) || !(end.value() > 0)) continue;
    std::string list;
    for (const double side : {-1.0, 1.0}) {
      list += (list.empty() ? "" : ", ") + ("{alloy: " + alloy + ", leg: " + written(d, a.leg)) +
              ", thickness: " + written(d, a.thickness) +
              ", runs: " + (athwart ? "athwart" : "fore_aft") + ", ends: [" + written(d, -end) +
              ", " + written(d, end) + "], at: " + written(d, side * at) + "}";
    }
    Draft x;
    x.edits = {{"mount.angles", "[" + list + "]"}};
    x.words = "two angles " + by(d, a.leg, a.leg, a.thickness) +
              " of 6061-T6 bolted along the plate, "
              "one at each edge";
    x.notes = {
        "under it where it hangs free, on top where it bears on the boat; clear of nuts, the foot "
        "of the gear packed level"};
    x.trouble.cost = Cost::store;
    x.trouble.trips = 1;
    weigh(x.trouble, d.library, alloy, 4.0 * end * a.thickness * (2.0 * a.leg - a.thickness));
    out.push_back(std::move(x));
  }
}

// Bolts through the wall below in place of U-bolts or clamps, about the same middle, so that what
// the file says of the wall there stays true.
void bolt_it_down(const Drawn& d, Drafts& out) {
  const Bracket* b = bracket_of(d);
  if (b == nullptr || !geometry::is_clasped(*plate_of(d))) return;
  const GunwalePlate& m = *plate_of(d);
  if (!text_at(d, "mount.base.turned").empty()) return;
  const std::string thread = d.inch() ? "5/16-18" : "M8";
  const Length dia = d.library.thread(thread).diameter;
  // Places here are from the middle of the fasteners; the file's are from the middle of the plate.
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const PlanPoint& p : m.base.outline) {
    x0 = std::min(x0, p.x.value());
    x1 = std::max(x1, p.x.value());
    y0 = std::min(y0, p.y.value());
    y1 = std::max(y1, p.y.value());
  }
  const PlanPoint middle{Length::from_value(-0.5 * (x0 + x1)),
                         Length::from_value(-0.5 * (y0 + y1))};
  double below0 = 1e9, below1 = -1e9;
  for (std::size_t i = 0; i < b->bears_on.size(); ++i) {
    if (b->firm[i]) continue;
    for (const PlanPoint& p : b->bears_on[i]) {
      below0 = std::min(below0, p.y.value());
      below1 = std::max(below1, p.y.value());
    }
  }
  if (below1 <= below0) return;
  const Length edge = 2.5 * dia;
  Length half_x = Length::from_value(std::min(-x0, x1)) - edge;
  Length half_y = Length::from_value(std::min({-y0, y1, -below0, below1})) - edge;
  if (m.host.to_support.value() > 0) {  // round the middle
    const Length reach = 0.7 * (m.host.to_support - 2.0 * dia);
    half_x = std::min(half_x, reach);
    half_y = std::min(half_y, reach);
  }
  half_x = rounded_down(d, half_x);
  half_y = rounded_down(d, half_y);
  if (half_x < 2.5 * dia || half_y < 2.5 * dia) return;
  std::string points;
  for (const double sx : {-1.0, 1.0}) {
    for (const double sy : {-1.0, 1.0}) {
      points += (points.empty() ? "[" : ", [") + written(d, middle.x + sx * half_x) + ", " +
                written(d, middle.y + sy * half_y) + "]";
    }
  }
  const std::string grade = d.setup.salt_water ? "A4-70" : "A2-70";
  auto washers = washers_above(d, thread, 1.7 * dia);
  std::erase_if(washers, [&](const Washer& w) { return w.outside > 3.2 * dia; });
  const Length head =
      washers.empty() ? d.library.thread(thread).head_across_flats : washers.back().outside;
  const Length more = d.inch() ? Length(2.0_in) : Length(50.0_mm);
  const Size most = most_of(m);
  const Size s{std::min(rounded_up(d, 2.0 * half_x + more), rounded_down(d, most.fore_aft)),
               std::min(rounded_up(d, 2.0 * half_y + more), rounded_down(d, most.athwart))};
  for (const Length& t : thicknesses(d, d.inch() ? Length(0.25_in) : Length(6.0_mm), 3)) {
    Draft x;
    const Stock stock = stock_for(d, std::min(s.fore_aft, s.athwart));
    x.edits = {{"mount.fastening", "{hold: through_bolt, thread: " + thread + ", material: {is: " +
                                       grade + ", known: tagged}, head: " + written(d, head) +
                                       ", locking: nut, holes: " + "{points: [" + points +
                                       "]}, behind: " + map_of(d, stock.metal, t, s) + "}"}};
    leave_out(d, x, "mount.fitting");
    leave_out(d, x, "mount.clamp");
    x.words = "four honest bolts, " + thread + " marked " + grade +
              ", down through the wall in place of the " +
              std::string(plural_of(m.fastening.hold)) + ", with " +
              by(d, t, s.athwart, s.fore_aft) + " " + stock.words + " below";
    x.notes = {
        access_note,
        "better still into a knee: then give mount.host its flange, thickness and to_support"};
    x.trouble.cost = Cost::store;
    x.trouble.trips = 1;
    x.trouble.holes = 4;
    weigh(x.trouble, d.library, stock.metal, t * s.fore_aft * s.athwart);
    out.push_back(std::move(x));
  }
}

void gear_nearer(const Drawn& d, Drafts& out) {
  const Bracket* b = bracket_of(d);
  if (b == nullptr || !text_at(d, "mount.base.turned").empty()) return;
  const std::string path = value_path(d, "mount.gear_foot.outboard");
  const std::string text = text_at(d, "mount.gear_foot.outboard");
  if (text.empty() || !(b->gear_at.y.value() > 0)) return;
  const Length now = parse<Length>(text);
  for (const double inches : {1.0, 2.0}) {
    const Length step = d.inch() ? Length(inches * 1.0_in) : Length(inches * 25.0_mm);
    if (b->gear_at.y - step < 0.5 * b->gear_at.y) continue;
    Draft x;
    x.edits = {{path, written(d, now - step)}};
    x.words = "the gear " + written(d, step) + " farther inboard on its bracket";
    x.notes = {"the boom must still clear the side, the crank the gunwale"};
    x.trouble.cost = Cost::coins;
    x.trouble.given_up = 0.05 * inches;
    out.push_back(std::move(x));
  }
}

constexpr std::array<DraftKind, 17> kinds{{
    {{"tapped-bar", "threads in a bar behind the wall in place of the wall", "plate, bracket"},
     tapped_bar},
    {{"through-bolt", "nuts and a plate behind in place of threads or screws", "plate, bracket"},
     through_bolt},
    {{"thread-insert", "coils in the tapped holes of thick metal", "plate, bracket"},
     thread_insert},
    {{"backing-plate", "plate or strip behind bolts that have washers only", "plate, bracket"},
     backing_plate},
    {{"larger-backing", "thicker or larger plate behind", "plate, bracket"}, larger_backing},
    {{"solid-core", "core filled at the bolts", "plate, bracket"}, solid_core},
    {{"turn-base", "base turned by 90 deg", "plate"}, turn_base},
    {{"middle-of-flat", "base in the middle of the flat", "plate"}, middle_of_flat},
    {{"own-plate", "plate of its own between gear and gunwale, holes farther apart", "plate"},
     own_plate},
    {{"larger-bolt", "next larger bolts, screws or U-bolts", "plate, bracket"}, larger_bolt},
    {{"marked-bolts", "bolts of a marked grade", "plate, bracket"}, marked_bolts},
    {{"wide-washers", "wider washers under heads or nuts", "plate, bracket"}, wide_washers},
    {{"positive-stop", "stop in place of friction", "bracket"}, positive_stop},
    {{"thicker-plate", "thicker plate of the bracket, or a stronger metal", "bracket"},
     thicker_plate},
    {{"angles", "angles bolted along the plate", "bracket"}, stiffeners},
    {{"bolt-down", "bolts through the wall in place of U-bolts or clamps", "bracket"},
     bolt_it_down},
    {{"gear-nearer", "gear farther inboard on its bracket", "bracket"}, gear_nearer},
}};

}  // namespace

std::string lacks_room_on_plate(const Setup& drawn, const Setup& changed) {
  if (drawn.on_board() || changed.on_board()) return "";
  const Clashes before = clashes_of(drawn);
  for (const auto& [key, c] : clashes_of(changed)) {
    const auto was = before.find(key);
    // What was as narrow before is no reason.
    if (was == before.end() || c.depth > was->second.depth + 0.0005) {
      return c.words + " run into each other";
    }
  }
  return "";
}

std::span<const DraftKind> plate_changes() { return kinds; }

}  // namespace thole::reading
