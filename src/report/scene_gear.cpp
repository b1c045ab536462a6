// Gear on its stand, sectors of booms, the pull of the worst case and the item that gives way
// first.

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <thole/check.hpp>

#include "report/beside.hpp"
#include "report/scene.hpp"
#include "report/text.hpp"

namespace thole::scene {
namespace {

// Sizes that no setup gives, drawn dashed.
constexpr double winch_radius = 0.06;
constexpr double boom_width = 0.03;
constexpr double rod_width = 0.012;
constexpr double tube_width = 0.036;
constexpr double least_tube = 0.15;
constexpr double shortest_rod = 0.5;  // of one that is not drawn whole

constexpr double pi = std::numbers::pi;

struct Boom {
  double azimuth = 0;
  double raised = 0;
};

class GearScene {
 public:
  GearScene(Scene& scene, const SheetContent& content)
      : scene_(scene), content_(content), loading_(worst_loading(content.assessment)) {}

  void add(const Gear& g, const Stand& stand) {
    if (g.downrigger) downrigger(g, stand);
    if (g.rod_holder) rod(g, stand);
    if (g.plain_load) plain_load(g, stand);
  }

  void add_pull(const std::vector<Stand>& stands) {
    if (loading_ == nullptr) {
      scene_.load = "load of the worst case not drawn";
      scene_.note("Load of the worst case not drawn.", in_plan);
      return;
    }
    const LoadCase* c = load_case();
    const std::string title = c != nullptr ? c->title : "";
    scene_.load = text::joined({title, loading_->words});
    const auto act = place_of_pull(stands, c);
    if (!act) {
      scene_.note("No arrow: the worst load acts on everything.", in_plan);
      return;
    }
    if (c != nullptr && c->others == Others::together && content_.setup.gear.size() > 1) {
      scene_.note("The other gear pulls as well: one arrow shown.", everywhere);
    }
    const Spot way = way_of(stands);
    scene_.pull = Pull{*act, way, value() + ", " + dip_of(way), title, sectors_of(stands, c)};
    scene_.load = value() + ", " + dip_of(way) + ": " + scene_.load;
  }

 private:
  [[nodiscard]] const LoadCase* load_case() const {
    const auto& cases = content_.assessment.cases;
    if (loading_ == nullptr || loading_->load_case >= cases.size()) return nullptr;
    return &cases[loading_->load_case].load_case;
  }
  [[nodiscard]] std::string value() const {
    return about(loading_->pull, content_.setup.units, Rounding::up);
  }
  [[nodiscard]] static std::string dip_of(const Spot& way) {
    const double dip = std::asin(std::clamp(-way.z, -1.0, 1.0)) * 180 / pi;
    const long whole = std::lround(std::abs(dip));
    if (whole < 3) return "level";
    if (whole > 87) return dip > 0 ? "straight down" : "straight up";
    return std::to_string(whole) + (dip > 0 ? " deg down" : " deg up");
  }

  [[nodiscard]] std::size_t pulled_gear() const {
    const auto& gear = content_.setup.gear;
    for (std::size_t i = 0; i < gear.size(); ++i) {
      if (gear[i].name == loading_->gear) return i;
    }
    return gear.size();
  }

  [[nodiscard]] std::optional<Spot> place_of_pull(const std::vector<Stand>& stands,
                                                  const LoadCase* c) const {
    if (loading_->person_at) {
      const CrossBoard& b = content_.setup.board();
      const Position<Board>& p = *loading_->person_at;
      const double y = (p.x() - b.port_overhang - 0.5 * b.clear_width).value();
      return Spot{p.y().value(), y, (0.5 * b.board.thickness + p.z()).value()};
    }
    const std::size_t i = pulled_gear();
    if (i >= stands.size() || !loading_->way || c == nullptr) return std::nullopt;
    return acts_at(content_.setup.gear[i], stands[i], c->path);
  }

