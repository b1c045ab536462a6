#include "report/tightening_block.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "report/text.hpp"

namespace thole::tightening {

using namespace literals;

namespace {

std::string significant(double v, Rounding r) {
  if (!std::isfinite(v)) return "?";
  if (!(v > 0)) return "0";
  const int digits = 1 - int(std::floor(std::log10(v)));
  const double scale = std::pow(10.0, digits);
  const double x = v * scale;
  double whole = r == Rounding::down ? std::floor(x + 1e-9)
                 : r == Rounding::up ? std::ceil(x - 1e-9)
                                     : std::round(x);
  return fmt::format("{:.{}f}", whole / scale, std::max(0, whole >= 100 ? digits - 1 : digits));
}

// "hold-downs", "bolts of the ledge".
std::string plural(Fastened f) {
  switch (f) {
    case Fastened::base:
      return "base";
    case Fastened::ledge:
      return "ledge bolts";
    case Fastened::hold_down:
      return "hold-downs";
    case Fastened::gear:
      return "gear bolts";
  }
  throw InternalError("a kind of fastening without a plural");
}

bool only_of_its_kind(const Assessment& a, const TighteningRow& row) {
  return std::count_if(a.tightening.begin(), a.tightening.end(),
                       [&](const TighteningRow& r) { return r.what == row.what; }) == 1;
}

std::string lock_in_short(const TighteningRow& r) {
  if (r.locking.value_or(Locking::none) != Locking::none) return "";
  const std::size_t end = r.lock.find_first_of(",;");
  return r.lock.substr(0, end);
}

std::string layers(const TighteningRow& r, ReaderUnits u) {
  std::string out;
  for (const TighteningLimit& l : r.limits) {
    out += (out.empty() ? "" : "; ") + l.layer + " " + torque(l.torque, u, Rounding::down) + " (" +
           about(l.preload, u, Rounding::down) + ")";
  }
  return out;
}

}  // namespace

std::string called(const Assessment& a, const TighteningRow& r) {
  if (only_of_its_kind(a, r) || r.names.empty()) return plural(r.what);
  return text::joined(r.names) + (r.what == Fastened::hold_down ? "" : " bolts");
}

std::string state(const TighteningRow& r) {
  return !r.lubricated   ? "oiled or dry, nobody said: both ends are taken"
         : *r.lubricated ? "oiled"
                         : "dry";
}

std::string stays(const TighteningRow& r, ReaderUnits u) {
  const std::string keeps =
      "cannot be kept tight by tightening: locking and tightening again keep it";
  if (!r.floor) return r.holds_preload ? "no load known: no least torque" : keeps;
  const std::string load = "under the " + about(*r.separating, u, Rounding::up) + " that " +
                           r.separating_from + " pull on one";
  const std::string least = torque(*r.floor, u, Rounding::up);
  if (r.kept_tight) return "from " + least + " on it stays closed " + load;
  std::string t = "to stay closed " + load + " it would need " + least + ": ";
  if (r.floor_oiled && *r.floor_oiled <= *r.ceiling) {
    return t + "not to be kept tight as it is, but with oiled threads (lubricated: yes) from " +
           torque(*r.floor_oiled, u, Rounding::up) + " on";
  }
  return t + keeps;
}

bool in_all(const std::vector<TighteningRow>& rows, const std::string& caution) {
  return rows.size() > 1 && std::all_of(rows.begin(), rows.end(), [&](const TighteningRow& r) {
           return std::find(r.cautions.begin(), r.cautions.end(), caution) != r.cautions.end();
         });
}

std::string torque(Moment m, ReaderUnits u, Rounding r) {
  if (u == ReaderUnits::metric) return significant(m.value(), r) + " N m";
  const double in_lbf = m / Moment(1.0_lbf * 1.0_in);
  if (in_lbf < 180) return significant(in_lbf, r) + " lbf in";
  return significant(in_lbf / 12, r) + " lbf ft";
}

// Judgement: a hand closes a screwdriver to about 1.5 N m, a short spanner in two fingers to 5 N m.
std::string feel(Moment m) {
  if (m.value() <= 1.5) return "a screwdriver's twist";
  if (m.value() <= 5) return "two fingers on a short spanner";
  if (m.value() <= 12) return "one hand on a short spanner";
  return "a torque wrench";
}

std::string on_screen(const Setup& s, const Assessment& a, bool brief) {
  const ReaderUnits u = s.units;
  if (a.tightening.empty()) return "";
  // The one that takes least; those without a figure come after.
  const TighteningRow* least = &a.tightening.front();
  for (const TighteningRow& r : a.tightening) {
    if (r.ceiling && (!least->ceiling || *r.ceiling < *least->ceiling)) least = &r;
  }
  const auto amount = [&](const TighteningRow& r, bool with_layer) {
    if (r.to == TightenTo::loose) return std::string("not at all, left with lift");
    if (r.to == TightenTo::snug) return "snug only (" + r.layer + ")";
    std::string t = "at most " + torque(*r.ceiling, u, Rounding::down);
    if (r.kept_tight) {
      t = torque(*r.floor, u, Rounding::up) + " to " + torque(*r.ceiling, u, Rounding::down);
    }
    return with_layer ? t + " (" + r.layer + ")" : t + ", " + feel(*r.ceiling);
  };
  const std::string lock = lock_in_short(*least);
  const std::string locks = lock.empty() ? "" : "; " + lock;
  if (a.tightening.size() == 1 && least->what == Fastened::base) {
    // The joint says already what the threads are in.
    std::string text =
        least->joint + ": " +
        (brief ? amount(*least, !least->layer.starts_with("threads")) : amount(*least, false));
    if (brief && least->ceiling && least->layer.starts_with("threads")) {
      text = least->joint + ": at most " + torque(*least->ceiling, u, Rounding::down);
    }
    return text + locks + "; look again after the first trip";
  }
  if (brief) return called(a, *least) + " " + amount(*least, true) + "; see --details";
  std::string text;
  for (const TighteningRow& r : a.tightening) {
    text += (text.empty() ? "" : "; ") + called(a, r) + " " + amount(r, true);
  }
  return text + locks + "; look again after the first trip";
}

std::vector<std::string> in_full(const Setup& s, const Assessment& a) {
  const ReaderUnits u = s.units;
  std::vector<std::string> out;
  if (a.tightening.empty()) return out;
  // What holds for every row is said once, at the end.
  for (const TighteningRow& r : a.tightening) {
    std::string t = called(a, r) + fmt::format(", {} x ", r.count) + r.joint + ": ";
    switch (r.to) {
      case TightenTo::torque:
        t += "at most " + torque(*r.ceiling, u, Rounding::down) + ", " + feel(*r.ceiling) +
             "; set by: " + r.layer;
        break;
      case TightenTo::snug:
        t += "snug only, until the parts touch all round (" + r.layer + ": " + r.why + ")";
        break;
      case TightenTo::loose:
        t += r.why;
        break;
    }
    t += "; " + stays(r, u) + ". ";
    if (r.to != TightenTo::loose) {
      t += (r.to == TightenTo::snug ? "Not above, in any case: "
                                    : "Each layer, with its preload: ") +
           layers(r, u) + "; threads " + state(r) +
           fmt::format(", K {} to {}", show_number(r.k.low), show_number(r.k.high)) +
           (r.engagement ? ", 0.15 where they strip the metal. " : ". ");
    }
    if (r.engagement) {
      const Engagement& e = *r.engagement;
      t += "Threads in " + show(e.drawing, u) + ": " + show_number(std::floor(e.threads * 10) / 10);
      if (e.lead_in.value() > 0) t += ", " + show(e.lead_in, u) + " lost to the lead-in";
      if (e.tolerance > 0) {
        t += fmt::format("; {} where the metal is {:.0f} % thinner than named (judgement)",
                         show_number(std::floor(e.least_threads * 10) / 10), 100 * e.tolerance);
      }
      t += (e.advice.empty() ? "" : "; " + e.advice) + ". ";
    }
    t += "Lock: " + r.lock + "; not counted. Tighten again " + text::joined(r.look_again) + ".";
    for (const std::string& c : r.cautions) {
      if (!in_all(a.tightening, c)) t += " " + text::sentence(c);
    }
    out.push_back(t);
  }
  std::string t;
  for (const std::string& c : a.tightening.front().cautions) {
    if (in_all(a.tightening, c)) t += text::sentence(c) + " ";
  }
  out.push_back(
      t +
      "By hand a torque gives its preload within 25 % either way; the ceilings take the "
      "slippery end, the floors the sticky one. A torque wrench or screwdriver, never a power "
      "driver. Nuts of the bolt's grade and full height; add what a locking nut needs to turn.");
  return out;
}

void write(Json& j, const std::vector<TighteningRow>& rows) {
  j.key("tightening").open('[');
  for (const TighteningRow& r : rows) {
    j.open('{');
    j.key("what").text(std::string(word_for(r.what)));
    j.key("names").texts(r.names);
    j.key("joint").text(r.joint);
    j.key("thread").text(r.thread.name);
    j.key("count").integer(r.count);
    j.key("lubricated");
    if (r.lubricated) {
      j.yes_no(*r.lubricated);
    } else {
      j.null();
    }
    j.key("locking").text(r.locking == Locking::nut             ? "nut"
                          : r.locking == Locking::thread_locker ? "thread_locker"
                                                                : "none");
    j.key("bedding");
    if (r.bedding) {
      j.text(std::string(word_for(*r.bedding)));
    } else {
      j.null();
    }
    j.key("to").text(r.to == TightenTo::torque ? "torque"
                     : r.to == TightenTo::snug ? "snug"
                                               : "loose");
    j.key("why").text(r.why);
    j.key("ceiling_Nm").maybe(r.ceiling);
    j.key("layer").text(r.layer);
    j.key("limits").open('[');
    for (const TighteningLimit& l : r.limits) {
      j.open('{');
      j.key("layer").text(l.layer);
      j.key("preload_N").number(l.preload.value());
      j.key("torque_Nm").number(l.torque.value());
      j.close('}');
    }
    j.close(']');
    j.key("nut_factor").open('[');
    j.number(r.k.low);
    j.number(r.k.high);
    j.close(']');
    j.key("holds_preload").yes_no(r.holds_preload);
    j.key("separating_N").maybe(r.separating);
    j.key("separating_from").text(r.separating_from);
    j.key("floor_Nm").maybe(r.floor);
    j.key("kept_tight").yes_no(r.kept_tight);
    j.key("engagement");
    if (r.engagement) {
      const Engagement& e = *r.engagement;
      j.open('{');
      j.key("drawing_m").number(e.drawing.value());
      j.key("tolerance").number(e.tolerance);
      j.key("lead_in_m").number(e.lead_in.value());
      j.key("threads").number(e.threads);
      j.key("least_threads").number(e.least_threads);
      j.key("advice").text(e.advice);
      j.close('}');
    } else {
      j.null();
    }
    j.key("lock").text(r.lock);
    j.key("look_again").texts(r.look_again);
    j.key("cautions").texts(r.cautions);
    j.close('}');
  }
  j.close(']');
}

}  // namespace thole::tightening
