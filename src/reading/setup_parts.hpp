#pragma once

/// What the readers of the parts of a setup share. Private to reading.

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include <thole/error.hpp>
#include <thole/measuring.hpp>
#include <thole/setup.hpp>

#include "reading/fields.hpp"

namespace thole::reading {

/// Where the parts of a cross-board, and the gear of any mount, stand in the file: one node for
/// each item of the setup, so an item written once for both sides stands here twice.
struct BoardPlaces {
  const Node* port = nullptr;       ///< ledge
  const Node* starboard = nullptr;  ///< ledge
  std::vector<const Node*> hold_downs;
  std::vector<const Node*> legs;
  std::vector<const Node*> gear;
};

// ---- The parts
// -----------------------------------------------------------------------------------

/// The map `mount` of each kind; its key `kind` was asked for already. `weld`: take the strengths
/// of the weld zone.
[[nodiscard]] GunwalePlate read_plate(Fields& mount, const MaterialLibrary& library, bool weld);
[[nodiscard]] GunwalePlate read_bracket(Fields& mount, const MaterialLibrary& library, bool weld);
[[nodiscard]] CrossBoard read_board(Fields& mount, const MaterialLibrary& library, bool weld,
                                    BoardPlaces& places);

/// The list `gear`. A gear for both sides of a board becomes two. `water`: what a planer runs in.
[[nodiscard]] std::vector<Gear> read_gear(Fields& top, const MaterialLibrary& library,
                                          bool on_board, Density water, BoardPlaces& places);

// ---- Keys that several parts have
// ----------------------------------------------------------------

/// A metal by name, or written out in place with its source.
[[nodiscard]] std::optional<Metal> read_metal(Fields& at, const Key& key, bool needed,
                                              const MaterialLibrary& library, bool weld);

/// Keys of a base: `shape`, `fore_aft`, `athwart`, `diameter`, `outline` and `turned`. The outline
/// is turned already; `smaller_size` is that along its own sides.
struct BaseShape {
  Outline outline;
  Angle turn{};
  Length smaller_size{};
};
[[nodiscard]] BaseShape read_base_shape(Fields& f);

/// The map `holes`, not turned.
struct Holes {
  std::vector<PlanPoint> points;
  bool rows_along_sides = false;
};
[[nodiscard]] Holes read_holes(Fields& f);
void turn(std::vector<PlanPoint>& points, Angle by);

[[nodiscard]] Thread read_thread(Fields& f, const MaterialLibrary& library);
[[nodiscard]] FastenerMaterial read_fastener_material(Fields& f, const MaterialLibrary& library,
                                                      bool needed = true);
/// A plate or bar of its own key, as in `behind: {material, thickness, fore_aft, athwart}`; `where`
/// as in "behind the wall".
[[nodiscard]] std::optional<Backing> read_backing(Fields& f, const Key& key, bool needed,
                                                  const MaterialLibrary& library,
                                                  const std::string& where);

/// `washer` (a name) or `washer_diameter`; nothing when neither is given.
[[nodiscard]] std::optional<Length> read_washer_width(Fields& f, const MaterialLibrary& library,
                                                      const Thread& thread);

/// `hole` in the board; the clearance hole of the thread when left out.
[[nodiscard]] Length read_hole(Fields& f, const Thread& thread);

/// How to measure with a luggage scale, where a number that it gives is asked for.
namespace how = thole::how;

/// Lists a word that was left out among the inputs, as assumed.
void note_default(Fields& f, const Key& key, const std::string& value);

template <class Q>
requires requires { DimensionOf<Q>::value; }
void note_default(Fields& f, const Key& key, Q value) {
  if (f.describing() || f.has(key.name)) return;
  f.note_default(key, {value.value(), DimensionOf<Q>::value});
}

/// The keys `lubricated` and `locking` of a fastening.
[[nodiscard]] Assembly read_assembly(Fields& f);

/// yes or no; `otherwise` when left out.
[[nodiscard]] bool read_yes(Fields& f, const Key& key, bool otherwise);

/// One value or [from, to].
struct Range {
  double from = 0;
  double to = 0;
};
[[nodiscard]] std::optional<Range> read_range(Fields& f, const Key& key, Dimension dimension,
                                              Sign sign, bool needed = true);

/// The keys `azimuth` and `dip` of a load; `what` as in "of the load". Nothing unless both are
/// given and within their bounds.
[[nodiscard]] std::optional<DirectionRange> read_directions(Fields& f, const std::string& what,
                                                            bool needed);

enum class Sides { port, starboard, both };
/// The key `side`; nothing after a problem.
[[nodiscard]] std::optional<Sides> read_side(Fields& f);
[[nodiscard]] std::vector<Side> each(Sides sides);

/// A name that an item of the list has already gets a number.
template <class Item>
std::string unlike_others(const std::vector<Item>& others, const std::string& name) {
  const auto taken = [&](const std::string& n) {
    return std::any_of(others.begin(), others.end(), [&](const Item& o) { return o.name == n; });
  };
  std::string out = name;
  for (int i = 2; taken(out); ++i) out = name + " " + std::to_string(i);
  return out;
}

/// The owner's `name` of an item. One that a path could take for the number of an item is refused.
std::optional<Known<std::string>> read_name(Fields& f);

// ---- Complaints
// ----------------------------------------------------------------------------------

/// Complains about a key that was given.
void complain_at(Fields& f, std::string_view key, const std::string& message);
/// `gear.ball: "90 lb" ` and the text, at the value itself.
void complain_value(Fields& f, std::string_view key, const std::string& text);
/// Refuses a value that is no boat's: a slipped unit or digit. `bounds` as in "2 and 12 m".
template <class Q>
bool refuse_outside(Fields& f, std::string_view key, const std::optional<Known<Q>>& v, Q least,
                    Q most, const std::string& bounds) {
  if (!v || v->value.value() == 0) return false;  // missing, or refused when it was read
  const double hair = 1e-9 * std::max(std::abs(least.value()), std::abs(most.value()));
  if (v->value.value() >= least.value() - hair && v->value.value() <= most.value() + hair) {
    return false;
  }
  complain_value(f, key, "must lie between " + bounds);
  return true;
}
/// "mount.board.wall is missing: " and what it is.
void complain_missing(Fields& f, std::string_view key, const std::string& what);
/// A slipped unit here makes a mount look strong.
void refuse_thick(Fields& f, Length thickness);
/// Refuses what is longer than a small boat has; the text says what it would be.
void refuse_above(Fields& f, std::string_view key, Length value, Length most,
                  const std::string& text);

/// Keys that belong to some choices of another key only.
struct Owner {
  std::string_view key;
  std::vector<std::string_view> choices;
};
/// Complains about keys that do not belong to the choice; nothing when the choice is unknown.
void refuse_foreign(Fields& f, std::string_view what, const std::string& choice,
                    const std::vector<Owner>& owners);

/// A value that only some choices need: reports it missing, without making it needed in the schema.
template <class Q>
std::optional<Known<Q>> need_if(Fields& f, bool needed, const Key& key,
                                Sign sign = Sign::above_zero) {
  if (f.describing() || !needed) return f.optional<Q>(key, sign);
  if (f.has(key.name)) return f.optional<Q>(key, sign);
  (void)f.need<Q>(key, sign);
  return std::nullopt;
}

/// Names in tables: reports an unknown one at its place.
template <class Get>
auto look_up(Fields& at, std::string_view key, Get get) -> std::optional<decltype(get())> {
  const Node* n = at.node() != nullptr ? at.node()->find(key) : nullptr;
  const Node* is = n != nullptr && n->kind == Node::Kind::map ? n->find("is") : nullptr;
  const auto complain = [&](const std::exception& e) {
    if (n == nullptr) return;
    at.complain(is != nullptr ? *is : *n, at.path() + "." + std::string(key) + ": " + e.what());
  };
  try {
    return get();
  } catch (const UnknownName& e) {
    complain(e);
  } catch (const DomainError& e) {
    complain(e);
  }
  return std::nullopt;
}

/// A figure that no table has: {is, source}.
template <class Given = GivenStrength>
std::optional<Given> read_given(Fields& f, const Key& key) {
  using Quantity = decltype(Given::value);
  if (f.describing()) {
    (void)f.raw(
        key, false,
        "{\"description\": " + json_text(key.help) +
            R"(, "type": "object", "properties": {"is": {"type": "string"}, "source": {"type": "string"}}, "required": ["is", "source"], "additionalProperties": false})");
    return std::nullopt;
  }
  const std::string example(key.example.empty() ? "40 MPa" : key.example);
  const Node* node = f.raw(key, false, "");
  if (node != nullptr && node->kind != Node::Kind::map) {
    complain_at(f, key.name,
                ": a strength that no table has needs its source, as in {is: " + example +
                    ", source: test of the yard}");
    return std::nullopt;
  }
  if (node == nullptr) return std::nullopt;
  ObjectSchema unused;
  Fields g(f.reading(), node, f.path() + "." + std::string(key.name), &unused);
  const auto is = g.optional<Quantity>({"is", key.label, "least value of the tests"});
  if (!is && !g.has("is")) complain_missing(g, "is", "the strength, for example " + example);
  const auto source = g.text({"source", "source of the strength", "a test, a data sheet"}, false);
  if (!g.has("source")) {
    complain_missing(g, "source", "where the strength comes from: a test, a data sheet");
  } else if (source && source->value.find_first_not_of(' ') == std::string::npos) {
    complain_at(g, "source", ": empty; where does the strength come from?");
  }
  g.finish();
  if (!is || !source) return std::nullopt;
  if constexpr (std::is_same_v<Given, GivenStrength>) {
    if (is->value.value() > 1e9) complain_at(g, "is", ": above 1 GPa, no strength of a panel");
  }
  return Given{is->value, source->value};
}

/// The maps `host` and `base` of a mount that is no board. `turned`: how far its sides are.
[[nodiscard]] Host read_host(Fields& mount, const MaterialLibrary& library, bool weld);
[[nodiscard]] BasePlate read_base(Fields& mount, const MaterialLibrary& library, const Host& host,
                                  Angle& turned);

/// The map `fastening` on this host and base.
[[nodiscard]] Fastening read_fastening(Fields f, const MaterialLibrary& library,
                                       const GunwalePlate& on, Angle turned);

/// One of several maps, told apart by `key`, whose schema is `kind`.
[[nodiscard]] std::string one_of(const std::vector<ObjectSchema>& schemas);

}  // namespace thole::reading
