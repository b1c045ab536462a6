#include "cli/commands.hpp"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <thread>

#include <thole/reading.hpp>
#include <thole/sizing.hpp>
#include <thole/thole.hpp>
#include <thole/unit_text.hpp>

#include "cli/support.hpp"
#include "report/text.hpp"

namespace thole::cli {

namespace {

std::size_t index_of(const char* option, const std::string& word,
                     const std::vector<std::string>& words) {
  if (word.empty()) return words.size();
  const auto it = std::find(words.begin(), words.end(), word);
  if (it != words.end()) return static_cast<std::size_t>(it - words.begin());
  std::string list;
  for (const std::string& w : words) list += (list.empty() ? "" : ", ") + w;
  const std::string near = nearest_spelling(word, words);
  throw Error(std::string(option) + ": \"" + word + "\" is none of " + list +
              (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
}

// "stock,laid" and "stock" "laid" alike.
std::vector<std::string> words_of(const std::vector<std::string>& given) {
  std::vector<std::string> out;
  for (const std::string& list : given) {
    std::size_t from = 0;
    while (from <= list.size()) {
      const std::size_t to = std::min(list.find(',', from), list.size());
      std::string word = list.substr(from, to - from);
      word.erase(0, word.find_first_not_of(' '));
      word.erase(word.find_last_not_of(' ') + 1);
      if (word.empty()) throw Error("--free: a word is expected between commas");
      if (std::find(out.begin(), out.end(), word) == out.end()) out.push_back(word);
      from = to + 1;
    }
  }
  return out;
}

SizeQuestion question_from(const SizeArguments& a) {
  SizeQuestion q;
  q.free = words_of(a.free);
  q.woods = a.woods;
  q.market = a.market;
  const std::size_t laid = index_of("--laid", a.laid, {"flat", "on_edge"});
  q.flat = laid != 1;
  q.on_edge = laid != 0;
  const std::size_t legs = index_of("--legs", a.legs, {"none", "drawn", "below_gear"});
  const std::vector<LegPlan> plans{LegPlan::none, LegPlan::as_drawn, LegPlan::below_gear};
  if (legs < plans.size()) q.legs = {plans[legs]};
  if (!a.leg_length.empty()) {
    try {
      q.leg_length = parse<Length>(a.leg_length);
    } catch (const UnitError& e) {
      throw Error(std::string("--leg-length: ") + e.what());
    }
  }
  q.threads = std::max(1U, std::thread::hardware_concurrency());
  return q;
}

// ---- Progress and Ctrl-C
// -------------------------------------------------------------------------

volatile std::sig_atomic_t stop_asked = 0;

extern "C" void ask_to_stop(int) { stop_asked = 1; }

// Ctrl-C stops the search; a second one ends the program as usual.
class Interrupt {
 public:
  Interrupt() {
    struct sigaction now {};
    now.sa_handler = ask_to_stop;
    now.sa_flags = static_cast<int>(SA_RESETHAND);
    sigemptyset(&now.sa_mask);
    // Ignored where whoever started us has it so, as for a job in the background.
    sigaction(SIGINT, nullptr, &before_);
    if (before_.sa_handler != SIG_IGN) sigaction(SIGINT, &now, nullptr);
  }
  ~Interrupt() { sigaction(SIGINT, &before_, nullptr); }
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;

 private:
  struct sigaction before_ {};
};

// One line on a terminal, written over itself.
class ProgressLine {
 public:
  ~ProgressLine() {
    if (shown_) std::fputs("\r\033[K", stderr);
  }
  ProgressLine() : on_(isatty(STDERR_FILENO) != 0) {}
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(const Progress& p) {
    const auto now = std::chrono::steady_clock::now();
    if (!on_ || (shown_ && now - last_ < std::chrono::milliseconds(100))) return;
    last_ = now;
    shown_ = true;
    std::string line = std::to_string(p.done) + " of " + std::to_string(p.all) + " designs";
    if (!p.best.empty()) line += ", best so far " + p.best;
    line = text::plain(line, 78);
    std::fprintf(stderr, "\r\033[K%s", line.c_str());
    std::fflush(stderr);
  }

 private:
  bool on_ = false;
  bool shown_ = false;
  std::chrono::steady_clock::time_point last_;
};

}  // namespace

std::string size_footer() {
  std::string out = "Words for --free, and on which mounts:\n";
  for (const SizeWord& w : size_words()) {
    out += "  " + text::padded(std::string(w.word), 9) +
           (w.on_board && w.on_plate ? "both   "
            : w.on_board             ? "board  "
                                     : "plate  ") +
           std::string(w.what) + "\n";
  }
  return out +
         "Ctrl-C stops the search and prints the best so far.\n"
         "Exit codes: 0 one holds, 1 none does or it was stopped, 2 bad input.";
}

int size(const SizeArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    SizeQuestion question = question_from(arguments);
    const Setup setup = setup_from(arguments.setup, library);
    SizeAnswer answer;
    {
      const Interrupt interrupt;
      ProgressLine line;
      question.watch = [&](const Progress& p) {
        line.show(p);
        return stop_asked == 0;
      };
      answer = size_mount(setup, question, library);
    }
    say(arguments.json ? size_json(setup, answer) : size_table(setup, answer, arguments.details));
    return answer.smallest && !answer.stopped ? 0 : 1;
  });
}

}  // namespace thole::cli
