#pragma once

/// A setup's text, read once: its tree, what was asked of it, the setup or what is wrong with it.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/material.hpp>
#include <thole/setup.hpp>

#include "reading/fields.hpp"

namespace thole::page {

/// How the text is called in messages and reports, where nobody says.
inline constexpr const char* no_file = "mount.yaml";

struct ReadText {
  std::string text;
  reading::Document document;
  reading::Asked asked;  ///< points into the document
  std::optional<Setup> setup;
  std::vector<Problem> problems;
  std::map<const reading::Node*, std::string> paths;  ///< of every node

  ReadText() = default;
  ReadText(const ReadText&) = delete;
  ReadText& operator=(const ReadText&) = delete;

  /// What stands at a path, keys and numbers between dots; nullptr where nothing does.
  [[nodiscard]] const reading::Node* at(std::string_view path) const;
  /// Its text, or that of its `is`; "" where there is none.
  [[nodiscard]] std::string text_at(std::string_view path) const;
  [[nodiscard]] std::string path_of(const reading::AskedKey& key) const;
  /// The place in the file that a problem is about; "" where none is found.
  [[nodiscard]] std::string path_of(const Problem& problem) const;
};

/// Never throws InputError: what is wrong is in `problems`.
[[nodiscard]] std::unique_ptr<ReadText> read_text(std::string_view text, const std::string& file,
                                                  const MaterialLibrary& library);

/// The same of a text whose tree is known.
[[nodiscard]] std::unique_ptr<ReadText> read_text(std::string text, reading::Document document,
                                                  const MaterialLibrary& library);

/// The value of a node that is {is, known}, else the node itself.
[[nodiscard]] const reading::Node& bare_value(const reading::Node& n);

}  // namespace thole::page
