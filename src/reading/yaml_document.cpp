#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <map>
#include <sstream>
#include <utility>

#include "core/stable_order.hpp"
#include "reading/document.hpp"
#include "reading/quoting.hpp"

namespace thole::reading {
namespace {

constexpr std::size_t most_bytes = std::size_t{1} << 20U;
constexpr std::size_t most_levels = 16;
constexpr std::size_t most_nodes = 20000;
constexpr std::size_t most_faults = 50;
/// Longer lines are not repeated with every problem: many problems times one long line is too much.
constexpr std::size_t most_excerpt = 4096;
/// The search for an unclosed quote reads the text several times.
constexpr std::size_t most_search = std::size_t{1} << 17U;

/// The line with which every text ends for the parser: without it yaml-cpp accepts a quote that is
/// never closed.
constexpr const char* end_line = "\n...\n";

/// Thrown when reading on makes no sense; the problem is recorded before.
struct Stop {};

unsigned byte(char c) { return static_cast<unsigned char>(c); }
bool continues(char c) { return (byte(c) & 0xC0U) == 0x80U; }
bool blank(char c) { return c == ' ' || c == '\t'; }

std::size_t skip_blanks(const std::string& line, std::size_t at) {
  while (at < line.size() && blank(line[at])) ++at;
  return at;
}

std::string hex(unsigned value) {
  constexpr const char* digits = "0123456789ABCDEF";
  return std::string("0x") + digits[(value >> 4U) & 15U] + digits[value & 15U];
}

/// Bytes of the UTF-8 character at the front, 0 when there is none (RFC 3629: no overlong forms,
/// no surrogates, nothing above U+10FFFF).
std::size_t utf8_length(std::string_view s) {
  const unsigned a = byte(s[0]);
  if (a < 0x80U) return 1;
  const std::size_t n = a >= 0xC2U && a <= 0xDFU   ? 2
                        : a >= 0xE0U && a <= 0xEFU ? 3
                        : a >= 0xF0U && a <= 0xF4U ? 4
                                                   : 0;
  if (n == 0 || s.size() < n) return 0;
  for (std::size_t i = 1; i < n; ++i) {
    if (!continues(s[i])) return 0;
  }
  const unsigned b = byte(s[1]);
  const bool out_of_range = (a == 0xE0U && b < 0xA0U) || (a == 0xEDU && b > 0x9FU) ||
                            (a == 0xF0U && b < 0x90U) || (a == 0xF4U && b > 0x8FU);
  return out_of_range ? 0 : n;
}

/// Code of a control character at the front of a UTF-8 text, or -1. Tab and line feed are text.
int control_code(std::string_view s) {
  const unsigned a = byte(s[0]);
  if (a == '\t' || a == '\n') return -1;
  if (a < 0x20U || a == 0x7FU) return static_cast<int>(a);
  // C1 controls; terminals obey some of them.
  if (a == 0xC2U && s.size() > 1 && byte(s[1]) < 0xA0U) return static_cast<int>(byte(s[1]));
  return -1;
}

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> lines;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    std::string_view line = text.substr(from, to - from);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    lines.emplace_back(line);
    from = to + 1;
  }
  return lines;
}

[[noreturn]] void fail(Problem problem) { throw InputError({std::move(problem)}); }

