#pragma once

/// What the page asks with: one JSON object, read as YAML with the limits of the readers.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/changes.hpp>

#include "reading/document.hpp"

namespace thole::page {

class Request {
 public:
  /// An empty text is an empty object. Throws InputError for what is no JSON, Error for what is no
  /// object.
  explicit Request(std::string_view json);

  [[nodiscard]] bool has(std::string_view key) const { return document_.root.find(key) != nullptr; }
  /// A text or a number as it is written. Throws Error where it is missing or something else.
  [[nodiscard]] std::string text(std::string_view key) const;
  [[nodiscard]] std::string text_or(std::string_view key, std::string otherwise) const;
  [[nodiscard]] double number(std::string_view key) const;
  [[nodiscard]] bool yes(std::string_view key) const;
  /// A list of texts; empty where it is missing.
  [[nodiscard]] std::vector<std::string> texts(std::string_view key) const;
  /// A list of {path, value}.
  [[nodiscard]] std::vector<Edit> edits(std::string_view key) const;

 private:
  reading::Document document_;
};

}  // namespace thole::page
