#include "core/plate_engine.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>

#include "core/assessment_parts.hpp"
#include "core/geometry.hpp"
#include "core/load_list.hpp"

namespace thole::plate {

using namespace literals;

namespace {

// How stiff the bed is against the fasteners is a guess: (stiffness of all fasteners) / (bed
// stiffness x contact area) from a hard to a soft bed. Every check takes its bad end (judgement).
constexpr std::array bed_softness{0.05, 0.25, 1.0};
// Wood gives across the grain, panels bend, pads give: softer beds too (judgement).
constexpr std::array soft_bed_softness{0.05, 0.25, 1.0, 4.0};
// Fasteners of the second kind against those of the first (judgement).
constexpr std::array alike{1.0};
constexpr std::array unlike{0.25, 1.0, 4.0};

std::span<const double> bed_softness_of(const GunwalePlate& m) {
  const Bedding bedding = m.fastening.assembly.bedding.value_or(Bedding::none);
  const bool pad = bedding != Bedding::none && bedding != Bedding::sealant;
  if (m.host.is_metal() && !pad) return bed_softness;
  return soft_bed_softness;
}
const LinearStiffness fastener_stiffness = LinearStiffness::from_value(8e6);
// Bed for the bending of the base: that of the solid models behind `flexible_base_factor`.
const BedStiffness bed_for_flex = BedStiffness::from_value(20e9);

BaseLoad& operator+=(BaseLoad& a, const BaseLoad& b) {
  a.force += b.force;
  a.moment += b.moment;
  return a;
}

BaseLoad operator+(BaseLoad a, const BaseLoad& b) { return a += b; }

BaseLoad operator*(double s, const BaseLoad& b) { return {s * b.force, s * b.moment}; }

bool acts(const BaseLoad& b) { return b.force.norm().value() > 0 || b.moment.norm().value() > 0; }

LoadPath path_of(const Gear& g, LoadPath path) {
  if (path == LoadPath::rim || path == LoadPath::post) return path;
  return g.downrigger ? LoadPath::tip : g.rod_holder ? LoadPath::line : LoadPath::point;
}

std::size_t positions_of(const Gear& g) { return g.downrigger ? g.downrigger->positions() : 1; }

// Every position of each with every one of the others, the first the slowest.
std::vector<Booms> every_one_of(const std::vector<std::size_t>& ways) {
  std::vector<Booms> out{{}};
  for (const std::size_t n : ways) {
    std::vector<Booms> longer;
    for (const Booms& b : out) {
      for (std::size_t k = 0; k < n; ++k) {
        longer.push_back(b);
        longer.back().push_back(k);
      }
    }
    out = std::move(longer);
  }
  return out;
}

// "1/4-20 through bolts"
std::string name_of(const Fastening& f) {
  return f.thread.name + " " + std::string(plural_of(f.hold));
}

// How wide what holds the wall at a fastener is.
Length grip_of(const Fastening& f) {
  if (f.hold != HoldBy::through_bolt) return f.thread.diameter;
  return f.washer ? f.washer->outside : f.thread.head_across_flats;
}

bool same_piece(const Backing& a, const Backing& b) {
  return a.metal.name == b.metal.name && a.thickness == b.thickness && a.fore_aft == b.fore_aft &&
         a.athwart == b.athwart;
}

Fastening all_as(Fastening one, const Fastening& a, const Fastening& b) {
  one.holes = a.holes;
  one.holes.insert(one.holes.end(), b.holes.begin(), b.holes.end());
  one.rows_along_sides = a.rows_along_sides && b.rows_along_sides;
  one.head = std::min(a.head, b.head);
  // Two pieces behind the wall tie nothing of the other kind.
  if (!a.backing || !b.backing || !same_piece(*a.backing, *b.backing)) one.backing.reset();
  return one;
}

// All fasteners as those that hold the host less well, for what bends it: of screws in wood and
// bolts the screws, of two screws the shorter, else those of the smaller grip.
Fastening all_as_weaker(const Fastening& a, const Fastening& b) {
  if (a.screw && b.screw) return all_as(a.length <= b.length ? a : b, a, b);
  if (a.screw || b.screw) return all_as(a.screw ? a : b, a, b);
  return all_as(grip_of(a) <= grip_of(b) ? a : b, a, b);
}

// All fasteners as those that need more room, for what tears or stands too near: rivets 3 D, all
// others 2.5 D.
Fastening all_as_wider(const Fastening& a, const Fastening& b) {
  const auto room = [](const Fastening& f) {
    return Length((f.rivet ? 3.0 : 2.5) * geometry::widest_hole(f));
  };
  return all_as(room(a) >= room(b) ? a : b, a, b);
}

bool asks_for_room(const FailureMode& m) {
  return m.group == "distance" || m.group == "metal rupture";
}

// A fastener well inside one part of the bed: any force and any moment is then a sum of pushes of
// the bed and pulls of that fastener (a motion that lifts no part of the bed in lifts the fastener,
// which may not lift, so that it is none).
bool is_held_by_any(const std::vector<Outline>& bed, const std::vector<PlanPoint>& fasteners) {
  const auto well_inside = [](const Outline& o, const PlanPoint& p) {
    const double margin = 0.02 * std::sqrt(area_of(o).value());
    for (std::size_t i = 0; i < o.size(); ++i) {
      const PlanPoint& a = o[i];
      const PlanPoint& b = o[(i + 1) % o.size()];
      const double x = (b.x - a.x).value();
      const double y = (b.y - a.y).value();
      const double turn = x * (p.y - a.y).value() - y * (p.x - a.x).value();
      if (!(turn >= margin * std::hypot(x, y))) return false;
    }
    return true;
  };
  return std::any_of(bed.begin(), bed.end(), [&](const Outline& o) {
    return !o.empty() && std::any_of(fasteners.begin(), fasteners.end(),
                                     [&](const PlanPoint& p) { return well_inside(o, p); });
  });
}

}  // namespace

InPlane::InPlane(const std::vector<PlanPoint>& fasteners,
                 const std::vector<LinearStiffness>& stiffness) {
  double all = 0;
  for (const LinearStiffness& k : stiffness) all += k.value();
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    each_.push_back({stiffness[i].value() / all, fasteners[i].x.value(), fasteners[i].y.value()});
    cx_ += each_.back().weight * each_.back().x;
    cy_ += each_.back().weight * each_.back().y;
  }
  double polar = 0;
  for (One& o : each_) {
    o.x -= cx_;
    o.y -= cy_;
    polar += o.weight * (o.x * o.x + o.y * o.y);
  }
  one_point_ = double(each_.size()) * polar <= 1e-18;
  for (One& o : each_) {
    o.x = one_point_ ? 0 : o.x / polar;
    o.y = one_point_ ? 0 : o.y / polar;
  }
}

