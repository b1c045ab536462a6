#include "report/pull_flags.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "report/chart_labels.hpp"

namespace thole::ruler {
namespace {

constexpr double edge = 2;
constexpr double between_words = 7;  // of one row
constexpr double between_stems = 5;
constexpr double beside_stem = 3;  // words keep so far from a stem that passes
constexpr double worst = 1e9;
constexpr long most_tries = 60000;
// From the mark to its stem; what leans far is a last resort.
constexpr std::array<double, 13> leans{0, 7, -7, 14, -14, 21, -21, 28, -28, 130, -130, 260, -260};
constexpr std::size_t near = 9;
constexpr std::array<double, 3> longer{260, 200, 150};  // words, where there is room beside them

bool passes(const Flag& upper, const Flag& lower) {
  return upper.stem > lower.from() - beside_stem && upper.stem < lower.to() + beside_stem;
}

// `a` has the lesser mark.
bool clash(const Flag& a, const Flag& b) {
  if (b.stem < a.stem + between_stems) return true;
  if (a.row == b.row) {
    return a.from() < b.to() + between_words && b.from() < a.to() + between_words;
  }
  return a.row > b.row ? passes(a, b) : passes(b, a);
}

// The cheapest way: near rows, upright stems, flying to the right.
class Search {
 public:
  Search(std::vector<Flag> flags, std::size_t rows, double width, std::size_t most_leans)
      : now_(std::move(flags)), rows_(rows), width_(width), most_leans_(most_leans) {}

  std::optional<std::vector<Flag>> run() {
    step(0, 0);
    if (best_cost_ >= worst) return std::nullopt;
    return best_;
  }

 private:
  void step(std::size_t i, double cost) {
    if (cost >= best_cost_) return;
    if (i == now_.size()) {
      best_ = now_;
      best_cost_ = cost;
      return;
    }
    for (std::size_t k = 0; k < most_leans_; ++k) {
      const double lean = leans[k];
      for (std::size_t row = 0; row < rows_; ++row) {
        for (const bool left : {false, true}) {
          if (++tries_ > most_tries) return;
          Flag& f = now_[i];
          f.stem = f.mark + lean;
          f.row = row;
          f.left = left;
          if (!fits(i)) continue;
          step(i + 1, cost + std::abs(lean) + 3 * double(row) + (left ? 1 : 0));
        }
      }
    }
  }

  [[nodiscard]] bool fits(std::size_t i) const {
    const Flag& f = now_[i];
    if (f.from() < edge || f.to() > width_ - edge) return false;
    return std::none_of(now_.begin(), now_.begin() + std::ptrdiff_t(i),
                        [&](const Flag& o) { return clash(o, f); });
  }

  std::vector<Flag> now_;
  std::vector<Flag> best_;
  double best_cost_ = worst;
  long tries_ = 0;
  std::size_t rows_;
  double width_;
  std::size_t most_leans_;
};

bool stands_free(const std::vector<Flag>& all, std::size_t i, double width) {
  if (all[i].from() < edge || all[i].to() > width - edge) return false;
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (k < i && clash(all[k], all[i])) return false;
    if (k > i && clash(all[i], all[k])) return false;
  }
  return true;
}

// Words that were cut for the sake of others as long as there is room.
void lengthen(std::vector<Flag>& all, const std::vector<std::string>& words, double width) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string short_words = all[i].what;
    for (const double room : longer) {
      all[i].what = charts::fitted(words[i], room * charts::text_size / flag_text);
      if (stands_free(all, i, width)) break;
      all[i].what = short_words;
    }
  }
}

}  // namespace

double flag_width(const std::string& text, bool bold) {
  return charts::width_of(text, bold) * flag_text / charts::text_size;
}

double Flag::width() const {
  return flag_gap + (cross ? cross_room : 0) + flag_width(figure, true) +
         (what.empty() ? 0 : word_gap + flag_width(what, false));
}

std::optional<std::vector<Flag>> placed(std::vector<Flag> flags, std::size_t rows, double room,
                                        double width, bool far) {
  std::vector<std::string> words;
  for (Flag& f : flags) {
    words.push_back(f.what);
    f.what = charts::fitted(f.what, room * charts::text_size / flag_text);
  }
  auto found = Search(std::move(flags), rows, width, far ? leans.size() : near).run();
  if (found) lengthen(*found, words, width);
  return found;
}

}  // namespace thole::ruler
