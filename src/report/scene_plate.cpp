// A base plate or bracket on its gunwale: from above, cut across the gunwale, and along it. Frame:
// middle of the base (of a bracket: of its fasteners), on the wall.

#include <algorithm>
#include <cmath>
#include <limits>

#include <thole/check.hpp>

#include "report/scene.hpp"

namespace thole::scene {
namespace {

using Form = Solid::Form;

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void take(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
  [[nodiscard]] double size() const { return high - low; }
  [[nodiscard]] double middle() const { return 0.5 * (low + high); }
};

bool starts(const std::string& s, const char* with) { return s.rfind(with, 0) == 0; }

class PlateScene {
 public:
  PlateScene(const SheetContent& content, bool on_board)
      : content_(content), s_(content.setup), p_(content.setup.plate()), on_board_(on_board) {
    base_.side = s_.fit && !s_.fit->starboard ? -1 : 1;
    base_.slope = p_.host.slope.value();
    for (const PlanPoint& p : p_.base.outline) {
      fore_aft_.take(p.x.value());
      athwart_.take(p.y.value());
    }
    top_ = p_.fastening.packing.value() + thickness();
  }

  Scene made() {
    scene_.base_alone = true;
    host();
    boat();
    backing(p_.fastening);
    if (p_.second) backing(*p_.second);
    plate();
    int number = 0;
    fasteners(p_.fastening, number);
    if (p_.second) fasteners(*p_.second, number);
    if (p_.bracket) bracket();
    std::vector<Stand> stands;
    for (std::size_t i = 0; i < s_.gear.size(); ++i) stands.push_back(stand());
    if (s_.fit && on_board_) add_things(scene_, content_, transom(), middle());
    add_gear(scene_, content_, stands);
    dimensions();
    worst();
    scene_.what = name() + " on " + host_name();
    if (!s_.fit)
      scene_.note("Drawn for the starboard side; port is its mirror image.", in_plan | in_stern);
    return scene_;
  }

 private:
  void put(std::vector<Spot> corners, const char* look, Layer layer = Layer::mount,
           Set views = everywhere, Form form = Form::hull, bool frames = true,
           Set panels = both_panels) {
    scene_.solids.push_back({look, layer, std::move(corners), form, views, panels, frames});
  }
  [[nodiscard]] std::vector<Spot> slab(double x0, double x1, double y0, double y1, double z0,
                                       double z1) const {
    std::vector<Spot> out;
    for (const Spot& p : box({x0, y0, z0}, {x1, y1, z1})) out.push_back(base_.at(p.x, p.y, p.z));
    return out;
  }
  [[nodiscard]] std::vector<Spot> prism(const Outline& outline, double low, double high) const {
    std::vector<Spot> out;
    for (const double z : {low, high}) {
      for (const PlanPoint& p : outline) out.push_back(base_.at(p.x.value(), p.y.value(), z));
    }
    return out;
  }
  void name_at(std::vector<std::string> lines, const Spot& at, Set views,
               const char* look = "text") {
    scene_.labels.push_back({std::move(lines), at, look, views, detail});
  }

  [[nodiscard]] double thickness() const {
    return p_.base.thickness.value() > 0 ? p_.base.thickness.value() : 0.01;
  }
  [[nodiscard]] Stand stand() const {
    if (!p_.bracket) return base_;
    Stand out = base_;
    out.foot = base_.at(p_.bracket->gear_at.x.value(), p_.bracket->gear_at.y.value(), 0);
    return out;
  }
  [[nodiscard]] double transom() const { return -s_.fit->mount_at.x.value(); }
  [[nodiscard]] double middle() const { return -s_.fit->mount_at.y.value(); }
  [[nodiscard]] std::string name() const {
    return (p_.bracket ? "bracket " : "base ") +
           show(Length::from_value(fore_aft_.size()), s_.units) + " x " +
           show(Length::from_value(athwart_.size()), s_.units);
  }
  [[nodiscard]] std::string host_name() const {
    if (!p_.host.is_metal()) return std::string(word_for(p_.host.kind));
    switch (p_.host.form) {
      case WallForm::closed_section:
        return "box gunwale";
      case WallForm::open_lip:
        return "open gunwale lip";
      case WallForm::sheet:
        break;
    }
    return "sheet";
  }