  [[nodiscard]] std::optional<Spot> acts_at(const Gear& g, const Stand& stand,
                                            LoadPath path) const {
    if (g.plain_load) {
      const Position<Base>& p = g.plain_load->at;
      return stand.at(p.x().value(), p.y().value(), p.z().value());
    }
    if (g.downrigger) {
      if (path == LoadPath::tip) return tip_of(*g.downrigger, stand, shown_boom(g));
      const Position<Base> p = post_of(*g.downrigger);
      return stand.at(p.x().value(), p.y().value(), p.z().value());
    }
    if (!g.rod_holder) return std::nullopt;
    const Spot rim = rim_of(*g.rod_holder, stand);
    if (path != LoadPath::line) return rim;
    return rim + g.rod_holder->rod_length.value() * tube_axis(*g.rod_holder, stand);
  }

  [[nodiscard]] Spot way_of(const std::vector<Stand>& stands) const {
    if (!loading_->way) return {0, 0, -1};
    const std::size_t i = pulled_gear();
    const double side = i < stands.size() ? stands[i].side : 1;
    return {loading_->way->x(), side * loading_->way->y(), loading_->way->z()};
  }

  // A boom has a sector of its own.
  [[nodiscard]] std::vector<std::pair<double, double>> sectors_of(const std::vector<Stand>& stands,
                                                                  const LoadCase* c) const {
    const std::size_t i = pulled_gear();
    if (c == nullptr || i >= stands.size() || content_.setup.gear[i].downrigger) return {};
    std::vector<std::pair<double, double>> out;
    for (const DirectionRange& r : c->ranges) {
      const double from = r.azimuth_from.value();
      const double to = std::min(r.azimuth_to.value(), from + 2 * pi);
      // Another dip of the same sector, or no sector at all.
      const std::pair<double, double> part{stands[i].side * from, stands[i].side * to};
      if (to - from > 0.05 && std::find(out.begin(), out.end(), part) == out.end()) {
        out.push_back(part);
      }
    }
    return out;
  }

  // The position of the boom that the picture shows: that of the worst case.
  [[nodiscard]] Boom shown_boom(const Gear& g) const {
    const Downrigger& d = *g.downrigger;
    const Downrigger::Position first = d.position(0);
    Boom out{first.azimuth.value(), first.raised.value()};
    if (loading_ == nullptr || (loading_->gear != g.name && !loading_->gear.empty())) return out;
    if (loading_->boom) out.azimuth = loading_->boom->value();
    if (loading_->raised) out.raised = loading_->raised->value();
    return out;
  }

  [[nodiscard]] static Spot tip_of(const Downrigger& d, const Stand& stand, const Boom& b) {
    const double length = d.boom_length.value();
    const double reach = std::cos(b.raised) * length;
    return stand.at(-std::cos(b.azimuth) * reach, std::sin(b.azimuth) * reach,
                    d.tip_height.value() + std::sin(b.raised) * length);
  }

  [[nodiscard]] static Spot rim_of(const RodHolder& r, const Stand& stand) {
    return stand.at(r.forward.value(), r.outboard.value(), r.height.value());
  }

  // Lean and azimuth are those of the boat, whatever the slope of the wall.
  [[nodiscard]] static Spot tube_axis(const RodHolder& r, const Stand& stand) {
    const double lean = r.lean.value();
    const double toward = r.toward.value();
    return {-std::sin(lean) * std::cos(toward), stand.side * std::sin(lean) * std::sin(toward),
            std::cos(lean)};
  }

  void put(std::vector<Spot> corners, const char* look, Set panels, Set views = everywhere,
           Solid::Form form = Solid::Form::hull) {
    Solid s;
    s.look = look;
    s.layer = Layer::gear;
    s.corners = std::move(corners);
    s.form = form;
    s.views = views;
    s.panels = panels;
    scene_.solids.push_back(std::move(s));
  }

