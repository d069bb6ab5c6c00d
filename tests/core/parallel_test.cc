// SPDX-License-Identifier: Apache-2.0
#include "core/parallel.h"

#include "support/test.h"

#include <atomic>
#include <stdexcept>
#include <vector>

using namespace swingloss;

TEST_CASE("for_each_index calls each index once, with any number of jobs", "[core]") {
  for (const int jobs : {0, 1, 2, 7, 100}) {
    CAPTURE(jobs);
    std::vector<std::atomic<int>> calls(23);
    for_each_index(calls.size(), jobs, [&](std::size_t i) { ++calls[i]; });
    for (const auto& count : calls) CHECK(count == 1);
  }
}

TEST_CASE("for_each_index finishes the others before it throws the first fault", "[core]") {
  std::vector<std::atomic<int>> calls(10);
  const auto work = [&](std::size_t i) {
    ++calls[i];
    if (i == 7) throw std::runtime_error("seven");
    if (i == 3) throw std::runtime_error("three");
  };
  CHECK_THROWS_WITH(for_each_index(calls.size(), 4, work), "three");
  for (const auto& count : calls) CHECK(count == 1);
}

TEST_CASE("workers_for never asks for more threads than there is work, nor for none",
          "[core]") {
  CHECK(workers_for(8, 3) == 3);
  CHECK(workers_for(2, 30) == 2);
  CHECK(workers_for(5, 0) == 1);
  CHECK(workers_for(0, 1000) >= 1);
}
