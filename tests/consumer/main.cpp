// What an outside program does with the installed package: a setup as text, a verdict as value.

#include <iostream>
#include <string>

#include <thole/assessment.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

int main() {
  try {
    const std::string text = thole::starter_setup();
    const thole::Setup setup = thole::read_setup(text, "starter", thole::built_in_materials());
    const thole::Assessment assessment = thole::assess(setup);
    std::cout << "verdict: " << thole::word_for(assessment.verdict) << "\n";
    return 0;
  } catch (const thole::Error& error) {
    std::cerr << error.what();
    return 2;
  }
}