bool InPlane::share(const ForceVector<Base>& force, Moment mz, PlaneForce* out) const {
  const double fx = force.x().value();
  const double fy = force.y().value();
  const double twist = mz.value() - (cx_ * fy - cy_ * fx);
  if (one_point_ && std::abs(twist) > 1e-9 * (std::abs(mz.value()) + 1e-12)) return false;
  for (std::size_t i = 0; i < each_.size(); ++i) {
    const One& o = each_[i];
    out[i] = {Force::from_value(o.weight * (fx - twist * o.y)),
              Force::from_value(o.weight * (fy + twist * o.x))};
  }
  return true;
}

Category category_of_limits(LoadPath path, bool full_factors) {
  return full_factors && path != LoadPath::tip ? Category::everyday : Category::occasional;
}

Engine::Engine(const Setup& s, const KnownLoads* known) : setup_(s) {
  fasteners_ = s.plate().fastening.holes;
  if (s.plate().second) {
    const auto& more = s.plate().second->holes;
    fasteners_.insert(fasteners_.end(), more.begin(), more.end());
  }
  base_.count = int(fasteners_.size());
  base_.life = known != nullptr ? known->life : fatigue_life_of(s);
  accident_least_ = s.required_factors.at("metal yield in an accident").measure.si;
  growth_ = base_growth();
  if (s.plate().bracket) {
    curls_ =
        bracket::curls_of(s.plate(), fasteners_, fastener_stiffness, bed_softness_of(s.plate()));
  }
  make_contacts();
  make_stages();
  for (const Gear& g : s.gear) {
    auto& rest = at_rest_.emplace_back();
    auto& tow = towing_.emplace_back();
    const PullRange wire = known != nullptr ? known->towing[towing_.size() - 1]
                           : g.downrigger   ? trolling_pull(*g.downrigger, s)
                                            : PullRange{};
    for (std::size_t boom = 0; boom < positions_of(g); ++boom) {
      rest.push_back(weight_load(s.plate(), g, Shake{}, Ball::in_the_water, boom));
      tow.push_back(towing(g, wire, boom));
    }
  }
}

