#pragma once

/// Changes to the tree of a setup by paths: keys between dots, an item of a list by its number from
/// 0 or by its name, as in `gear.port rod.lean`. Private to reading.

#include <string>
#include <string_view>
#include <vector>

#include <thole/changes.hpp>

#include "reading/document.hpp"

namespace thole::reading {

/// Is one path the other, or above it?
[[nodiscard]] bool covers(const std::string& above, const std::string& path);
/// A path with one more key.
[[nodiscard]] std::string joined(const std::string& path, std::string_view key);

/// Where a path leads: an item of a list or map, or one that is not there yet.
struct Target {
  Node* parent = nullptr;
  std::size_t index = 0;  ///< beyond the last: not there
  std::string key;        ///< of a map
  std::size_t depth = 0;
  std::string trouble;  ///< not empty: it leads nowhere, and why
};
[[nodiscard]] Target find_path(Node& root, const std::string& path);
/// The path of the first key of this name anywhere below; "" where there is none.
[[nodiscard]] std::string path_of_key(const Node& at, const std::string& key,
                                      const std::string& seen = {});
/// Puts a value where a path leads; the reason where it leads nowhere.
[[nodiscard]] std::string put(Node& root, const std::string& path, const Node& value, Mark mark);
void erase(Node& parent, std::size_t index);

/// The top map without some keys; without those that only compare or search.
[[nodiscard]] Node without(const Node& root, const std::vector<std::string_view>& keys);
[[nodiscard]] Node bare(const Node& root);

[[nodiscard]] Node text_node(std::string text, Mark mark);
/// Adds a key to a map.
void add(Node& map, const char* key, Node value);
/// "0.0125 m", read back as the same number.
[[nodiscard]] std::string metres(double v);

/// A value as on one line of a file, read back as the same; `bare`: without quotes, for people.
[[nodiscard]] std::string flow_text(const Node& n, bool bare = false);

/// A text with edits put into it, and its tree.
struct EditedText {
  std::string text;
  Document document;
};
/// As `apply_edits`, of a text that has been read already (changes.cpp).
[[nodiscard]] EditedText edited(const Document& document, std::string text,
                                const std::vector<Edit>& edits);

}  // namespace thole::reading
