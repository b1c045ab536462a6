#pragma once

/// Parts that several answers share, written into an open JSON object.

#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/changes.hpp>
#include <thole/progress.hpp>

#include "page/request.hpp"
#include "page/setup_drawing.hpp"
#include "report/html.hpp"
#include "report/json_writer.hpp"

namespace thole::page {

/// What a question is about.
struct Question {
  std::string_view text;
  const Request& request;
  const MaterialLibrary& library;
  const Watch& watch;
  std::string file;
  /// The setup. Throws InputError with every problem of the text.
  [[nodiscard]] Setup setup() const;
};

/// "problems": as of the text that was read, or of none.
void write_problems(Json& j, const std::vector<Problem>& problems, const ReadText* read);
void write_edits(Json& j, const std::vector<Edit>& edits);
/// Title, units, views, handles and fields.
void write_drawing(Json& j, const Drawn& drawn);
void write_views(Json& j, const std::array<scene::Rendered, 2>& views);
void write_handles(Json& j, const Drawn& drawn);
void write_fields(Json& j, const ReadText& read);
/// "words" of a verdict.
void write_words(Json& j, const Setup& setup, const Assessment& assessment);
/// "tick", "triangle", "cross", "question".
[[nodiscard]] const char* sign_of(html::Mark m);

/// Answers of one question each: a whole JSON object. Throw InputError and Error.
[[nodiscard]] std::string about_answer();
[[nodiscard]] std::string check_answer(const Question& q);
[[nodiscard]] std::string sheet_answer(const Question& q);
[[nodiscard]] std::string template_answer(const Question& q);
[[nodiscard]] std::string file_answer(const Question& q, std::string_view kind);
[[nodiscard]] std::string changes_answer(const Question& q);
[[nodiscard]] std::string size_answer(const Question& q);
[[nodiscard]] std::string compare_answer(const Question& q);

}  // namespace thole::page
