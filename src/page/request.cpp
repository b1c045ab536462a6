#include "page/request.hpp"

#include <cmath>

#include <thole/error.hpp>
#include <thole/unit_text.hpp>

namespace thole::page {
namespace {

using reading::Node;

std::string named(std::string_view key) { return "the request's \"" + std::string(key) + "\""; }

std::string text_of(const Node* n, std::string_view key) {
  if (n == nullptr) throw Error(named(key) + " is missing");
  if (n->kind != Node::Kind::text) throw Error(named(key) + " is no text");
  return n->text;
}

}  // namespace

Request::Request(std::string_view json) {
  const bool empty = json.find_first_not_of(" \n") == std::string_view::npos;
  document_ = reading::read_yaml(empty ? "{}" : json, "request");
  if (document_.root.kind != Node::Kind::map) throw Error("the request is no object");
}

std::string Request::text(std::string_view key) const {
  return text_of(document_.root.find(key), key);
}

std::string Request::text_or(std::string_view key, std::string otherwise) const {
  return has(key) ? text(key) : otherwise;
}

// Scripts write small and large numbers with an exponent, which the parser takes as well.
double Request::number(std::string_view key) const {
  const double v = parse_number(text(key));
  if (!std::isfinite(v) || std::abs(v) > 1e6) throw Error(named(key) + " is out of range");
  return v;
}

bool Request::yes(std::string_view key) const { return has(key) && text(key) == "true"; }

std::vector<std::string> Request::texts(std::string_view key) const {
  std::vector<std::string> out;
  const Node* n = document_.root.find(key);
  if (n == nullptr) return out;
  if (n->kind != Node::Kind::list) throw Error(named(key) + " is no list");
  for (const Node& item : n->items) out.push_back(text_of(&item, key));
  return out;
}

std::vector<Edit> Request::edits(std::string_view key) const {
  const Node* n = document_.root.find(key);
  if (n == nullptr || n->kind != Node::Kind::list) throw Error(named(key) + " is no list");
  std::vector<Edit> out;
  for (const Node& item : n->items) {
    if (item.kind != Node::Kind::map) throw Error(named(key) + ": {path, value} is expected");
    out.push_back({text_of(item.find("path"), "path"), text_of(item.find("value"), "value")});
  }
  return out;
}

}  // namespace thole::page
