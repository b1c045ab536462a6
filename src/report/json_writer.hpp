#pragma once

/// A writer of JSON, and the parts that several reports share. Private to the reports.

#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "core/json_text.hpp"

namespace thole {

/// A writer, with indentation unless it is `dense`; the caller keeps objects and lists balanced.
class Json {
 public:
  enum class Layout { indented, dense };
  explicit Json(Layout layout = Layout::indented) : dense_(layout == Layout::dense) {}

  void open(char bracket) {
    comma();
    out_ += bracket;
    ++depth_;
    fresh_ = true;
  }
  void close(char bracket) {
    --depth_;
    if (!fresh_) line();
    out_ += bracket;
    fresh_ = false;
  }
  Json& key(const char* name) {
    comma();
    out_ += json_text(name) + ": ";
    after_key_ = true;
    return *this;
  }
  void text(const std::string& v) { put(json_text(v)); }
  void number(double v) { put(exact_number(v)); }
  void integer(long v) { put(std::to_string(v)); }
  void yes_no(bool v) { put(v ? "true" : "false"); }
  void null() { put("null"); }
  template <class Q>
  void maybe(const std::optional<Q>& q) {
    if (q) {
      number(q->value());
    } else {
      null();
    }
  }
  void texts(const std::vector<std::string>& list) {
    open('[');
    for (const std::string& t : list) text(t);
    close(']');
  }
  std::string take() { return out_ + "\n"; }

 private:
  void put(const std::string& v) {
    comma();
    out_ += v;
    fresh_ = false;
  }
  void comma() {
    if (after_key_) {
      after_key_ = false;
      return;
    }
    if (depth_ == 0) return;
    if (!fresh_) out_ += ',';
    line();
    fresh_ = false;
  }
  void line() {
    if (!dense_) out_ += '\n' + std::string(std::size_t(depth_) * 2, ' ');
  }

  std::string out_;
  bool dense_;
  int depth_ = 0;
  bool fresh_ = true;
  bool after_key_ = false;
};

/// "build": which thole and which tables.
void write_build(Json& j);
/// A load case, into an open object.
void write_load_case(Json& j, const Setup& s, const LoadCase& c);
/// "towing": what the lines of the gear do.
void write_towing(Json& j, const std::vector<TowingRow>& rows);
/// "sockets": what the butts of rods do to their tubes.
void write_sockets(Json& j, const std::vector<SocketRow>& rows);
/// "fit": how much is in the way.
void write_fit_line(Json& j, const Setup& s);
/// "boat": the boat's side.
void write_boat(Json& j, const BoatSide& boat);

}  // namespace thole
