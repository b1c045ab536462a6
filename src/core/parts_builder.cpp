// Rows of the parts list: bolts by what they clamp, counts, spares.

#include <algorithm>
#include <cmath>

#include "core/parts.hpp"
#include "core/stable_order.hpp"

namespace thole {
namespace {

constexpr double inch = 0.0254;

bool metric(const Thread& thread) {
  return !thread.name.empty() && (thread.name[0] == 'M' || thread.name[0] == 'S');
}

}  // namespace

Length nut_height(const Thread& thread) { return 1.2 * thread.diameter + 0.05 * inch * si::metre; }
Length washer_thickness(const Thread& thread) { return 0.27 * thread.diameter; }

std::optional<Length> store_bolt_length(const MaterialLibrary& library, const Thread& thread,
                                        Length least) {
  const Length hair = 1e-9 * si::metre;
  for (const auto& s : parts::store_lengths(library, "bolt", metric(thread) ? "metric" : "inch")) {
    if (s.length + hair >= least) return s.length;
  }
  return std::nullopt;
}

namespace parts {
namespace {

// In the units that bolts of this thread are sold in.
std::string sold(const Thread& thread, Length v) {
  return show(v, metric(thread) ? ReaderUnits::metric : ReaderUnits::inch);
}

// What may be left for a layer, never more than there is: whole millimetres or sixteenths.
std::string floored(Length v, ReaderUnits u) {
  const double step = u == ReaderUnits::inch ? inch / 16 : 1e-3;
  return show(std::floor(v.value() / step + 1e-9) * step * si::metre, u);
}

bool is_small(const PartRow& r) {
  for (const char* word : {"nut", "washer", "rivet", "sleeve", "insert", "weak link"}) {
    if (r.what.find(word) != std::string::npos) return true;
  }
  return false;
}

// One in ten, at least one, two of small ones; nothing of what is fitted one by one.
int spares(const PartRow& r) {
  if (r.kind == PartKind::tool) return 0;
  const bool spared = r.kind == PartKind::fastener || is_small(r);
  if (!spared || r.what.rfind("clamp", 0) == 0) return 0;
  return std::max((r.count + 9) / 10, is_small(r) ? 2 : 1);
}

bool alike(const PartRow& a, const PartRow& b) {
  return a.kind == b.kind && a.what == b.what && a.material == b.material && a.length == b.length &&
         a.width == b.width && a.thickness == b.thickness && a.stock == b.stock &&
         a.stock_count == 0 && b.stock_count == 0;
}

void join(std::string& words, const std::string& more) {
  if (more.empty() || words.find(more) != std::string::npos) return;
  words += (words.empty() ? "" : "; ") + more;
}

}  // namespace

void Stack::add(const std::string& layer, Length thickness) {
  if (!(thickness.value() > 0)) return;
  known_ += thickness;
  words_ += (words_.empty() ? "" : " + ") + layer + " " + show(thickness, units_);
}

void Stack::add_unknown(const std::string& layer) {
  unknown_ = layer;
  words_ += (words_.empty() ? "" : " + ") + layer + " (not in the file)";
}

bool Builder::guessed(const std::string& under,
                      std::initializer_list<std::string_view> keys) const {
  return std::any_of(setup_.inputs.begin(), setup_.inputs.end(), [&](const Input& i) {
    if (i.known != Knowledge::assumed || i.is_text) return false;
    return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) {
      return i.path == under + "." + std::string(key);
    });
  });
}

void Builder::row(PartRow r) {
  const auto same = std::find_if(list_.rows.begin(), list_.rows.end(),
                                 [&](const PartRow& other) { return alike(other, r); });
  if (same == list_.rows.end()) {
    list_.rows.push_back(std::move(r));
    return;
  }
  same->count += r.count;
  same->assumed = same->assumed || r.assumed;
  join(same->why, r.why);
}

void Builder::note(const std::string& text) {
  if (std::find(list_.notes.begin(), list_.notes.end(), text) == list_.notes.end()) {
    list_.notes.push_back(text);
  }
}

void Builder::small(PartKind kind, const std::string& what, int count, const std::string& why,
                    const std::string& shelf, const std::string& material) {
  if (count <= 0) return;
  PartRow r;
  r.kind = kind;
  r.what = what;
  r.material = material;
  r.count = count;
  r.why = why;
  r.shelf = shelf;
  row(std::move(r));
}

void Builder::once(PartKind kind, const std::string& what, int count, const std::string& why) {
  const auto has = std::find_if(list_.rows.begin(), list_.rows.end(),
                                [&](const PartRow& r) { return r.kind == kind && r.what == what; });
  if (has == list_.rows.end()) {
    small(kind, what, count, why, kind == PartKind::tool ? "tools" : "chandlery");
  } else {
    join(has->why, why);
  }
}

