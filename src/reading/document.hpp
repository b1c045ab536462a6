#pragma once

/// A file as a tree of marked texts. Everything that reads files speaks this; only
/// yaml_document.cpp knows YAML. Lines and columns count from 1, columns in characters.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <thole/error.hpp>

namespace thole::reading {

struct Mark {
  int line = 0;
  int column = 0;
};

struct Node {
  enum class Kind { empty, text, list, map };
  Kind kind = Kind::empty;
  Mark mark;
  std::string text;               ///< of a text
  bool quoted = false;            ///< the text was quoted in the file
  std::vector<Node> items;        ///< of a list; of a map: the values, one per key
  std::vector<std::string> keys;  ///< of a map, in file order
  std::vector<Mark> key_marks;    ///< of a map

  [[nodiscard]] const Node* find(std::string_view key) const;
};

struct Document {
  std::string file;                ///< name for messages
  std::vector<std::string> lines;  ///< for excerpts
  Node root;

  /// A problem at a mark, with its excerpt.
  [[nodiscard]] Problem problem(Mark mark, int width, std::string message) const;
};

/// More problems than these are not told, see `first_problems`.
inline constexpr std::size_t most_problems = 100;

/// In the order of their places; in the place of what is beyond the first hundred one that says so.
[[nodiscard]] std::vector<Problem> first_problems(std::vector<Problem> problems);

/// Reads one YAML 1.2 document. Throws InputError with place for everything that is no plain data:
/// syntax errors, unclosed quotes, duplicate keys, aliases, anchors, tags, complex keys, a second
/// document, nesting above 16, more than 20000 nodes, texts above 1 MiB, invalid UTF-8, NUL and
/// other control characters. An empty file gives an empty root.
[[nodiscard]] Document read_yaml(std::string_view text, std::string file);

}  // namespace thole::reading
