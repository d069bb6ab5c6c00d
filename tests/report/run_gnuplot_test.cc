// SPDX-License-Identifier: Apache-2.0
#include "report/run_gnuplot.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <filesystem>
#include <stdexcept>
#include <string>

namespace swingloss {

TEST_CASE("run_gnuplot says which package to install when there is no gnuplot", "[report]") {
  const std::string absent = "gnuplot-that-is-nowhere";
  CHECK_THROWS_WITH(run_gnuplot("exit\n", absent),
                    Catch::Contains("no program \"" + absent) &&
                        Catch::Contains("apt-get install gnuplot-nox"));
  CHECK_THROWS_AS(run_gnuplot("exit\n", absent), InputError);
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
  const std::string here = home.path();
  const std::string at_home =
      home.write("gnuplot-at-home", "#!/bin/sh\nHOME='" + here + "' exec gnuplot \"$@\"\n");
  std::filesystem::permissions(at_home, std::filesystem::perms::owner_all);
  CHECK(run_gnuplot("set print \"-\"\nprint 1\n", at_home) == "1\n");
}

}  // namespace swingloss
