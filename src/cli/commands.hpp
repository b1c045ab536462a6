#pragma once

/// The commands of the program. Each returns its exit code: 0 holds or done, 1 any other verdict,
/// 2 bad input. Only here and in main.cpp are files and the terminal touched.

#include <string>
#include <vector>

namespace thole::cli {

struct CheckArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
  bool details = false;
};

struct SizeArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
  bool details = false;
  /// Words of quantities, commas between.
  std::vector<std::string> free;
  std::vector<std::string> woods;
  std::string laid;        ///< flat, on_edge or nothing: both
  std::string market;      ///< as in SizeQuestion
  std::string legs;        ///< none, drawn, below_gear or nothing: all
  std::string leg_length;  ///< with its unit
};

struct CompareArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
  bool as_given = false;
};

struct ChangesArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
  bool all = false;  ///< every change tried, not the best three
  bool writes = false;
  int write = 0;       ///< the number of the change to write out
  std::string output;  ///< where to
};

struct SweepArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
  std::string of;
  std::string from, to;
  int steps = 0;
  std::vector<std::string> values;
};

struct FitArguments {
  std::string setup;
  std::vector<std::string> tables;
  bool json = false;
};

struct SheetArguments {
  std::string setup;
  std::vector<std::string> tables;
  std::string output;   ///< the sheet
  std::string holes;    ///< pages of the hole template (.html), or one pattern (.svg)
  std::string pattern;  ///< number of that pattern
  std::string forces;   ///< table of forces (.csv)
  std::string drawing;  ///< of plates to be made (.dxf or .svg)
  std::string paper;    ///< a4 or letter; "": by the reader's units
  std::string date;     ///< to print; "": today
  bool no_changes = false;
  bool replace = false;  ///< over files that are there
};

int check(const CheckArguments& arguments);
/// Writes the shop sheet and what goes with it: exit code as of `check`.
int sheet(const SheetArguments& arguments);
/// Single changes, re-solved and ranked: 0 one of them (or a pair) holds, or nothing need change; 1
/// none does.
int changes(const ChangesArguments& arguments);
/// One quantity over a range: 0 when printed.
int sweep(const SweepArguments& arguments);
/// Which inputs decide: 0 when printed.
int inputs(const CheckArguments& arguments);
/// What comes near what in plan: 0 nothing hits, 1 something does.
int fit(const FitArguments& arguments);
/// The table of load cases, and where booms may point: 0 when printed.
int loads(const CheckArguments& arguments);
int booms(const CheckArguments& arguments);
/// The smallest and lightest mount of store sizes that holds: 0 there is one, 1 there is none or it
/// was stopped.
int size(const SizeArguments& arguments);
/// The words of its --free, for the help.
[[nodiscard]] std::string size_footer();
/// Variants and patterns side by side: 0 one of them holds, or holds if; 1 none does.
int compare(const CompareArguments& arguments);
/// What is assumed and which way it errs: all of it, or what bears on a setup.
int list_assumptions(const CheckArguments& arguments);
int list_modes(const std::vector<std::string>& words);
int list_materials(const std::vector<std::string>& words, const std::vector<std::string>& tables);
/// Writes a starter setup; never over a file that exists.
int write_starter(const std::string& path, const std::string& mount, const std::string& units);
int print_measuring_list(const std::string& mount);
int print_schema(const std::string& which);
/// The code to end with: 2 with a message when the output could not be written, else `code`.
int finish(int code);

}  // namespace thole::cli