  // Where the flat ends, outboard counted; a side that is not known is drawn dashed.
  [[nodiscard]] Range flat() const {
    const Host& h = p_.host;
    Range out;
    if (h.is_metal() && h.form != WallForm::sheet && h.flat.value() > 0) {
      const double in = -p_.base.from_inboard_edge.value();
      out.take(in);
      out.take(in + h.flat.value());
      return out;
    }
    const double edge = h.is_metal() ? 0 : h.to_edge.value();
    const double least = std::max(std::abs(athwart_.low), std::abs(athwart_.high)) + 0.02;
    out.take(edge > 0 ? -edge : -least);
    out.take(edge > 0 ? edge : least);
    return out;
  }
  [[nodiscard]] bool edges_known() const {
    return p_.host.is_metal() && p_.host.form != WallForm::sheet;
  }

  void host() {
    if (p_.bracket && !p_.bracket->bears_on.empty()) {
      patches();
      return;
    }
    const Range across = flat();
    const double ends = 0.35 * fore_aft_.size() + 0.01;
    const double aft = fore_aft_.low - ends;
    const double ahead = fore_aft_.high + ends;
    const double t = p_.host.thickness.value();
    put(slab(aft, ahead, across.low, across.high, -t, 0), "hull", Layer::boat);
    const double tooth = 0.25 * ends;
    for (const double x : {aft, ahead}) {
      scene_.solids.push_back(break_line(base_.at(x, across.low, 0), base_.at(x, across.high, 0),
                                         {tooth, 0, 0}, in_plan));
      scene_.solids.back().panels = detail;
    }
    if (edges_known()) {
      webs(across, aft, ahead);
    } else {
      for (const double y : {across.low, across.high}) {
        scene_.solids.push_back(
            break_line(base_.at(aft, y, 0), base_.at(ahead, y, 0), {0, 0.25 * ends, 0}, in_plan));
        scene_.solids.back().panels = detail;
      }
    }
    skins(across, aft, ahead, t);
    const double y = 0.7 * across.high + 0.3 * std::min(across.high, athwart_.high);
    const std::string thick = show(p_.host.thickness, s_.units) + " thick";
    name_at({host_name(), thick}, base_.at(ahead - 0.4 * ends, y, 0), in_plan);
    name_at({host_name(), thick}, base_.at(0, across.low * 0.97, -0.5 * t), in_stern);
    name_at({host_name()}, base_.at(aft + 0.2 * ends, 0, -0.5 * t), in_side);
  }

  // What hangs below the flat is not described.
  void webs(const Range& across, double aft, double ahead) {
    const double depth = 0.5 * across.size();
    const bool lip = p_.host.form == WallForm::open_lip;
    for (const double y : {across.low, across.high}) {
      const bool root = (y == across.low) == p_.host.lip_root_inboard;
      if (lip && !root) continue;
      put({base_.at(0, y, 0), base_.at(0, y, -depth)}, "hidden", Layer::boat, in_stern, Form::line,
          true, detail);
    }
    put(slab(aft, ahead, across.low, across.high, -depth, -depth), "hidden", Layer::boat, in_side,
        Form::hull, true, detail);
  }

  void skins(const Range& across, double aft, double ahead, double t) {
    const double skin = p_.host.panel.skin.value();
    if (p_.host.kind != HostKind::cored_panel || !(skin > 0) || 2 * skin >= t) return;
    put(slab(aft, ahead, across.low, across.high, -t + skin, -skin), "views-core", Layer::boat,
        in_side | in_stern);
    name_at({"core"}, base_.at(0, 0.9 * across.high, -0.5 * t), in_stern);
  }

  void patches() {
    const double t = p_.host.thickness.value();
    Range across;
    for (const Outline& o : p_.bracket->bears_on) {
      put(prism(o, -t, 0), "hull", Layer::boat);
      for (const PlanPoint& p : o) across.take(p.y.value());
    }
    const double x = 0.8 * fore_aft_.low;
    name_at({"boat, as far as the", "bracket bears on it"},
            base_.at(x, across.low + 0.1 * across.size(), 0), in_plan, "note");
    name_at({host_name(), show(p_.host.thickness, s_.units) + " thick"},
            base_.at(0, across.low + 0.05 * across.size(), -0.5 * t), in_stern);
  }

