#include <thole/error.hpp>

#include <algorithm>
#include <cstddef>

namespace thole {
namespace {

std::string summary(const std::vector<Problem>& problems) {
  std::string all;
  for (const Problem& p : problems) all += to_text(p);
  return all;
}

/// Columns count characters, and a line must not be cut inside one (UTF-8).
bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// The `count` characters of `line` from the one at `from` on.
std::string part_of(const std::string& line, std::size_t from, std::size_t count) {
  std::string out;
  std::size_t at = 0;  // characters begun
  for (const char c : line) {
    if (!continues(c)) ++at;
    if (at > from + count) break;
    if (at > from) out += c == '\t' ? ' ' : c;
  }
  return out;
}

std::size_t characters(const std::string& line) {
  return line.size() - std::size_t(std::count_if(line.begin(), line.end(), continues));
}

}  // namespace

std::string to_text(const Problem& p) {
  std::string out = p.file;
  if (p.line > 0) out += ":" + std::to_string(p.line) + ":" + std::to_string(p.column);
  out += ": " + p.message + "\n";
  if (p.line > 0 && !p.excerpt.empty()) {
    const std::string number = std::to_string(p.line);
    const std::string gutter(number.size() < 5 ? 5 - number.size() : 0, ' ');
    // Long lines are cut so that the caret stays on the screen.
    constexpr std::size_t most = 68;
    std::size_t length = characters(p.excerpt);
    std::size_t column = p.column > 0 ? std::size_t(p.column - 1) : 0;
    std::size_t from = 0;
    if (length > most) {
      from = column > most / 2 ? std::min(column - most / 2, length) : 0;
      length = std::min(most, length - from);
      column -= from;
    }
    const std::size_t room = length > column ? length - column : 1;
    const std::size_t width = std::min<std::size_t>(std::size_t(std::max(p.width, 1)), room);
    out += gutter + number + " | " + part_of(p.excerpt, from, length) + "\n";
    out += "      | " + std::string(column, ' ') + "^" + std::string(width - 1, '~') + "\n";
  }
  return out;
}

InputError::InputError(std::vector<Problem> problems)
    : Error(summary(problems)), problems_(std::move(problems)) {}

}  // namespace thole
