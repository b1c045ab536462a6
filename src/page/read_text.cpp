#include "page/read_text.hpp"

#include <algorithm>

#include <thole/error.hpp>

#include "reading/tree_edits.hpp"
#include "reading/variants.hpp"

namespace thole::page {
namespace {

using reading::AskedKey;
using reading::Mark;
using reading::Node;

void name_all(const Node& n, const std::string& path, std::map<const Node*, std::string>& out) {
  out[&n] = path;
  for (std::size_t i = 0; i < n.items.size(); ++i) {
    const bool map = n.kind == Node::Kind::map;
    name_all(n.items[i], reading::joined(path, map ? n.keys[i] : std::to_string(i)), out);
  }
}

bool same(const Mark& m, const Problem& p) { return m.line == p.line && m.column == p.column; }

// The last key of the place that a message begins with: "gear.ball: ...", "gear.ball is missing".
std::string_view key_in(std::string_view message) {
  const std::string_view place = message.substr(0, message.find_first_of(": "));
  const std::size_t dot = place.rfind('.');
  return dot == std::string_view::npos ? place : place.substr(dot + 1);
}

// Without `is` and `known`, which belong to a value.
std::string whole_value(std::string path) {
  for (const std::string_view end : {".is", ".known"}) {
    if (path.ends_with(end)) path.erase(path.size() - end.size());
  }
  return path;
}

}  // namespace

const Node& bare_value(const Node& n) {
  const Node* is = n.kind == Node::Kind::map ? n.find("is") : nullptr;
  return is != nullptr ? *is : n;
}

const Node* ReadText::at(std::string_view path) const {
  const Node* n = &document.root;
  while (n != nullptr && !path.empty()) {
    const std::string key(path.substr(0, path.find('.')));
    path.remove_prefix(std::min(path.size(), key.size() + 1));
    if (n->kind == Node::Kind::list) {
      const bool number = !key.empty() && key.size() < 4 &&
                          key.find_first_not_of("0123456789") == std::string::npos;
      const std::size_t i = number ? std::size_t(std::stoi(key)) : n->items.size();
      n = i < n->items.size() ? &n->items[i] : nullptr;
    } else {
      n = n->kind == Node::Kind::map ? n->find(key) : nullptr;
    }
  }
  return n;
}

std::string ReadText::text_at(std::string_view path) const {
  const Node* n = at(path);
  return n == nullptr ? std::string() : bare_value(*n).text;
}

std::string ReadText::path_of(const AskedKey& key) const {
  const auto it = paths.find(key.in);
  return it == paths.end() ? "" : reading::joined(it->second, key.name);
}

std::string ReadText::path_of(const Problem& p) const {
  const std::string_view name = key_in(p.message);
  for (const AskedKey& k : asked.keys) {
    if (k.name != name) continue;
    const Node* value = k.in->find(k.name);
    const bool there =
        value != nullptr && (same(value->mark, p) || same(bare_value(*value).mark, p));
    if (there || (value == nullptr && same(k.in->mark, p))) return path_of(k);
  }
  std::string best;
  for (const auto& [node, path] : paths) {
    if (same(node->mark, p) && path.size() > best.size()) best = path;
    for (std::size_t i = 0; i < node->key_marks.size(); ++i) {
      if (same(node->key_marks[i], p)) return reading::joined(path, node->keys[i]);
    }
  }
  return whole_value(best);
}

std::unique_ptr<ReadText> read_text(std::string_view text, const std::string& file,
                                    const MaterialLibrary& library) {
  try {
    return read_text(std::string(text), reading::read_yaml(text, file), library);
  } catch (const InputError& e) {
    auto out = std::make_unique<ReadText>();
    out->text = text;
    out->document.file = file;
    out->problems = e.problems();
    return out;
  }
}

std::unique_ptr<ReadText> read_text(std::string text, reading::Document document,
                                    const MaterialLibrary& library) {
  auto out = std::make_unique<ReadText>();
  out->text = std::move(text);
  out->document = std::move(document);
  name_all(out->document.root, "", out->paths);
  try {
    out->setup = reading::read_tree(out->document, library, &out->asked);
    out->problems = reading::first_problems(
        reading::problems_of_comparison(out->document, *out->setup, library));
    if (!out->problems.empty()) out->setup.reset();
  } catch (const InputError& e) {
    out->setup.reset();
    out->problems = e.problems();
  }
  return out;
}

}  // namespace thole::page
