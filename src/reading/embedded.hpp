#pragma once

/// Tables compiled into the program: the trees of materials/*.yaml as flat arrays, written at build
/// time by thole_embed, so that no YAML is parsed at run time.

#include <cstddef>
#include <cstdint>

#include "reading/document.hpp"

namespace thole::reading {

/// One node in pre-order. A list is followed by its `count` items, a map by `count` pairs of a key
/// (a text) and a value.
struct FlatNode {
  const char* text;
  std::uint16_t line;
  std::uint16_t column;
  std::uint16_t count;
  std::uint8_t kind;  ///< a Node::Kind, in one byte: there are tens of thousands of these
  bool quoted;
};

struct FlatDocument {
  const char* file;
  const FlatNode* nodes;
  std::size_t node_count;
};

/// In the generated source.
extern const FlatDocument embedded_tables[];
extern const std::size_t embedded_table_count;

/// The tree again. It has no lines, so problems have no excerpt.
[[nodiscard]] Document unflatten(const FlatDocument& flat);

}  // namespace thole::reading