void Engine::make_contacts() {
  const GunwalePlate& m = setup_.plate();
  const std::vector<Outline> bed = geometry::bed_of(m);
  Area area{};
  for (const Outline& o : bed) area += area_of(o);
  const std::size_t first = m.fastening.holes.size();
  const std::span<const double> ratios =
      m.second ? std::span<const double>(unlike) : std::span<const double>(alike);
  for (const double softness : bed_softness_of(m)) {
    for (const double ratio : ratios) {
      std::vector<LinearStiffness> each(fasteners_.size(), fastener_stiffness);
      for (std::size_t i = first; i < each.size(); ++i) each[i] = ratio * fastener_stiffness;
      LinearStiffness all{};
      for (const LinearStiffness& k : each) all += k;
      contacts_.emplace_back(bed, BedStiffness(all / (softness * area)), fasteners_, each);
      in_plane_.emplace_back(fasteners_, each);
      if (!m.bracket || !m.bracket->fitting) continue;
      const Fitting& f = *m.bracket->fitting;
      const double n = double(f.fastening.holes.size());
      fitting_contacts_.emplace_back(
          f.foot.outline,
          BedStiffness(n * fastener_stiffness / (softness * area_of(f.foot.outline))),
          f.fastening.holes, fastener_stiffness);
    }
  }
  starts_.resize(contacts_.size());
  never_moves_ = is_held_by_any(bed, fasteners_) &&
                 (geometry::is_clasped(m) || !in_plane_.front().one_point());
  if (!m.bracket || !m.bracket->fitting) return;
  const Fitting& f = *m.bracket->fitting;
  fitting_in_plane_.emplace(f.fastening.holes, std::vector<LinearStiffness>(
                                                   f.fastening.holes.size(), fastener_stiffness));
  never_moves_ = never_moves_ && is_held_by_any({f.foot.outline}, f.fastening.holes) &&
                 !fitting_in_plane_->one_point();
}