/// Throws for bytes that are no text. The excerpt shows "?" for each of them, because it may end
/// in a terminal.
void refuse_bytes(std::string_view text, const Document& doc) {
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t n = utf8_length(text.substr(i));
    const int control = n == 0 ? -1 : control_code(text.substr(i));
    const bool line_end = text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n';
    if (n > 0 && (control < 0 || line_end)) {
      i += n;
      continue;
    }
    std::string message;
    if (n == 0) {
      message = "the byte " + hex(byte(text[i])) + " is not UTF-8 here; save the file as UTF-8";
    } else if (control == 0) {
      message = "a NUL byte stands here; only text is expected";
    } else if (control == '\r') {
      message = "a carriage return stands alone here; lines end with LF or with CR LF";
    } else {
      message = "the control character " + hex(static_cast<unsigned>(control)) +
                " stands here; only text, tabs and line ends are expected";
    }
    const std::size_t before = text.substr(0, i).rfind('\n');
    const std::size_t begin = before == std::string_view::npos ? 0 : before + 1;
    const std::size_t end = std::min(text.find('\n', i), text.size());
    std::string line;
    for (std::size_t k = begin; k < end;) {
      const std::size_t length = utf8_length(text.substr(k));
      if (length == 0 || control_code(text.substr(k)) >= 0) {
        line += '?';
        k += std::max<std::size_t>(length, 1);
      } else {
        line += text.substr(k, length);
        k += length;
      }
    }
    Problem p;
    p.file = doc.file;
    p.line = 1 + static_cast<int>(std::count(text.begin(), text.begin() + std::ptrdiff_t(i), '\n'));
    p.column = 1 + characters(text.substr(begin, i - begin));
    p.message = std::move(message);
    if (line.size() <= most_excerpt) p.excerpt = std::move(line);
    fail(std::move(p));
  }
}

/// Marks of yaml-cpp count bytes from 0. Counting goes on from the last place, since a file may be
/// one long line with thousands of marks.
class Places {
 public:
  explicit Places(const std::vector<std::string>& lines) : lines_(lines) {}

  Mark at(std::size_t line, std::size_t column) {
    if (line >= lines_.size()) {
      line = lines_.size() - 1;
      column = lines_[line].size();
    }
    const std::string& text = lines_[line];
    column = std::min(column, text.size());
    if (line != line_) {
      line_ = line;
      bytes_ = 0;
      characters_ = 0;
    }
    for (; bytes_ < column; ++bytes_) characters_ += continues(text[bytes_]) ? 0 : 1;
    for (; bytes_ > column; --bytes_) characters_ -= continues(text[bytes_ - 1]) ? 0 : 1;
    return {static_cast<int>(line) + 1, characters_ + 1};
  }

 private:
  const std::vector<std::string>& lines_;
  std::size_t line_ = 0;
  std::size_t bytes_ = 0;
  int characters_ = 0;
};

/// A place in bytes, from 0.
struct Raw {
  std::size_t line = 0;
  std::size_t column = 0;
};

Raw raw(const YAML::Mark& m) {
  return {m.line < 0 ? 0 : std::size_t(m.line), m.column < 0 ? 0 : std::size_t(m.column)};
}