  // Transom and gunwale of the boat, as far as the setup places them.
  void boat() {
    if (!s_.fit) {
      if (on_board_ && s_.boat) scene_.water = -s_.boat->freeboard.value();
      return;
    }
    const double aft = transom();
    const double mid = middle();
    const double ahead = fore_aft_.high + 0.4;
    const Range across = flat();
    const double in = base_.side * across.low;
    const double out = base_.side * across.high;
    for (const bool other : {false, true}) {
      const double a = other ? 2 * mid - in : in;
      const double b = other ? 2 * mid - out : out;
      put(box({aft, std::min(a, b), 0}, {ahead, std::max(a, b), 0}), other ? "views-guess" : "hull",
          Layer::boat, in_plan, Form::hull, true, whole);
      scene_.solids.push_back(break_line({ahead, a, 0}, {ahead, b, 0}, {0.02, 0, 0}, in_plan));
      scene_.solids.back().panels = whole;
    }
    put({{aft, out, 0}, {aft, 2 * mid - out, 0}}, "axis", Layer::boat, in_plan, Form::line, true,
        whole);
    scene_.labels.push_back(
        {{"transom"}, {aft, mid + 0.4 * (out - mid), 0}, "note", in_plan, whole});
    if (on_board_ && s_.boat) scene_.water = -s_.boat->freeboard.value();
  }

  void backing(const Fastening& f) {
    if (!f.backing) return;
    Range x;
    Range y;
    for (const PlanPoint& h : f.holes) {
      x.take(h.x.value());
      y.take(h.y.value());
    }
    const double dx = 0.5 * f.backing->fore_aft.value();
    const double dy = 0.5 * f.backing->athwart.value();
    const double z = -p_.host.thickness.value();
    const std::vector<Spot> corners = slab(x.middle() - dx, x.middle() + dx, y.middle() - dy,
                                           y.middle() + dy, z - f.backing->thickness.value(), z);
    put(corners, "part2", Layer::mount, in_side | in_stern);
    put(corners, "hidden", Layer::gear, in_plan, Form::hull, true, detail);
    const bool bar = f.hold == HoldBy::tapped_bar;
    const std::string word =
        (bar ? "bar behind, " : "plate behind, ") + show(f.backing->thickness, s_.units);
    const double z_mid = z - 0.5 * f.backing->thickness.value();
    name_at({word}, base_.at(x.middle() - dx, y.middle() - 0.6 * dy, z_mid), in_plan);
    name_at({word}, base_.at(0, y.middle() - 0.9 * dy, z_mid), in_stern);
  }

  void plate() {
    const double low = p_.fastening.packing.value();
    put(prism(p_.base.outline, low, top_), p_.base.thickness.value() > 0 ? "part" : "views-guess");
    std::string thick = "thickness not known";
    if (p_.base.thickness.value() > 0) thick = show(p_.base.thickness, s_.units) + " thick";
    const std::string word = p_.bracket ? "bracket, " : "base, ";
    const double x = fore_aft_.low + 0.1 * fore_aft_.size();
    const auto across = [&](double part) { return athwart_.low + part * athwart_.size(); };
    const double z = 0.5 * (low + top_);
    scene_.labels.push_back({{word + thick},
                             base_.at(x, across(0.1), top_),
                             "text",
                             in_plan,
                             detail,
                             base_.at(x, across(0.9), top_)});
    scene_.labels.push_back({{word + thick},
                             base_.at(0, across(0.95), z),
                             "text",
                             in_side | in_stern,
                             detail,
                             base_.at(0, across(0.3), z)});
    const Spot middle = base_.at(fore_aft_.middle(), athwart_.middle(), top_);
    scene_.labels.push_back(
        {{p_.bracket ? "bracket" : "base"}, middle, "text", everywhere, overview});
  }

  void fasteners(const Fastening& f, int& number) {
    const double radius = 0.5 * f.thread.diameter.value();
    const double head = std::max(0.5 * f.head.value(), 1.5 * radius);
    double behind = p_.host.thickness.value() + 2 * f.thread.pitch.value();
    if (f.backing) behind += f.backing->thickness.value();
    if (in_wood(f.hold) && f.length.value() > 0) behind = f.length.value() - top_;
    for (const PlanPoint& h : f.holes) {
      const Spot at = base_.at(h.x.value(), h.y.value(), top_);
      put(drum(at, 0.6 * radius, head), "part2", Layer::gear);
      put(drum(at + Spot{0, 0, 0.6 * radius}, 0, radius), "axis", Layer::gear, in_plan);
      put(bar(base_.at(h.x.value(), h.y.value(), -behind), at, 2 * radius), "part2", Layer::gear,
          in_side | in_stern);
      name_at({std::to_string(++number)}, at + Spot{0, 0, radius}, in_plan, "strong");
      places_.push_back(at);
    }
    if (f.holes.empty()) return;
    const PlanPoint& first = f.holes.front();
    const PlanPoint& last = f.holes.back();
    scene_.labels.push_back({{std::string(plural_of(f.hold)) + " " + brief(f.thread.name)},
                             base_.at(last.x.value(), last.y.value(), -0.7 * behind),
                             "text",
                             in_side | in_stern,
                             detail,
                             base_.at(first.x.value(), first.y.value(), -0.7 * behind)});
  }