  void downrigger(const Gear& g, const Stand& stand) {
    const Downrigger& d = *g.downrigger;
    const Boom shown = shown_boom(g);
    sector(g, stand);
    for (const Angle& a : d.boom_angles) {
      if (std::abs(a.value() - shown.azimuth) < 1e-6) continue;
      const Spot tip = tip_of(d, stand, {a.value(), shown.raised});
      const Spot foot = stand.at(0, 0, d.tip_height.value());
      put({foot, tip}, "hidden", whole, in_plan, Solid::Form::line);
    }
    foot(g, stand);
    const Spot head = stand.at(0, 0, d.tip_height.value());
    put(bar(stand.foot, head, boom_width), "gear", whole);
    put(bar(stand.foot, stand.at(0, 0, std::min(0.025, d.tip_height.value())), boom_width), "gear",
        cut_away);
    // The body of the winch is not described.
    const double high = std::max(0.02, d.mass_height.value());
    put(drum(stand.at(0, 0, 0.4 * high), 1.2 * high, winch_radius), "hidden", whole);
    put(bar(head, tip_of(d, stand, shown), boom_width), "gear", whole);
    const std::string boom = "boom " + show(d.boom_length, content_.setup.units);
    const Spot tip = tip_of(d, stand, shown);
    const Spot near = 0.7 * head + 0.3 * tip;
    const Spot far = 0.2 * head + 0.8 * tip;
    scene_.labels.push_back({{brief(g.name), boom}, near, "text", in_plan, whole, far});
    scene_.labels.push_back({{brief(g.name)}, near, "text", in_stern, whole, far});
    if (first_downrigger(g)) {
      const bool one = content_.setup.gear.size() == 1;
      const std::string name = one ? brief(g.name) : beside::word_for_kind(g);
      scene_.labels.push_back({{name}, near, "text", in_side, whole, far});
    }
    if (first_downrigger(g)) {
      for (const View v : {View::side, View::stern}) {
        scene_.dimensions.push_back(
            {stand.foot, head, show(d.tip_height, content_.setup.units), v, true, whole});
      }
    }
  }

  // Two alike share a dimension, and a name where one hides the other.
  [[nodiscard]] bool first_downrigger(const Gear& g) const {
    for (const Gear& other : content_.setup.gear) {
      if (!other.downrigger) continue;
      return &other == &g;
    }
    return false;
  }

  void foot(const Gear& g, const Stand& stand) {
    if (!g.foot) return;
    std::vector<Spot> corners;
    for (const PlanPoint& p : g.foot->outline) {
      corners.push_back(stand.at(p.x.value(), p.y.value(), 0));
      corners.push_back(stand.at(p.x.value(), p.y.value(), 0.01));
    }
    put(corners, "gear", both_panels);
  }

  void sector(const Gear& g, const Stand& stand) {
    const Downrigger& d = *g.downrigger;
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const Angle& a : d.boom_angles) {
      low = std::min(low, a.value());
      high = std::max(high, a.value());
    }
    if (!(high - low > 1e-6)) return;
    const double reach = d.boom_length.value();
    const Spot middle = stand.at(0, 0, d.tip_height.value());
    const std::vector<Wedge> wedges = wedges_of(g.name, low, high);
    for (const Wedge& w : wedges) {
      put(fan(middle, 0.25 * reach, 0.9 * reach, stand.side * w.from, stand.side * w.to),
          look_of(w.holds), whole, in_plan, Solid::Form::outline);
    }
    for (const BoomRow& row : content_.booms) {
      if (row.gear != g.name || !row.allowed) continue;
      // Beside the boom itself, which lies on the azimuth.
      const double a = row.azimuth.value();
      const double at = stand.side * (a + (a < 0.5 * (low + high) ? 0.13 : -0.13));
      const Spot out{-0.78 * reach * std::cos(at), 0.78 * reach * std::sin(at), 0};
      scene_.signs.push_back({boom_mark(content_.assessment, row), middle + out});
    }
    if (!wedges.empty()) return;
    put(fan(middle, 0.25 * reach, 0.9 * reach, stand.side * low, stand.side * high), "sector",
        whole, in_plan, Solid::Form::outline);
  }

  [[nodiscard]] const char* look_of(bool holds) const {
    if (!holds) return "forbidden";
    return content_.assessment.verdict == Verdict::no_verdict ? "unknown" : "sector";
  }

  struct Wedge {
    double from = 0;
    double to = 0;
    bool holds = false;
  };

  // Half way to the next row on either side, within the sector; neighbours alike are one.
  [[nodiscard]] std::vector<Wedge> wedges_of(const std::string& gear, double low,
                                             double high) const {
    std::vector<std::pair<double, bool>> rows;
    for (const BoomRow& r : content_.booms) {
      const double a = r.azimuth.value();
      if (r.gear == gear && a > low - 1e-6 && a < high + 1e-6) {
        rows.emplace_back(a, r.worst_ratio >= 1);
      }
    }
    std::sort(rows.begin(), rows.end());
    std::vector<Wedge> out;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const double from = i == 0 ? low : 0.5 * (rows[i - 1].first + rows[i].first);
      const double to = i + 1 == rows.size() ? high : 0.5 * (rows[i].first + rows[i + 1].first);
      if (out.empty() || out.back().holds != rows[i].second) {
        out.push_back({from, to, rows[i].second});
      } else {
        out.back().to = to;
      }
    }
    return out;
  }

