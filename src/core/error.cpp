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
    std::string line = p.excerpt;
    std::size_t column = p.column > 0 ? std::size_t(p.column - 1) : 0;
    if (line.size() > most) {
      const std::size_t from = column > most / 2 ? std::min(column - most / 2, line.size()) : 0;
      line = line.substr(from, most);
      column -= from;
    }
    for (char& c : line) {
      if (c == '\t') c = ' ';
    }
    const std::size_t room = line.size() > column ? line.size() - column : 1;
    const std::size_t width = std::min<std::size_t>(std::size_t(std::max(p.width, 1)), room);
    out += gutter + number + " | " + line + "\n";
    out += "      | " + std::string(column, ' ') + "^" + std::string(width - 1, '~') + "\n";
  }
  return out;
}

InputError::InputError(std::vector<Problem> problems)
    : Error(summary(problems)), problems_(std::move(problems)) {}

}  // namespace thole
