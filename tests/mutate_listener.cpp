// For tests/mutate: which blocks every test case executes, and its CPU time. Linked with sources
// compiled with -fsanitize-coverage=trace-pc; this file is not.

#include <doctest/doctest.h>

#include <atomic>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <vector>

extern "C" char __executable_start;
extern "C" char etext;

namespace {

std::uint8_t* seen = nullptr;  // one for each byte of code
std::uintptr_t base = 0;
std::uintptr_t size = 0;
std::vector<std::uint32_t> fresh(4U << 20U);
std::atomic<std::size_t> count{0};

}  // namespace

extern "C" void __sanitizer_cov_trace_pc() {
  const auto at = reinterpret_cast<std::uintptr_t>(__builtin_return_address(0)) - base;
  if (seen == nullptr || at >= size || seen[at] != 0) return;
  seen[at] = 1;
  const std::size_t n = count++;
  if (n < fresh.size()) fresh[n] = std::uint32_t(at + base);
}

namespace {

struct Trace : doctest::IReporter {
  explicit Trace(const doctest::ContextOptions&) {}

  void test_run_start() override {
    if (const char* name = std::getenv("THOLE_TRACE")) out_ = std::fopen(name, "wb");
    base = reinterpret_cast<std::uintptr_t>(&__executable_start);
    size = reinterpret_cast<std::uintptr_t>(&etext) - base;
    seen = static_cast<std::uint8_t*>(std::calloc(size, 1));
  }
  void test_case_start(const doctest::TestCaseData& test) override {
    name_ = test.m_name;
    for (std::size_t i = 0; i < count; ++i) seen[fresh[i] - base] = 0;
    count = 0;
    start_ = std::clock();
  }
  void test_case_end(const doctest::CurrentTestCaseStats& stats) override {
    if (out_ == nullptr) return;
    const double seconds = double(std::clock() - start_) / CLOCKS_PER_SEC;
    std::fprintf(out_, "%.6f %d %zu %s\n", seconds, stats.testCaseSuccess ? 0 : 1, count.load(),
                 name_);
    std::fwrite(fresh.data(), sizeof(std::uint32_t), count, out_);
  }
  void test_run_end(const doctest::TestRunStats&) override {
    if (out_ != nullptr) std::fclose(out_);
  }
  void report_query(const doctest::QueryData&) override {}
  void test_case_reenter(const doctest::TestCaseData&) override {}
  void test_case_exception(const doctest::TestCaseException&) override {}
  void subcase_start(const doctest::SubcaseSignature&) override {}
  void subcase_end() override {}
  void log_assert(const doctest::AssertData&) override {}
  void log_message(const doctest::MessageData&) override {}
  void test_case_skipped(const doctest::TestCaseData&) override {}

 private:
  std::FILE* out_ = nullptr;
  const char* name_ = "";
  std::clock_t start_ = 0;
};

DOCTEST_REGISTER_LISTENER("trace", 1, Trace);

}  // namespace