class Builder : public YAML::EventHandler {
 public:
  explicit Builder(Document& doc) : doc_(doc), places_(doc.lines) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ == 1) return;
    add(place(raw(mark)), 1,
        "what stands above is complete, so this begins a second document; one document is "
        "expected (check the indentation)");
    throw Stop{};
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    const Raw r = raw(mark);
    refuse_properties(r, "?", anchor);
    if (wants_key()) {
      add(place(r), 1, "a key is expected here, a word before the colon");
      take_key(r, "", false);
      return;
    }
    if (lacks_colon(r)) {
      const std::string& key = frames_.back().node.keys.back();
      add(place(frames_.back().key_raw), characters(key),
          "a colon and a value are expected after " + shown(key));
    }
    Node node;
    node.mark = place_of_nothing(r);
    take(std::move(node));
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) override {
    const Raw r = raw(mark);
    add(place(r), 1, alias_message);
    if (wants_key()) {
      take_key(r, "", false);
    } else {
      take(Node{});
    }
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    const Raw r = raw(mark);
    refuse_properties(r, tag, anchor);
    refuse_controls(r, value);
    if (wants_key()) {
      check_key(r, value, tag == "?");
      take_key(r, value, true);
      return;
    }
    Node node;
    node.kind = Node::Kind::text;
    node.mark = place(r);
    node.text = value;
    node.quoted = tag == "!";
    take(std::move(node));
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value style) override {
    open(Node::Kind::list, raw(mark), tag, anchor, style);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value style) override {
    open(Node::Kind::map, raw(mark), tag, anchor, style);
  }
  void OnMapEnd() override { close(); }

  /// What the scanner or parser of yaml-cpp said, in plain words. `quote` is where an unclosed
  /// quote opens, as far as known.
  void add_error(const YAML::Exception& e, const Raw& quote);

  [[nodiscard]] std::vector<Problem> take_problems() { return std::move(problems_); }

  static constexpr const char* alias_message =
      "a word that begins with \"*\" is an alias, and aliases are not read here; write the value "
      "out, or quote it if it is meant as text";

 private:
  struct Frame {
    Node node;
    Raw raw;
    bool flow = false;
    bool has_key = false;  ///< a key waits for its value
    Raw key_raw;
    std::map<std::string, int, std::less<>> lines_of_keys;
  };

  Mark place(const Raw& r) { return places_.at(r.line, r.column); }

  [[nodiscard]] char char_at(const Raw& r) const {
    if (r.line >= doc_.lines.size() || r.column >= doc_.lines[r.line].size()) return '\0';
    return doc_.lines[r.line][r.column];
  }

  void add(Mark mark, int width, std::string message) {
    problems_.push_back(doc_.problem(mark, width, std::move(message)));
    if (problems_.size() >= most_faults) throw Stop{};
  }

  [[nodiscard]] bool wants_key() const {
    return !frames_.empty() && frames_.back().node.kind == Node::Kind::map &&
           !frames_.back().has_key;
  }

  void refuse_properties(const Raw& r, const std::string& tag, YAML::anchor_t anchor) {
    if (anchor != YAML::NullAnchor) {
      add(place(r), 1,
          "a word that begins with \"&\" is an anchor, and anchors are not read here; write the "
          "value out, or quote it if it is meant as text");
    } else if (char_at(r) == '!' || (tag != "?" && tag != "!" && !tag.empty())) {
      add(place(r), 1,
          "a word that begins with \"!\" is a tag, and tags are not read here; leave it out, or "
          "quote it if it is meant as text");
    }
  }

  /// Escapes in double quotes can write what the file itself must not hold.
  void refuse_controls(const Raw& r, std::string_view value) {
    for (std::size_t i = 0; i < value.size(); ++i) {
      const int control = control_code(value.substr(i));
      if (control < 0) continue;
      add(place(r), 1,
          "the quoted text holds the control character " + hex(static_cast<unsigned>(control)) +
              "; only text, tabs and line ends are expected");
      return;
    }
  }

  void check_key(const Raw& r, const std::string& key, bool plain) {
    if (plain && key == "<<") {
      add(place(r), 2, "the merge key \"<<\" is not read here; write the values out");
    }
    if (r.line < doc_.lines.size()) {
      const std::string& line = doc_.lines[r.line];
      std::size_t before = std::min(r.column, line.size());
      while (before > 0 && blank(line[before - 1])) --before;
      if (before > 0 && before < r.column && line[before - 1] == '?') {
        add(places_.at(r.line, before - 1), 1,
            "a key marked with \"?\" is not read here; write \"key: value\"");
      }
    }
  }

  /// yaml-cpp takes a word without a colon as a key without a value, placed at the key, or in
  /// braces at the comma after it.
  [[nodiscard]] bool lacks_colon(const Raw& r) const {
    if (frames_.empty() || frames_.back().node.kind != Node::Kind::map) return false;
    const Frame& f = frames_.back();
    const std::size_t size = f.node.keys.back().size();
    if (size == 0 || r.line != f.key_raw.line) return false;
    if (r.column == f.key_raw.column) return true;
    return f.flow && r.line < doc_.lines.size() &&
           doc_.lines[r.line].find(':', f.key_raw.column + size) >= r.column;
  }

  /// `readable`: the key is a text, so it can stand here twice.
  void take_key(const Raw& r, const std::string& key, bool readable) {
    Frame& f = frames_.back();
    const Mark mark = place(r);
    f.has_key = true;
    f.key_raw = r;
    f.node.keys.push_back(key);
    f.node.key_marks.push_back(mark);
    if (!readable) return;
    const auto [it, fresh] = f.lines_of_keys.emplace(key, mark.line);
    if (!fresh && key != "<<") {
      add(mark, characters(key),
          "the key " + shown(key) + " stands here a second time; the first is in line " +
              std::to_string(it->second));
    }
  }

  void count(Mark mark) {
    if (++nodes_ <= most_nodes) return;
    add(mark, 1, "the file has more than " + std::to_string(most_nodes) + " values");
    throw Stop{};
  }

  void take(Node node) {
    count(node.mark);
    if (frames_.empty()) {
      doc_.root = std::move(node);
      return;
    }
    frames_.back().has_key = false;
    frames_.back().node.items.push_back(std::move(node));
  }

  void open(Node::Kind kind, const Raw& r, const std::string& tag, YAML::anchor_t anchor,
            YAML::EmitterStyle::value style) {
    const Mark mark = place(r);
    refuse_properties(r, tag, anchor);
    if (wants_key()) {
      const bool map = kind == Node::Kind::map;
      add(mark, 1,
          std::string("a key must be a plain word; here is ") + (map ? "a map" : "a list") +
              ", or a \"" + (map ? '{' : '[') +
              "\" that is never closed (a text that begins so wants quotes)");
      throw Stop{};
    }
    count(mark);
    if (frames_.size() >= most_levels) {
      add(mark, 1, "this is nested deeper than " + std::to_string(most_levels) + " levels");
      throw Stop{};
    }
    Frame f;
    f.node.kind = kind;
    f.node.mark = mark;
    f.raw = r;
    f.flow = style == YAML::EmitterStyle::Flow;
    frames_.push_back(std::move(f));
  }

  void close() {
    Node node = std::move(frames_.back().node);
    frames_.pop_back();
    --nodes_;  // counted when it was opened
    take(std::move(node));
  }

  /// yaml-cpp places a missing value at whatever comes next, often lines below. The reader wants
  /// the place where the value should be, or the comment that stands there (`#10-24` unquoted).
  Mark place_of_nothing(const Raw& r) {
    if (frames_.empty()) return place(r);
    const Frame& f = frames_.back();
    if (f.node.kind == Node::Kind::map) {
      if (r.line == f.key_raw.line && r.column > f.key_raw.column) return place(r);
      if (f.key_raw.line < doc_.lines.size()) {
        const std::string& line = doc_.lines[f.key_raw.line];
        const std::size_t colon = line.find(':', f.key_raw.column + f.node.keys.back().size());
        if (colon != std::string::npos) {
          const std::size_t value = skip_blanks(line, colon + 1);
          if (value < line.size()) return places_.at(f.key_raw.line, value);
        }
      }
      return place(f.key_raw);
    }
    if (f.flow || char_at(r) == '~' || char_at(r) == 'n' || char_at(r) == 'N') return place(r);
    for (std::size_t n = std::min(r.line, doc_.lines.size()); n > f.raw.line; --n) {
      const std::string& line = doc_.lines[n - 1];
      const std::size_t dash = skip_blanks(line, 0);
      if (dash == line.size() || line[dash] == '#') continue;
      if (line[dash] != '-') break;
      const std::size_t value = skip_blanks(line, dash + 1);
      return places_.at(n - 1, value < line.size() ? value : dash);
    }
    return place(r);
  }

  Document& doc_;
  Places places_;
  std::vector<Frame> frames_;
  std::vector<Problem> problems_;
  std::size_t nodes_ = 0;
  int documents_ = 0;
};

