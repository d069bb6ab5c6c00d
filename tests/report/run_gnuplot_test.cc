// SPDX-License-Identifier: Apache-2.0
#include "report/run_gnuplot.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cstdlib>
#include <stdexcept>

namespace swingloss {
namespace {

/// A variable of the environment as something else, for one test.
class OtherValue {
 public:
  OtherValue(const char* name, const char* value)
      : name_(name), before_(std::getenv(name) == nullptr ? "" : std::getenv(name)) {
    ::setenv(name, value, 1);
  }
  ~OtherValue() { ::setenv(name_, before_.c_str(), 1); }
  OtherValue(const OtherValue&) = delete;
  OtherValue& operator=(const OtherValue&) = delete;

 private:
  const char* name_;
  std::string before_;
};

}  // namespace

TEST_CASE("run_gnuplot says which package to install when there is no gnuplot", "[report]") {
  const OtherValue nowhere("PATH", "");
  CHECK_THROWS_WITH(
      run_gnuplot("exit\n"),
      Catch::Contains("gnuplot") && Catch::Contains("apt-get install gnuplot-nox"));
  CHECK_THROWS_AS(run_gnuplot("exit\n"), InputError);
}

TEST_CASE("run_gnuplot takes a refused script for a fault of ours", "[report]") {
  CHECK_THROWS_AS(run_gnuplot("plot nonsense nonsense\n"), std::logic_error);
}

TEST_CASE("run_gnuplot gives back the picture and takes scripts longer than any pipe",
          "[report]") {
  std::string script = "set terminal svg\nplot \"-\" with points\n";
  for (int i = 0; i < 40000; ++i) script += std::to_string(i) + " 1\n";
  script += "e\n";
  const std::string picture = run_gnuplot(script);
  CHECK(picture.find("<svg") != std::string::npos);
  CHECK(picture.find("</svg>") != std::string::npos);
  CHECK(picture.size() > 1000000);
}

TEST_CASE("run_gnuplot reads no start-up file of the user", "[report]") {
  const test::TempFolder home;
  home.write(".gnuplot", "set print \"-\"\nprint \"started\"\n");
  const OtherValue elsewhere("HOME", home.path().c_str());
  CHECK(run_gnuplot("set print \"-\"\nprint 1\n") == "1\n");
}

}  // namespace swingloss
