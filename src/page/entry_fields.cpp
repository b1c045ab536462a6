#include "page/entry_fields.hpp"

#include <algorithm>
#include <set>

#include <thole/known.hpp>
#include <thole/unit_text.hpp>

#include "reading/tree_edits.hpp"
#include "report/text.hpp"

namespace thole::page {
namespace {

using reading::AskedKey;
using reading::Node;
using Kind = reading::AskedKey::Kind;

std::string word_of(Dimension d) {
  switch (d) {
    case Dimension::length:
      return "length";
    case Dimension::force:
      return "force";
    case Dimension::mass:
      return "mass";
    case Dimension::angle:
      return "angle";
    case Dimension::number:
      return "number";
    default:
      return "text";
  }
}

std::string kind_of(const AskedKey& k) {
  if (k.kind == Kind::measure) return word_of(k.dimension);
  if (k.kind == Kind::number) return "number";
  if (k.kind != Kind::choice) return k.kind == Kind::other ? "list" : "text";
  const std::set<std::string> words(k.choices.begin(), k.choices.end());
  return words == std::set<std::string>{"no", "yes"} ? "yes_no" : "choice";
}

bool has(const Node& map, const char* key) { return map.find(key) != nullptr; }

// The table of a store size, by the form of the board.
std::string stock_of(const Node& board) {
  const Node* form = board.find("form");
  if (form == nullptr) return "lumber_size";
  if (form->text.find("tube") != std::string::npos) return "tube";
  return form->text.starts_with("channel") ? "channel" : "lumber_size";
}

std::string names_of(const AskedKey& k) {
  if (k.kind != Kind::text) return "";
  if (k.name == "alloy" || k.name == "hull_alloy") return "metal";
  if (k.name == "wood") return "wood_grade";
  if (k.name == "washer") return "washer";
  if (k.name == "angle") return "angle";
  if (k.name == "thread") return "thread";
  if (k.name == "size" && has(*k.in, "form")) return stock_of(*k.in);
  const bool fasteners = has(*k.in, "thread") || has(*k.in, "size") || has(*k.in, "hold");
  if (k.name == "material") return fasteners ? "fastener_material" : "metal";
  return "";
}

std::string known_of(const AskedKey& k, const Node* value) {
  if (!k.marked || value == nullptr || value->kind == Node::Kind::empty) return "";
  const Node* said = value->kind == Node::Kind::map ? value->find("known") : nullptr;
  return said != nullptr ? said->text : std::string(word_for(k.known));
}

std::string capital(std::string words) {
  if (words.starts_with("the ")) words.erase(0, 4);
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = char(words[0] - 'a' + 'A');
  return words;
}

// What tells one item of a list from the others: its name, else its kind and side.
std::string item_words(const Node& item) {
  const auto text = [](const Node* in, const char* key) {
    const Node* n = in == nullptr ? nullptr : in->find(key);
    return n != nullptr && n->kind == Node::Kind::text ? n->text : std::string();
  };
  const Node* place = item.find("on_board");
  const std::string side = text(place != nullptr ? place : &item, "side");
  const std::string kind = text(&item, "kind");
  std::string out = text(&item, "name");
  if (out.empty()) {
    const bool two = side == "both";
    out = two ? kind : side;
    const std::string more = two ? "on both sides" : kind;
    out += (out.empty() || more.empty() ? "" : " ") + more;
  }
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

class Fields {
 public:
  explicit Fields(const ReadText& read) : read_(read) {
    headings_[&read.document.root] = "Setup";
    for (const auto& [in, name] : read.asked.foreign) foreign_.emplace(in, name);
    for (const Problem& p : read.problems) missing_.insert(read.path_of(p));
  }

  std::vector<EntryField> made() {
    for (const AskedKey& k : read_.asked.keys) {
      if (!seen_.emplace(k.in, k.name).second) continue;
      const Node* value = k.in->find(k.name);
      if (k.kind == Kind::map || k.kind == Kind::list) {
        if (value != nullptr) head(k, *value);
      } else {
        add(k, value);
      }
    }
    return std::move(out_);
  }

 private:
  void head(const AskedKey& k, const Node& value) {
    const std::string above = headings_[k.in];
    const bool top = above == "Setup" || above == "Mount";
    const std::string own = top ? capital(k.label) : above + ", " + k.label;
    headings_[&value] = own;
    if (k.kind != Kind::list) {
      parts_[&value] = k.needed ? parts_[k.in] : read_.path_of(k);
      return;
    }
    for (std::size_t i = 0; i < value.items.size(); ++i) {
      const std::string words = item_words(value.items[i]);
      headings_[&value.items[i]] =
          own + " " + std::to_string(i + 1) + (words.empty() ? "" : ": " + words);
    }
  }

  void add(const AskedKey& k, const Node* value) {
    EntryField f;
    f.path = read_.path_of(k);
    if (f.path == "thole") return;
    f.required = k.needed || (value == nullptr && missing_.count(f.path) > 0);
    if (value == nullptr && !f.required && foreign_.count({k.in, k.name}) > 0) return;
    f.label = k.label;
    f.group = headings_[k.in];
    f.kind = kind_of(k);
    f.choices = k.choices;
    f.names = names_of(k);
    f.known = known_of(k, value);
    f.part = parts_[k.in];
    f.help = k.help;
    if (!k.example.empty()) f.help += (f.help.empty() ? "" : "; ") + ("for example " + k.example);
    if (value != nullptr) {
      f.text = reading::flow_text(bare_value(*value), true);
      f.line = value->mark.line;
    }
    out_.push_back(std::move(f));
  }

  const ReadText& read_;
  std::map<const Node*, std::string> headings_;
  std::map<const Node*, std::string> parts_;  ///< of maps; an item of a list goes as such
  std::set<std::pair<const Node*, std::string>> foreign_, seen_;
  std::set<std::string> missing_;
  std::vector<EntryField> out_;
};

}  // namespace

std::vector<EntryField> entry_fields(const ReadText& read) { return Fields(read).made(); }

}  // namespace thole::page
