#pragma once

/// How the parts list is put together. Private to the core.

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <thole/parts_list.hpp>

namespace thole::parts {

/// What one bolt or screw clamps, from its head on.
class Stack {
 public:
  explicit Stack(ReaderUnits units) : units_(units) {}
  void add(const std::string& layer, Length thickness);
  /// A layer that the file does not describe: its thickness is left to the shopper.
  void add_unknown(const std::string& layer);
  [[nodiscard]] Length known() const { return known_; }
  [[nodiscard]] const std::string& unknown() const { return unknown_; }
  [[nodiscard]] const std::string& words() const { return words_; }

 private:
  ReaderUnits units_;
  Length known_{};
  std::string unknown_;
  std::string words_;
};

/// Like fastenings with a nut.
struct Through {
  std::string head = "bolt";  ///< "bolt", "eye bolt (forged collar)"
  std::string of;             ///< "the base", "the ledges"
  Thread thread;
  FastenerMaterial material;
  int count = 0;
  Assembly assembly;
  std::string washer;       ///< in words, under the nut; "" for a plain one
  std::string head_washer;  ///< in words, under the head; "" for none
  bool assumed = false;
};

/// A piece to be cut from stock sold by length.
struct Cut {
  std::string what;
  std::string material;
  int count = 1;
  Length length{};
  Length width{};
  Length thickness{};
  std::string why;
  bool assumed = false;
  std::string section;  ///< as asked for in the store: "2x8", "angle 2 x 2 x 3/16 in"
  bool lumber = false;
  std::string market;  ///< of the store lengths
  Length on_top{};     ///< more of the stock than its length, for slanting cuts
};

class Builder {
 public:
  Builder(const Setup& setup, const MaterialLibrary& library) : setup_(setup), library_(library) {}

  [[nodiscard]] const Setup& setup() const { return setup_; }
  [[nodiscard]] const MaterialLibrary& library() const { return library_; }
  [[nodiscard]] ReaderUnits units() const { return setup_.units; }
  [[nodiscard]] std::string shown(Length v) const { return show(v, setup_.units); }
  [[nodiscard]] Stack stack() const { return Stack(setup_.units); }

  /// Whether a size at one of these paths below `under` is a guess.
  [[nodiscard]] bool guessed(const std::string& under,
                             std::initializer_list<std::string_view> keys) const;

  void row(PartRow row);
  void note(const std::string& text);
  void cut(const Cut& piece) { cuts_.push_back(piece); }
  /// A piece that no length of the stores is bought for; listed after those.
  void offcut(PartRow row) { offcuts_.push_back(std::move(row)); }
  /// A flat piece: bar of the stores where one has its width, else an offcut of sheet.
  void flat_piece(const std::string& what, const Metal& metal, Length along, Length across,
                  Length thickness, int count, const std::string& why, bool assumed);
  void plate_behind(const std::string& what, const Backing& backing, int count,
                    const std::string& why, bool assumed);
  /// Bolts with nuts and washers.
  void through(const Through& joint, const Stack& stack);
  /// Screws into threads, inserts or bare metal: `reach` is what they need beyond the stack.
  void screw(const std::string& head, const std::string& of, const Thread& thread,
             const FastenerMaterial& material, int count, const Stack& stack, Length reach,
             const std::string& reach_words, bool assumed);
  /// Count of small things beside the fasteners.
  void small(PartKind kind, const std::string& what, int count, const std::string& why,
             const std::string& shelf, const std::string& material = "");
  /// The same for several reasons, needed once: a tube, a tool, the sleeve of a bolt.
  void once(PartKind kind, const std::string& what, int count, const std::string& why);
  void tool(const std::string& what, const std::string& why) { once(PartKind::tool, what, 1, why); }

  [[nodiscard]] PartsList finish();

 private:
  void place_cuts();
  void fill_length(PartRow& row, const Thread& thread, Length least, const Stack& stack) const;

  const Setup& setup_;
  const MaterialLibrary& library_;
  std::vector<Cut> cuts_;
  std::vector<PartRow> offcuts_;
  PartsList list_;
};

/// Lengths of one kind of stock in one market, shortest first, as written in the table.
struct StoreLength {
  Length length{};
  std::string written;
};
[[nodiscard]] std::vector<StoreLength> store_lengths(const MaterialLibrary& library,
                                                     std::string_view of, std::string_view market);
/// How many pieces of `stock` hold the lengths, a saw kerf each; 0: the longest does not fit. A
/// piece as long as the stock needs no cut.
[[nodiscard]] int pieces_needed(std::vector<Length> lengths, Length stock);
/// Name and market of lumber of that section, however it lies.
struct Lumber {
  std::string name;
  std::string market;
};
[[nodiscard]] Lumber lumber_of(const MaterialLibrary& library, Length a, Length b,
                               ReaderUnits units);
/// "angle 2 x 2 x 3/16 in": of the table where it has the leg, else by its figures.
[[nodiscard]] std::string angle_of(const MaterialLibrary& library, Length leg, Length thickness,
                                   Length other_at_least, ReaderUnits units);
[[nodiscard]] std::string_view metal_market(ReaderUnits units);
/// "plain washer M8", "washer 1/4 fender 1": plain ones alike, wherever they come from.
[[nodiscard]] std::string washer_words(const std::string& name);
/// A washer of that outside diameter: of the tables, else a plate washer by its figure.
[[nodiscard]] std::string wide_washer(const MaterialLibrary& library, const Thread& thread,
                                      Length outside, ReaderUnits units);
/// What a washer in words may be thick: up to 6 mm for one of plate (judgement), else one of the
/// packs.
[[nodiscard]] Length thickness_of(const std::string& washer, const Thread& thread);

/// Each adds its part of the list.
void add_plate(Builder& b);
void add_board(Builder& b);
void add_between(Builder& b);  ///< what isolates, seals and locks
void add_safety(Builder& b);
void add_tools(Builder& b);

/// How many fasteners, plates or other pieces a part of `metal_pairs` stands for.
[[nodiscard]] int count_of(const Setup& setup, const std::string& part);

}  // namespace thole::parts
