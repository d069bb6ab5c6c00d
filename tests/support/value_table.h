// SPDX-License-Identifier: Apache-2.0
/// \file value_table.h
/// Every value that a test checks against an outside truth, ours beside theirs, as a table:
///
///   ranking_tests "[truth]" --reporter values
///
/// One line a comparison: ours, theirs, the tolerance, and whether it
/// holds; the test's name, which names the source, stands above.
#pragma once

#include "support/test.h"

#include <cstdio>
#include <cstdlib>
#include <string>

namespace swingloss::test {

/// "0.5 is within 1e-9 of 0.5" in its three parts.
struct Compared {
  std::string ours, tolerance, theirs;
};

inline bool split(const std::string& expansion, Compared& parts) {
  const std::string within = " is within ";
  const std::string of = " of ";
  const std::size_t first = expansion.find(within);
  if (first == std::string::npos) return false;
  const std::size_t second = expansion.find(of, first + within.size());
  if (second == std::string::npos) return false;
  parts.ours = expansion.substr(0, first);
  parts.tolerance = expansion.substr(first + within.size(), second - first - within.size());
  parts.theirs = expansion.substr(second + of.size());
  return true;
}

/// The first argument of CHECK_THAT(value, matcher), at most 44 letters of it.
inline std::string what_of(const std::string& expression) {
  const std::string value = expression.substr(0, expression.find(", test::to_"));
  return value.size() <= 44 ? value : value.substr(0, 41) + "...";
}

class ValueTable : public Catch::StreamingReporterBase<ValueTable> {
 public:
  explicit ValueTable(const Catch::ReporterConfig& config) : StreamingReporterBase(config) {
    m_reporterPrefs.shouldReportAllAssertions = true;
    Catch::StringMaker<double>::precision = 17;
  }
  // NOLINTNEXTLINE(readability-identifier-naming): the name by which the test library asks
  static std::string getDescription() {
    return "every value compared with a tolerance: ours, theirs";
  }

  void assertionStarting(const Catch::AssertionInfo&) override {}
  bool assertionEnded(const Catch::AssertionStats& stats) override {
    Compared parts;
    const auto& result = stats.assertionResult;
    if (!split(result.getExpandedExpression(), parts)) return true;
    if (!titled_) stream << "\n" << currentTestCaseInfo->name << "\n";
    titled_ = true;
    ++count_;
    held_ += result.isOk() ? 1 : 0;
    char line[256];
    std::snprintf(line,
                  sizeof line,
                  "  %-44s %22s %22s  within %.1e %s\n",
                  what_of(result.getExpression()).c_str(),
                  parts.ours.c_str(),
                  parts.theirs.c_str(),
                  std::strtod(parts.tolerance.c_str(), nullptr),
                  result.isOk() ? "yes" : "NO");
    stream << line;
    return true;
  }
  void testCaseEnded(const Catch::TestCaseStats& stats) override {
    titled_ = false;
    StreamingReporterBase::testCaseEnded(stats);
  }
  void testRunEnded(const Catch::TestRunStats& stats) override {
    stream << "\n" << held_ << " of " << count_ << " values agree within their tolerance\n";
    StreamingReporterBase::testRunEnded(stats);
  }

 private:
  bool titled_ = false;
  int count_ = 0, held_ = 0;
};

}  // namespace swingloss::test

using swingloss::test::ValueTable;  // the macro makes names of its argument
CATCH_REGISTER_REPORTER("values", ValueTable)
