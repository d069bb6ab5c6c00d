// SPDX-License-Identifier: Apache-2.0
#include "tracking/all_cores.h"

#include "support/test.h"

#include <algorithm>
#include <new>
#include <vector>

using namespace swingloss;

TEST_CASE("each piece of work is done once", "[tracking]") {
  std::vector<int> done(1000, 0);
  on_all_cores(done.size(), [&](std::size_t i) { ++done[i]; });
  CHECK(std::all_of(done.begin(), done.end(), [](int times) { return times == 1; }));
  on_all_cores(0, [](std::size_t) { FAIL("there is nothing to do"); });
}

TEST_CASE("what one piece throws arrives at the caller, whichever core it was on",
          "[tracking]") {
  for (std::size_t bad = 0; bad < 16; ++bad) {
    CAPTURE(bad);
    const auto work = [&](std::size_t i) {
      if (i == bad) throw std::bad_alloc();
    };
    CHECK_THROWS_AS(on_all_cores(16, work), std::bad_alloc);
  }
}