  void rod(const Gear& g, const Stand& stand) {
    const RodHolder& r = *g.rod_holder;
    const Spot rim = rim_of(r, stand);
    const Spot axis = tube_axis(r, stand);
    // No deeper than to the wall.
    const double room = axis.z > 0.05 ? 0.9 * r.height.value() / axis.z : least_tube;
    const double depth = std::min(r.tube_depth.value() > 0 ? r.tube_depth.value() : least_tube,
                                  std::max(room, 0.03));
    const Spot bottom = rim + -depth * axis;
    put(bar(bottom, rim, tube_width), "hidden", both_panels);
    put({stand.foot, rim}, "hidden", both_panels, everywhere, Solid::Form::line);
    const bool whole_rod = shown_whole(g);
    const double length = whole_rod ? r.rod_length.value() : broken_off(r);
    const Spot tip = rim + length * axis;
    put(bar(rim, tip, rod_width), "gear", whole);
    Solid stub;
    stub.look = "gear";
    stub.layer = Layer::gear;
    stub.corners = bar(rim, rim + std::min(0.06, r.rod_length.value()) * axis, rod_width);
    stub.panels = cut_away;
    scene_.solids.push_back(stub);
    const std::string rod = "rod " + show(r.rod_length, content_.setup.units);
    const std::string drawn = whole_rod ? rod : rod + ", cut";
    scene_.labels.push_back({{brief(g.name), drawn},
                             0.8 * rim + 0.2 * tip,
                             "text",
                             everywhere,
                             whole,
                             0.2 * rim + 0.8 * tip});
    scene_.labels.push_back({{"rod, broken off"},
                             rim + std::min(0.05, r.rod_length.value()) * axis,
                             "note",
                             everywhere,
                             cut_away});
    for (const View v : {View::side, View::stern}) {
      scene_.dimensions.push_back(
          {stand.foot, rim, show(r.height, content_.setup.units), v, true, detail});
    }
  }

  // A rod that nothing of the worst case pulls would only make all else small.
  [[nodiscard]] bool shown_whole(const Gear& g) const {
    const LoadCase* c = load_case();
    if (c == nullptr) return !content_.setup.on_board();
    return loading_->gear == g.name && c->path == LoadPath::line;
  }
  [[nodiscard]] static double broken_off(const RodHolder& r) {
    return std::min(r.rod_length.value(), shortest_rod);
  }

  void plain_load(const Gear& g, const Stand& stand) {
    const Position<Base>& p = g.plain_load->at;
    const Spot at = stand.at(p.x().value(), p.y().value(), p.z().value());
    put(bar(stand.foot, at, 0.01), "gear", whole);
    scene_.labels.push_back({{brief(g.name)}, at, "text", everywhere, whole});
  }

  Scene& scene_;
  const SheetContent& content_;
  const Loading* loading_;
};

}  // namespace

void add_gear(Scene& scene, const SheetContent& content, const std::vector<Stand>& stands) {
  GearScene out(scene, content);
  for (std::size_t i = 0; i < stands.size(); ++i) out.add(content.setup.gear[i], stands[i]);
  out.add_pull(stands);
}

html::Mark boom_mark(const Assessment& a, const BoomRow& row) {
  if (!(row.worst_ratio >= 1)) return html::Mark::cross;
  // A row knows its own figures, neither refusals nor what was assumed.
  if (a.verdict == Verdict::no_verdict) return html::Mark::question;
  return a.verdict == Verdict::holds ? html::Mark::tick : html::Mark::triangle;
}

std::optional<Worst> worst_of(const SheetContent& content) {
  if (content.assessment.checks.empty()) return std::nullopt;
  const CheckResult& c = content.assessment.checks.front();
  Worst out;
  out.words = c.gives_way;
  out.in_short = c.gives_way;
  if (c.standing == Standing::refused) out.words += ": no figure";
  return out;
}

}  // namespace thole::scene