void Engine::make_stages() {
  const GunwalePlate& m = setup_.plate();
  const auto see = [&](GunwalePlate plate) {
    Setup& v = views_.emplace_back(setup_);
    v.mount = std::move(plate);
    return &v;
  };
  const auto add = [&](Stage s) {
    stages_.push_back(std::move(s));
    Actions a = base_;
    a.count = int(stages_.back().view->plate().fastening.holes.size());
    acting_.push_back(a);
    add_modes(stages_.size() - 1);
  };
  std::vector<std::size_t> all(fasteners_.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  if (!m.second) {
    add({.part = "", .view = &setup_, .items = all});
  } else {
    const auto middle = all.begin() + std::ptrdiff_t(m.fastening.holes.size());
    GunwalePlate one = m;
    one.second.reset();
    add({.part = name_of(m.fastening),
         .view = see(one),
         .items = {all.begin(), middle},
         .base = Sees::none});
    one.fastening = *m.second;
    add({.part = name_of(*m.second),
         .view = see(one),
         .items = {middle, all.end()},
         .base = Sees::none});
    one.fastening = all_as_weaker(m.fastening, *m.second);
    add({.part = "", .view = see(one), .items = all, .base = Sees::bends, .own_fasteners = false});
    one.fastening = all_as_wider(m.fastening, *m.second);
    add({.part = "", .view = see(one), .items = all, .base = Sees::room, .own_fasteners = false});
  }
  if (m.bracket && m.bracket->fitting) {
    add({.part = m.bracket->fitting->name,
         .view = see(geometry::stand_of(m)),
         .items = {},
         .fitting = true});
  }
}

void Engine::add_modes(std::size_t stage) {
  const Stage& st = stages_[stage];
  for (const FailureMode& m : catalogue()) {
    if (!is_of_host(m, *st.view)) continue;
    const bool of_base = m.whole_base && st.base != Sees::none &&
                         (st.base == Sees::all || asks_for_room(m) == (st.base == Sees::room));
    const bool of_kind = (!m.whole_base || m.by_kind) && st.own_fasteners;
    if (!of_base && !of_kind) continue;
    // Pull on a fitting and pressure of the bracket make up the couple: no fold, no torque of it
    // alone.
    if (st.fitting && m.whole_host) continue;
    Standby w;
    w.mode = &m;
    w.stage = stage;
    w.part = st.part;
    w.applicable = m.applies(*st.view);
    const parts::GroupFactor f = parts::group_factor(setup_, m);
    w.needed = f.needed;
    w.full = f.full;
    w.lowered = f.lowered;
    // What a further part has nothing of is no news.
    if (stage > 0 && w.applicable.standing == Standing::not_concerned) continue;
    if (w.applicable.standing == Standing::applies) modes_.push_back(w);
    all_.push_back(w);
  }
}

std::vector<Booms> Engine::booms() const {
  std::vector<std::size_t> ways;
  for (const auto& positions : at_rest_) ways.push_back(positions.size());
  return every_one_of(ways);
}

BaseLoad Engine::weights(const Booms& booms) const {
  BaseLoad out;
  for (std::size_t i = 0; i < booms.size(); ++i) out += at_rest_[i][booms[i]];
  return out;
}

bool Engine::load_alike(std::size_t a, std::size_t b) const {
  const auto& x = setup_.gear[a].downrigger;
  const auto& y = setup_.gear[b].downrigger;
  if (!x || !y || x->positions() != y->positions()) return false;
  const auto same = [](const BaseLoad& p, const BaseLoad& q) {
    return p.force.si_values() == q.force.si_values() &&
           p.moment.si_values() == q.moment.si_values();
  };
  if (post_of(*x).si_values() != post_of(*y).si_values()) return false;
  for (std::size_t boom = 0; boom < x->positions(); ++boom) {
    if (boom_tip(*x, boom).si_values() != boom_tip(*y, boom).si_values() ||
        !same(at_rest_[a][boom], at_rest_[b][boom]) || !same(towing_[a][boom], towing_[b][boom])) {
      return false;
    }
  }
  return true;
}

std::vector<Setting> Engine::beside(std::size_t gear) const {
  std::vector<Setting> out;
  for (const Booms& b : booms()) {
    const BaseLoad still = weights(b);
    out.push_back({{{gear, 1.0}}, b, still});
    BaseLoad others;
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      if (i != gear) others += towing_[i][b[i]];
    }
    if (acts(others)) out.push_back({{{gear, 1.0}}, b, still + others});
  }
  return out;
}

std::vector<Setting> Engine::rides(const LoadCase& c) const {
  // Booms point each its own way. Those that may be stowed any way point alike: weights that do
  // are the extremes of all that they make together.
  std::vector<std::size_t> ways;
  std::size_t as_one = 1;
  for (const Gear& g : setup_.gear) {
    const bool any_way = g.downrigger && !c.ball_on_tip && g.downrigger->stowed_angles.empty();
    if (any_way) as_one = stowed_angles(*g.downrigger).size();
    ways.push_back(!g.downrigger || any_way ? 1
                   : c.ball_on_tip          ? positions_of(g)
                                            : g.downrigger->stowed_angles.size());
  }
  std::vector<Setting> out;
  for (Booms b : every_one_of(ways)) {
    for (std::size_t way = 0; way < as_one; ++way) {
      for (std::size_t i = 0; i < b.size(); ++i) {
        if (ways[i] == 1) b[i] = way;  // of those with one it is that one
      }
      for (std::size_t k = 0; k < c.shakes.size(); ++k) {
        Setting s{{}, b, {}, k};
        for (std::size_t i = 0; i < b.size(); ++i) {
          s.steady += weight_load(setup_.plate(), setup_.gear[i], c.shakes[k],
                                  c.ball_on_tip ? Ball::on_tip : Ball::stowed, b[i]);
        }
        out.push_back(s);
      }
    }
  }
  return out;
}

