#include "reading/tree_edits.hpp"

#include <algorithm>
#include <optional>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/unit_text.hpp>

#include "reading/quoting.hpp"

namespace thole::reading {

bool covers(const std::string& above, const std::string& path) {
  return path.starts_with(above) && (path.size() == above.size() || path[above.size()] == '.');
}

Node without(const Node& root, const std::vector<std::string_view>& keys) {
  Node out = root;
  for (std::size_t i = out.keys.size(); i-- > 0;) {
    if (std::find(keys.begin(), keys.end(), out.keys[i]) == keys.end()) continue;
    const auto at = std::ptrdiff_t(i);
    out.keys.erase(out.keys.begin() + at);
    out.key_marks.erase(out.key_marks.begin() + at);
    out.items.erase(out.items.begin() + at);
  }
  return out;
}

Node bare(const Node& root) { return without(root, {"variants", "patterns"}); }

std::string joined(const std::string& path, std::string_view key) {
  return path.empty() ? std::string(key) : path + "." + std::string(key);
}

namespace {

std::string names_of(const Node& list) {
  std::string out;
  for (const Node& item : list.items) {
    const Node* name = item.find("name");
    if (name != nullptr && name->kind == Node::Kind::text) {
      out += (out.empty() ? "" : ", ") + shown(name->text);
    }
  }
  return out;
}

// The item of a list at the front of `rest`, which is shortened; the size of the list for the place
// behind its last, nothing with its reason in `trouble`.
std::optional<std::size_t> item_of(const Node& list, const std::string& seen, std::string& rest,
                                   std::string& trouble) {
  // A name may hold dots: the longest that fits.
  std::optional<std::size_t> found;
  std::size_t length = 0;
  std::size_t alike = 0;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < list.items.size(); ++i) {
    const Node* name = list.items[i].find("name");
    if (name == nullptr || name->kind != Node::Kind::text || name->text.empty()) continue;
    names.push_back(name->text);
    if (!covers(name->text, rest) || name->text.size() < length) continue;
    alike = name->text.size() == length ? alike + 1 : 1;
    length = name->text.size();
    found = i;
  }
  if (found && alike > 1) {
    trouble = seen + ": " + std::to_string(alike) + " items are called " +
              shown(rest.substr(0, length)) + "; give the number, from 0";
    return std::nullopt;
  }
  const std::string word = rest.substr(0, rest.find('.'));
  if (!found && !word.empty() && word.size() < 4 &&
      std::all_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; })) {
    found = std::size_t(std::stoi(word));
    length = word.size();
    if (*found > list.items.size()) {
      trouble = seen + " has no item " + word + "; they count from 0 to " +
                std::to_string(list.items.size() - 1);
      return std::nullopt;
    }
  }
  if (!found) {
    trouble = seen + " is a list, and no item of it is called " + shown(word);
    const std::string near = nearest_spelling(word, names);
    if (!near.empty()) {
      trouble += "; did you mean \"" + near + "\"?";
    } else {
      trouble += "; give its number, from 0";
      const std::string list_of = names_of(list);
      if (!list_of.empty()) trouble += ", or its name: " + list_of;
    }
    return std::nullopt;
  }
  rest.erase(0, std::min(rest.size(), length + 1));
  return found;
}

}  // namespace

std::string path_of_key(const Node& at, const std::string& key, const std::string& seen) {
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    const bool map = at.kind == Node::Kind::map;
    std::string here = joined(seen, map ? at.keys[i] : std::to_string(i));
    if (map && at.keys[i] == key) return here;
    std::string below = path_of_key(at.items[i], key, here);
    if (!below.empty()) return below;
  }
  return "";
}

Target find_path(Node& root, const std::string& path) {
  Target t;
  Node* at = &root;
  std::string rest = path;
  std::string seen;
  if (path.empty() || path.front() == '.' || path.back() == '.' ||
      path.find("..") != std::string::npos) {
    t.trouble = "a path is expected, keys between dots, as in mount.base.turned";
    return t;
  }
  for (;;) {
    ++t.depth;
    t.parent = at;
    if (at->kind == Node::Kind::list) {
      const auto i = item_of(*at, seen, rest, t.trouble);
      if (!i) return t;
      t.index = *i;
      t.key.clear();
      seen = joined(seen, std::to_string(*i));
      if (rest.empty()) return t;
      if (t.index == at->items.size()) {
        t.trouble = seen + " is not there to be changed; set it whole";
        return t;
      }
    } else if (at->kind == Node::Kind::map) {
      const std::string key = rest.substr(0, rest.find('.'));
      rest.erase(0, std::min(rest.size(), key.size() + 1));
      t.key = key;
      t.index = std::size_t(std::find(at->keys.begin(), at->keys.end(), key) - at->keys.begin());
      if (rest.empty()) return t;
      if (t.index == at->keys.size()) {
        t.trouble = (seen.empty() ? "the setup" : seen) + " has no " + shown(key);
        const std::string near = nearest_spelling(key, at->keys);
        const std::string meant = near.empty() ? path_of_key(root, key) : joined(seen, near);
        t.trouble += meant.empty() ? "; set it whole, as in " + joined(seen, key) + ": {...}"
                                   : "; did you mean " + meant + "?";
        return t;
      }
      seen = joined(seen, key);
    } else {
      t.trouble = seen + " is one value; nothing lies below it";
      return t;
    }
    at = &at->items[t.index];
  }
}

std::string put(Node& root, const std::string& path, const Node& value, Mark mark) {
  const Target t = find_path(root, path);
  if (!t.trouble.empty()) return t.trouble;
  if (t.index < t.parent->items.size()) {
    t.parent->items[t.index] = value;
    if (t.parent->kind == Node::Kind::map) t.parent->key_marks[t.index] = mark;
  } else {
    t.parent->items.push_back(value);
    if (t.parent->kind == Node::Kind::map) {
      t.parent->keys.push_back(t.key);
      t.parent->key_marks.push_back(mark);
    }
  }
  return "";
}

void erase(Node& parent, std::size_t index) {
  const auto at = std::ptrdiff_t(index);
  parent.items.erase(parent.items.begin() + at);
  if (parent.kind == Node::Kind::map) {
    parent.keys.erase(parent.keys.begin() + at);
    parent.key_marks.erase(parent.key_marks.begin() + at);
  }
}

Node text_node(std::string text, Mark mark) {
  Node n;
  n.kind = Node::Kind::text;
  n.mark = mark;
  n.text = std::move(text);
  n.quoted = true;
  return n;
}

void add(Node& map, const char* key, Node value) {
  map.keys.emplace_back(key);
  map.key_marks.push_back(map.mark);
  map.items.push_back(std::move(value));
}

std::string metres(double v) {
  std::string text = exact_number(v);
  if (text.find('e') != std::string::npos) text = std::to_string(v);
  return text + " m";
}

}  // namespace thole::reading