struct Hint {
  const char* words;
  const char* hint;
};

void Builder::add_error(const YAML::Exception& e, const Raw& quote) {
  namespace said = YAML::ErrorMsg;
  const Raw r = raw(e.mark);
  const bool at_end = r.line >= doc_.lines.size();
  const bool in_flow = !frames_.empty() && frames_.back().flow;

  if (e.msg == said::DOC_IN_SCALAR || e.msg == said::EOF_IN_SCALAR) {
    return add(place(quote), 1, "a quote is opened here or above and never closed");
  }
  // Not every tab in the indentation is found out as one.
  const std::size_t tab = at_end ? std::string::npos : doc_.lines[r.line].find('\t');
  const bool indents = tab != std::string::npos && tab < skip_blanks(doc_.lines[r.line], 0);
  if (indents || e.msg == said::TAB_IN_INDENTATION) {
    return add(indents ? places_.at(r.line, tab) : place(r), 1,
               "a tab stands in the indentation; indent with spaces");
  }
  if (e.msg.starts_with(said::UNKNOWN_ANCHOR)) return add(place(r), 1, alias_message);
  if (e.msg == said::END_OF_SEQ_FLOW) {
    if (at_end && in_flow) {
      return add(place(frames_.back().raw), 1, "the list opened here with \"[\" is never closed");
    }
    return add(place(r), 1, "a \",\" or the \"]\" of the list is expected here");
  }
  if (e.msg == said::END_OF_MAP_FLOW) {
    if (at_end && in_flow) {
      return add(place(frames_.back().raw), 1, "the map opened here with \"{\" is never closed");
    }
    return add(place(r), 1, "a \",\" or the \"}\" of the map is expected here");
  }

  constexpr const char* indentation =
      "check the indentation; a text with a colon and a blank, or with a quote in it, wants quotes";
  const std::array<Hint, 11> hints{{
      {said::END_OF_MAP, indentation},
      {said::END_OF_SEQ, indentation},
      {said::MAP_VALUE, indentation},
      {said::MAP_KEY, indentation},
      {said::BLOCK_ENTRY, indentation},
      {said::FLOW_END, "a bracket is closed here that was never opened"},
      {said::UNKNOWN_TOKEN, "a text that begins with this character wants quotes"},
      {said::INVALID_ESCAPE, "in double quotes a backslash is written twice"},
      {said::ALIAS_NOT_FOUND, "a text that begins with \"*\" wants quotes"},
      {said::ANCHOR_NOT_FOUND, "a text that begins with \"&\" wants quotes"},
      {said::CHAR_IN_BLOCK, "after | or > the line must end; a text that begins so wants quotes"},
  }};
  std::string words = e.msg;
  if (words.starts_with(said::INVALID_UNICODE)) {
    words.replace(0, std::string_view(said::INVALID_UNICODE).size(),
                  "no such character in Unicode: ");
  } else if (words.starts_with(said::INVALID_ESCAPE)) {
    words = "unknown escape character";  // yaml-cpp appends one byte, maybe half a character
  } else if (words == said::BAD_FILE) {
    words = "too deeply nested";
  }
  for (char& c : words) {
    if (byte(c) < 0x20U || byte(c) >= 0x7FU) c = '?';
  }
  std::string message = "this is not readable as YAML: " + words.substr(0, 100);
  for (const Hint& h : hints) {
    if (e.msg.starts_with(h.words)) {
      message += std::string(" (") + h.hint + ")";
      break;
    }
  }
  add(place(r), 1, std::move(message));
}

