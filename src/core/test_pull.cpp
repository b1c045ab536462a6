#include <thole/test_pull.hpp>

namespace thole {

std::string_view word_for(Agreement) { return ""; }
TestPullCard test_pull_card(const Setup&, const Assessment&) { return {}; }
std::vector<TestPullAnswer> judge_test_pulls(const Setup&, const Assessment&) { return {}; }

}  // namespace thole