std::string washer_words(const std::string& name) {
  const std::string plain = " plain";
  const bool is_plain = name.size() > plain.size() &&
                        name.compare(name.size() - plain.size(), plain.size(), plain) == 0;
  return is_plain ? "plain washer " + name.substr(0, name.size() - plain.size()) : "washer " + name;
}

std::string wide_washer(const MaterialLibrary& library, const Thread& thread, Length outside,
                        ReaderUnits units) {
  for (const Entry& e : library.entries()) {
    if (e.kind != "washer") continue;
    const double off = e.values.at("outside").measure.si - outside.value();
    const double hole = e.values.at("hole").measure.si - thread.diameter.value();
    if (std::abs(off) < 2e-4 && hole > 0 && hole < 2e-3) return washer_words(e.name);
  }
  return "plate washer " + thread.name + ", " + show(outside, units) + " wide";
}

Length thickness_of(const std::string& washer, const Thread& thread) {
  if (washer.empty()) return {};
  const Length of_a_pack = washer_thickness(thread);
  return washer.rfind("plate", 0) == 0 ? std::max<Length>(6e-3 * si::metre, of_a_pack) : of_a_pack;
}

// One length where all layers are known; else two or three, each with what it leaves.
void Builder::fill_length(PartRow& r, const Thread& thread, Length least,
                          const Stack& stack) const {
  if (stack.unknown().empty()) {
    r.length = store_bolt_length(library_, thread, least);
    r.what += r.length ? " x " + sold(thread, *r.length)
                       : ", longer than stores have: at least " + sold(thread, least);
    return;
  }
  std::string choices;
  Length last{};
  const double step = metric(thread) ? 7e-3 : 0.25 * inch;
  for (int i = 1; i <= 3; ++i) {
    const auto l = store_bolt_length(library_, thread, least + i * step * si::metre);
    if (!l || *l == last) continue;
    last = *l;
    choices +=
        (choices.empty() ? "" : ", ") + sold(thread, *l) + " up to " + floored(*l - least, units());
  }
  r.assumed = true;
  r.what += choices.empty() ? ", longer than stores have" : ", length by " + stack.unknown();
  if (!choices.empty()) r.what += ": " + choices + " thick";
}

void Builder::through(const Through& j, const Stack& stack) {
  if (j.count <= 0) return;
  const std::string under_nut = j.washer.empty() ? "plain washer " + j.thread.name : j.washer;
  const Length washer = thickness_of(under_nut, j.thread);
  const Length under_head = thickness_of(j.head_washer, j.thread);
  const Length least =
      stack.known() + washer + under_head + nut_height(j.thread) + 2.0 * j.thread.pitch;
  PartRow bolt;
  bolt.kind = PartKind::fastener;
  bolt.what = j.head + " " + j.thread.name;
  bolt.material = j.material.name;
  bolt.count = j.count;
  bolt.shelf = "bolts";
  bolt.assumed = j.assumed;
  fill_length(bolt, j.thread, least, stack);
  bolt.why = j.of + ": " + stack.words() + " + washers, nut, two threads";
  row(std::move(bolt));

  const bool locker = j.assembly.locking == Locking::thread_locker;
  small(PartKind::fastener, (locker ? "nut " : "locknut ") + j.thread.name, j.count,
        locker ? "with thread locker" : "plastic ring or all-metal; a split washer is no lock",
        "bolts", j.material.name);
  small(PartKind::fastener, under_nut, j.count, j.of + ", under the nuts", "bolts",
        j.material.name);
  if (!j.head_washer.empty()) {
    small(PartKind::fastener, j.head_washer, j.count, j.of + ", under the heads", "bolts",
          j.material.name);
  }
}

void Builder::screw(const std::string& head, const std::string& of, const Thread& thread,
                    const FastenerMaterial& material, int count, const Stack& stack, Length reach,
                    const std::string& reach_words, bool assumed) {
  PartRow r;
  r.kind = PartKind::fastener;
  r.what = head + " " + thread.name;
  r.material = material.name;
  r.count = count;
  r.shelf = "bolts";
  r.assumed = assumed;
  fill_length(r, thread, stack.known() + reach, stack);
  r.why = of + ": " + stack.words() + " + " + reach_words;
  row(std::move(r));
}

PartsList Builder::finish() {
  place_cuts();
  for (PartRow& r : list_.rows) r.spare = spares(r);
  sort_stably(list_.rows,
              [](const PartRow& a, const PartRow& b) { return int(a.kind) < int(b.kind); });
  return std::move(list_);
}

}  // namespace parts
}  // namespace thole