std::vector<Setting> Engine::at_once(const LoadCase& c) const {
  std::vector<Setting> out;
  for (const Booms& b : booms()) {
    const BaseLoad still = weights(b);
    Setting all{{}, b, still};
    BaseLoad idle;
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      const double share =
          i < c.pulls.size() && c.pull.value() > 0 ? double(c.pulls[i] / c.pull) : 0.0;
      if (share > 0) {
        all.pulling.emplace_back(i, share);
      } else {
        idle += towing_[i][b[i]];
      }
    }
    all.steady += idle;
    out.push_back(all);
    // Each alone as well: together they may relieve one another.
    if (all.pulling.size() > 1 || acts(idle)) {
      for (const auto& one : all.pulling) out.push_back({{one}, b, still});
    }
  }
  return out;
}

std::vector<Setting> Engine::settings(const LoadCase& c) const {
  if (c.path == LoadPath::ride) return rides(c);
  std::vector<Setting> out;
  if (c.others == Others::together) {
    out = at_once(c);
  } else {
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      if (c.gear >= 0 && std::size_t(c.gear) != i) continue;
      for (const Setting& s : beside(i)) out.push_back(s);
    }
  }
  if (!(c.heave > 0)) return out;
  std::vector<Setting> heaving;
  for (const double by : {c.heave, -c.heave}) {
    for (Setting s : out) {
      s.steady += by * weights(s.booms);
      heaving.push_back(s);
    }
  }
  return heaving;
}

std::string Engine::describe(const Setting& s, int gear, LoadPath path,
                             const Direction<Boat>& d) const {
  std::string out;
  if (path == LoadPath::tip && !s.pulling.empty()) {
    const auto own = std::find_if(s.pulling.begin(), s.pulling.end(),
                                  [&](const auto& p) { return int(p.first) == gear; });
    const std::size_t i = own != s.pulling.end() ? own->first : s.pulling.front().first;
    out = parts::boom_words(*setup_.gear[i].downrigger, s.booms[i]);
  }
  return out + thole::describe(d);
}

std::vector<Direction<Boat>> Engine::jumps(std::span<const Setting> settings, LoadPath path) const {
  std::vector<Direction<Boat>> out;
  if (path != LoadPath::line) return out;
  std::vector<bool> seen(setup_.gear.size(), false);
  for (const Setting& s : settings) {
    for (const auto& [gear, share] : s.pulling) {
      const auto& rod = setup_.gear[gear].rod_holder;
      if (!rod || seen[gear]) continue;
      seen[gear] = true;
      out.push_back(line_direction(rod->toward + degrees(180), degrees(90) - rod->lean));
    }
  }
  return out;
}

double Engine::worst_ratio(std::span<const Setting> settings, LoadPath path, Force pull,
                           const Direction<Boat>& d, const Standby* only, bool full_factors,
                           const Standby** which, const Setting** where) {
  double worst = infinite;
  const Category category = category_of_limits(path, full_factors);
  const auto visit = [&](const Acting& a) {
    const auto look = [&](const Standby& w) {
      if (!w.mode->needs_load || w.mode->fatigue) return;
      if (!full_factors && w.mode->spoils) return;  // nothing goes by a dent
      const double f = use(w, a, category).factor() / (full_factors ? full_factor(w, path) : 1.0);
      if (f >= worst) return;
      worst = f;
      if (which != nullptr) *which = &w;
      if (where != nullptr) *where = now_;
    };
    if (only != nullptr) return look(*only);
    for (const Standby& w : modes_) look(w);
  };
  return act(settings, path, pull, d, visit).empty() ? worst : 0;
}