  void bracket() {
    const Bracket& b = *p_.bracket;
    for (const Stiffener& s : b.stiffeners) {
      const double z = -0.5 * s.leg.value();
      put(bar(base_.at(s.from.x.value(), s.from.y.value(), z),
              base_.at(s.to.x.value(), s.to.y.value(), z), s.leg.value()),
          "hidden", Layer::gear, everywhere, Form::hull, true, detail);
      name_at({"stiffener below"}, base_.at(s.to.x.value(), s.to.y.value(), z), in_plan | in_side);
    }
    if (b.fitting) fitting(*b.fitting);
    const Spot gear = base_.at(b.gear_at.x.value(), b.gear_at.y.value(), top_);
    const double half = 0.5 * b.gear_width.value();
    if (half > 0) put(drum(gear, 0.004, half), "views-guess", Layer::gear, everywhere);
    name_at({"foot of the gear"}, gear + Spot{half, 0, 0}, in_plan);
  }

  void fitting(const Fitting& f) {
    const double x = f.at.x.value();
    const double y = f.at.y.value();
    std::vector<Spot> corners;
    for (const double z : {0.0, f.height.value()}) {
      for (const PlanPoint& p : f.foot.outline) {
        corners.push_back(base_.at(x + p.x.value(), y + p.y.value(), z));
      }
    }
    put(corners, "hidden", Layer::gear, everywhere, Form::hull, true, detail);
    name_at({brief(f.name)}, base_.at(x, y, f.height.value()), everywhere);
    for (const PlanPoint& h : f.fastening.holes) {
      fitting_places_.push_back(base_.at(x + h.x.value(), y + h.y.value(), 0));
      put(drum(fitting_places_.back(), 0, 0.5 * f.fastening.thread.diameter.value()), "thin",
          Layer::gear, in_plan, Form::hull, true, detail);
    }
  }

  void dimensions() {
    const auto add = [&](const Spot& a, const Spot& b, double v, View view, bool upright) {
      scene_.dimensions.push_back(
          {a, b, show(Length::from_value(v), s_.units), view, upright, detail});
    };
    const double x0 = fore_aft_.low;
    const double x1 = fore_aft_.high;
    const double y0 = athwart_.low;
    const double y1 = athwart_.high;
    if (std::abs(base_.slope) < 0.05) {
      add(base_.at(x0, y0, 0), base_.at(x0, y1, 0), athwart_.size(), View::plan, false);
    } else {
      scene_.note("The face slopes " + show(p_.host.slope) +
                      ": from above, what lies across it looks shorter.",
                  in_plan);
    }
    add(base_.at(x0, y0, 0), base_.at(x1, y0, 0), fore_aft_.size(), View::plan, true);
    add(base_.at(x0, 0, 0), base_.at(x1, 0, 0), fore_aft_.size(), View::side, false);
    if (!edges_known() || p_.bracket) return;
    const Range across = flat();
    add(base_.at(x0, across.low, 0), base_.at(x0, across.high, 0), across.size(), View::stern,
        false);
  }

  void worst() {
    scene_.worst = worst_of(content_);
    if (!scene_.worst) return;
    const CheckResult& c = content_.assessment.checks.front();
    const bool of_fitting =
        p_.bracket && p_.bracket->fitting && !c.part.empty() && c.part == p_.bracket->fitting->name;
    const std::vector<Spot>& places = of_fitting ? fitting_places_ : places_;
    if (c.fastener >= 0) {
      if (std::size_t(c.fastener) >= places.size()) return;
      scene_.worst->at = places[std::size_t(c.fastener)];
      scene_.worst->words += ", no. " + std::to_string(c.fastener + 1);
      scene_.worst->in_short = "no. " + std::to_string(c.fastener + 1);
      if (of_fitting) scene_.worst->words += " of the " + brief(c.part);
      return;
    }
    const bool base = starts(c.mode, "base-") || starts(c.mode, "bracket-") ||
                      starts(c.mode, "wood-base-") || starts(c.mode, "backing-") ||
                      c.mode == "core-crushing";
    if (base && !of_fitting) scene_.worst->area = prism(p_.base.outline, top_, top_);
  }

  const SheetContent& content_;
  const Setup& s_;
  const GunwalePlate& p_;
  bool on_board_;
  Stand base_;
  Range fore_aft_, athwart_;
  double top_ = 0;
  std::vector<Spot> places_, fitting_places_;
  Scene scene_;
};

}  // namespace

Scene plate_scene(const SheetContent& content, bool on_board) {
  return PlateScene(content, on_board).made();
}

}  // namespace thole::scene