class Ignore : public YAML::EventHandler {
 public:
  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t,
                const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {}
  void OnMapEnd() override {}
};

bool ends_in_quote(const std::string& text) {
  try {
    std::istringstream in(text + end_line);
    YAML::Parser parser(in);
    Ignore ignore;
    while (parser.HandleNextDocument(ignore)) {
    }
  } catch (const YAML::Exception& e) {
    return e.msg == YAML::ErrorMsg::DOC_IN_SCALAR || e.msg == YAML::ErrorMsg::EOF_IN_SCALAR;
  }
  return false;
}

/// Where the quote opens that is still open at `end`: the scanner only says where it gave up.
/// Looks for the shortest run of lines that already ends inside the quote.
Raw opening_quote(const std::vector<std::string>& lines, const Raw& end) {
  const std::size_t n = std::min(end.line, lines.size());
  std::vector<std::size_t> ends{0};
  std::string text;
  for (std::size_t i = 0; i < n; ++i) {
    text += lines[i] + '\n';
    ends.push_back(text.size());
  }
  const Raw last{n == 0 ? 0 : n - 1, 0};
  if (text.size() > most_search) return last;
  std::size_t closed = 0;  // after so many lines no quote is open
  std::size_t open = n;    // after so many lines one is
  while (open - closed > 1) {
    const std::size_t middle = closed + (open - closed) / 2;
    (ends_in_quote(text.substr(0, ends[middle])) ? open : closed) = middle;
  }
  if (open == 0) return last;
  const std::string& line = lines[open - 1];
  Raw found{open - 1, 0};
  std::size_t at = line.find_last_of("'\"");
  for (int tries = 0; tries < 40 && at != std::string::npos; ++tries) {
    if (!ends_in_quote(text.substr(0, ends[open - 1] + at + 1))) break;
    found.column = at;
    if (at == 0) break;
    at = line.find_last_of("'\"", at - 1);
  }
  return found;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  if (kind != Kind::map) return nullptr;
  for (std::size_t i = 0; i < keys.size() && i < items.size(); ++i) {
    if (keys[i] == key) return &items[i];
  }
  return nullptr;
}

