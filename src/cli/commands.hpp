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

int check(const CheckArguments& arguments);
int list_materials(const std::vector<std::string>& words, const std::vector<std::string>& tables);
/// Writes a starter setup; never over a file that exists.
int write_starter(const std::string& path, const std::string& mount);
int print_measuring_list(const std::string& mount);
int print_schema(const std::string& which);

}  // namespace thole::cli