void Engine::begin(const Setting& s, LoadPath path, Force pull, const Direction<Boat>& d) {
  base_.load = s.steady;
  const bool wire_or_line = path == LoadPath::line || path == LoadPath::tip;
  base_.way = path == LoadPath::ride ? FatigueWay::riding
              : wire_or_line         ? fatigue_way_of(d)
                                     : FatigueWay::straight;
  if (!(pull.value() > 0)) return;
  for (const auto& [gear, share] : s.pulling) {
    const Gear& g = setup_.gear[gear];
    base_.load +=
        pull_load(setup_.plate(), g, path_of(g, path), Force(share * pull), d, s.booms[gear]);
  }
}

std::string Engine::on_bed(std::size_t v, Start& start) {
  bed_now_ = v;
  Actions& a = base_;
  if (geometry::is_clasped(setup_.plate())) {
    // Turning is kept off by friction or a stop, not by what goes round a fitting or an edge.
    const double share = 1 / double(a.count);
    a.shear.fill({Force(share * a.load.force.x()), Force(share * a.load.force.y())});
  } else if (!in_plane_[v].share(a.load.force, Moment(a.load.moment.z()), a.shear.data())) {
    return "the base spins about its only fastener";
  }
  a.contact = &contacts_[v];
  contacts_[v].solve(a.load.force.z(), a.load.moment.x(), a.load.moment.y(), start.base, a.result);
  if (a.result.balance == Balance::mechanism) return a.result.motion;
  bracket::add_curl(curls_, a.load, growth_, a.result, a.tension.data());
  for (std::size_t k = 0; k < stages_.size(); ++k) {
    const Stage& st = stages_[k];
    Actions& out = acting_[k];
    if (st.fitting) {
      std::string motion = act_on_fitting(v, start.fitting, out);
      if (!motion.empty()) return motion;
      continue;
    }
    out.load = a.load;
    out.way = a.way;
    out.contact = a.contact;
    out.result = a.result;
    for (std::size_t i = 0; i < st.items.size(); ++i) {
      out.tension[i] = a.tension[st.items[i]];
      out.shear[i] = a.shear[st.items[i]];
    }
  }
  return "";
}

// The U-bolts draw the fitting up; it takes all that pushes or turns the bracket in its plane, at
// the height of what they go over.
std::string Engine::act_on_fitting(std::size_t v, ContactStart& start, Actions& out) {
  const Fitting& f = *setup_.plate().bracket->fitting;
  const Actions& a = base_;
  ForceVector<Base> force(a.load.force.x(), a.load.force.y(), Force{});
  const Position<Base> over(Length{}, Length{}, f.height);
  MomentVector<Base> moment = cross(over, force);
  moment += MomentVector<Base>(
      Moment{}, Moment{},
      Moment(a.load.moment.z() - (f.at.x * a.load.force.y() - f.at.y * a.load.force.x())));
  for (std::size_t i = 0; i < fasteners_.size(); ++i) {
    const ForceVector<Base> up(Force{}, Force{}, a.tension[i]);
    force += up;
    moment +=
        cross(Position<Base>(fasteners_[i].x - f.at.x, fasteners_[i].y - f.at.y, Length{}), up);
  }
  out.load = BaseLoad{force, moment};
  out.way = a.way;
  if (!fitting_in_plane_->share(force, Moment(moment.z()), out.shear.data())) {
    return "the " + f.name + " spins about its only fastener";
  }
  out.contact = &fitting_contacts_[v];
  fitting_contacts_[v].solve(force.z(), moment.x(), moment.y(), start, out.result);
  if (out.result.balance == Balance::mechanism) return f.name + ": " + out.result.motion;
  for (int i = 0; i < out.count; ++i)
    out.tension[std::size_t(i)] = out.result.tension[std::size_t(i)];
  return "";
}

Acting Engine::at_rest() const {
  Acting out;
  for (const Stage& s : stages_) {
    Actions a;
    a.count = int(s.view->plate().fastening.holes.size());
    out.push_back(a);
  }
  return out;
}