Problem Document::problem(Mark mark, int width, std::string message) const {
  Problem p;
  p.file = file;
  p.line = mark.line;
  p.column = mark.column;
  p.width = std::max(width, 1);
  p.message = std::move(message);
  if (mark.line >= 1 && std::size_t(mark.line) <= lines.size()) {
    const std::string& line = lines[std::size_t(mark.line) - 1];
    if (line.size() <= most_excerpt) {
      p.excerpt = line;
      // A folded text is longer than its first line.
      p.width = std::clamp(characters(line) - mark.column + 1, 1, p.width);
    }
  }
  return p;
}

std::vector<Problem> first_problems(std::vector<Problem> problems) {
  sort_stably(problems, [](const Problem& a, const Problem& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
  });
  if (problems.size() <= most_problems) return problems;
  const std::size_t more = problems.size() - most_problems;
  problems[most_problems].message =
      "from here on there are " + std::to_string(more) + " more problems; mend those above first";
  problems.resize(most_problems + 1);
  return problems;
}

Document read_yaml(std::string_view text, std::string file) {
  Document doc;
  doc.file = std::move(file);
  if (text.size() > most_bytes) {
    fail(doc.problem({1, 1}, 1,
                     "the file has " + std::to_string(text.size()) + " bytes; at most " +
                         std::to_string(most_bytes) + " are read"));
  }
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  refuse_bytes(text, doc);
  doc.lines = split(text);

  std::string input;
  input.reserve(text.size() + 8);
  for (const std::string& line : doc.lines) {
    if (!input.empty() || &line != &doc.lines.front()) input += '\n';
    input += line;
  }
  input += end_line;

  Builder builder(doc);
  try {
    try {
      std::istringstream in(input);
      YAML::Parser parser(in);
      while (parser.HandleNextDocument(builder)) {
      }
    } catch (const YAML::Exception& e) {
      const bool quote = e.msg == YAML::ErrorMsg::DOC_IN_SCALAR;
      builder.add_error(e, quote ? opening_quote(doc.lines, raw(e.mark)) : raw(e.mark));
    }
  } catch (const Stop&) {
    // The problem that stopped the reading is recorded.
  }

  std::vector<Problem> problems = builder.take_problems();
  if (!problems.empty()) {
    throw InputError(first_problems(std::move(problems)));
  }
  return doc;
}

}  // namespace thole::reading
