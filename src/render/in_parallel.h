// SPDX-License-Identifier: Apache-2.0
/// \file in_parallel.h
/// The one way this module uses threads.
#pragma once

#include <exception>
#include <thread>
#include <vector>

namespace swingloss::render {

/// Calls work(part, begin, end) for `jobs` stretches of 0 .. count, each on its own thread, and
/// waits. The first exception is thrown again here.
template <typename Work>
void in_parallel(int count, int jobs, const Work& work) {
  std::vector<std::exception_ptr> faults(static_cast<std::size_t>(jobs));
  const auto run = [&](int part) {
    try {
      work(part, count * part / jobs, count * (part + 1) / jobs);
    } catch (...) {
      faults[static_cast<std::size_t>(part)] = std::current_exception();
    }
  };
  std::vector<std::thread> others;
  for (int part = 1; part < jobs; ++part) others.emplace_back(run, part);
  run(0);
  for (std::thread& other : others) other.join();
  for (const std::exception_ptr& fault : faults) {
    if (fault) std::rethrow_exception(fault);
  }
}

}  // namespace swingloss::render