// What a gear does while another one is looked at: a downrigger trolls straight, its wire as flat
// as it comes, a rod with its line astern and 15 deg down, as on boards; a load of every day pulls
// in the middle of its range.
BaseLoad Engine::towing(const Gear& g, const PullRange& wire, std::size_t boom) const {
  const GunwalePlate& m = setup_.plate();
  if (g.plain_load) {
    if (g.plain_load->category != Category::everyday) return {};
    const DirectionRange& r = g.plain_load->range;
    return pull_load(
        m, g, LoadPath::point, Force(setup_.pull_scale * g.plain_load->pull),
        line_direction(0.5 * (r.azimuth_from + r.azimuth_to), 0.5 * (r.dip_from + r.dip_to)));
  }
  if (g.downrigger) {
    return pull_load(m, g, LoadPath::tip, Force(setup_.pull_scale * wire.greatest_tension),
                     line_direction(Angle{}, degrees(90) - wire.greatest_angle), boom);
  }
  const Force pull = setup_.pull_scale * load_list::running_pull(*g.rod_holder);
  return pull_load(m, g, LoadPath::line, pull, line_direction(Angle{}, 15.0_deg));
}

double Engine::base_growth() const {
  const BasePlate& b = setup_.plate().base;
  // Lever from the foot of the body to the farthest fastener line, and on to the edge.
  const Length half = b.body ? 0.5 * *b.body : Length{};
  double growth = 1;
  const auto grow = [&](Length lever, Length beyond, Length diameter) {
    if (!(lever.value() > 0)) return;
    growth = std::max(growth, b.metal ? flexible_base_factor(b.thickness, b.metal->modulus, lever,
                                                             beyond, diameter, bed_for_flex)
                                            .factor
                                      : prying_bound(lever, beyond, diameter));
  };
  const auto diameter_of = [&](std::size_t i) {
    const GunwalePlate& m = setup_.plate();
    return i < m.fastening.holes.size() ? m.fastening.thread.diameter : m.second->thread.diameter;
  };
  if (setup_.plate().bracket) {
    // See `bracket::curls_of`; here the bound of prying where the metal is not known.
    if (b.metal) return growth;
    const Bracket& bracket = *setup_.plate().bracket;
    const Length foot = 0.5 * bracket.gear_width;
    const Angle turned = b.sides_turned.value_or(Angle{});
    const double c = std::cos(radians(turned));
    const double n = std::sin(radians(turned));
    for (const auto& axis : {std::pair{c, n}, std::pair{-n, c}}) {
      const auto along = [&](const PlanPoint& p) {
        return Length(axis.first * (p.x - bracket.gear_at.x) +
                      axis.second * (p.y - bracket.gear_at.y));
      };
      for (std::size_t i = 0; i < fasteners_.size(); ++i) {
        const double way = along(fasteners_[i]).value() > 0 ? 1 : -1;
        const Length at = way * along(fasteners_[i]);
        Length edge{};
        for (const PlanPoint& corner : b.outline)
          edge = std::max<Length>(edge, way * along(corner));
        grow(at - foot, edge - at, diameter_of(i));
      }
    }
    return growth;
  }
  for (std::size_t i = 0; i < fasteners_.size(); ++i) {
    const PlanPoint& p = fasteners_[i];
    const Length diameter = diameter_of(i);
    if (!b.sides_turned) {
      grow(std::hypot(p.x.value(), p.y.value()) * si::metre - half,
           geometry::to_outline_edge(b.outline, p), diameter);
      continue;
    }
    const double c = std::cos(radians(*b.sides_turned));
    const double n = std::sin(radians(*b.sides_turned));
    for (const auto& axis : {std::pair{c, n}, std::pair{-n, c}}) {
      const Length at = abs(Length(axis.first * p.x + axis.second * p.y));
      Length edge{};
      for (const PlanPoint& corner : b.outline) {
        edge = std::max(edge, Length(axis.first * corner.x + axis.second * corner.y));
      }
      grow(at - half, edge - at, diameter);
    }
  }
  return growth;
}

}  // namespace thole::plate
