// SPDX-License-Identifier: Apache-2.0
/// \file all_cores.h
/// Independent pieces of work spread over the machine's cores.
#pragma once

#include <algorithm>
#include <cstddef>
#include <exception>
#include <thread>
#include <vector>

namespace swingloss {

/// Calls work(i) once for each i below count, in no fixed order. \param work  what it writes
/// for one i no other i may touch, so that the result does not depend on the cores \throws what
/// work() throws (memory may run out), the first of it, once all have ended
template <typename Work>
void on_all_cores(std::size_t count, const Work& work) {
  const std::size_t workers = std::clamp(std::thread::hardware_concurrency(), 1U, 8U);
  std::vector<std::exception_ptr> thrown(workers);
  const auto share = [&](std::size_t w) {
    try {
      for (std::size_t i = w; i < count; i += workers) work(i);
    } catch (...) {
      thrown[w] = std::current_exception();
    }
  };
  std::vector<std::thread> threads;
  for (std::size_t w = 1; w < workers; ++w) threads.emplace_back(share, w);
  share(0);
  for (std::thread& thread : threads) thread.join();
  for (const std::exception_ptr& each : thrown) {
    if (each) std::rethrow_exception(each);
  }
}

}  // namespace swingloss
