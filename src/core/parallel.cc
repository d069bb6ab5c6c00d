// SPDX-License-Identifier: Apache-2.0
#include "core/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace swingloss {

std::size_t workers_for(int jobs, std::size_t count) {
  const std::size_t machine = std::max(1U, std::thread::hardware_concurrency());
  const std::size_t wanted = jobs > 0 ? static_cast<std::size_t>(jobs) : machine;
  return std::max<std::size_t>(1, std::min(wanted, count));
}

namespace {

/// What the work threw; nothing when it went well.
std::exception_ptr thrown_by(const std::function<void(std::size_t)>& work, std::size_t i) {
  try {
    work(i);
  } catch (...) {
    return std::current_exception();
  }
  return nullptr;
}

}  // namespace

void for_each_index(std::size_t count, int jobs, const std::function<void(std::size_t)>& work) {
  std::vector<std::exception_ptr> thrown(count);
  std::atomic<std::size_t> next{0};
  const auto take_turns = [&] {
    for (std::size_t i = next++; i < count; i = next++) thrown[i] = thrown_by(work, i);
  };
  std::vector<std::thread> helpers;
  for (std::size_t k = 1; k < workers_for(jobs, count); ++k) helpers.emplace_back(take_turns);
  take_turns();
  for (std::thread& helper : helpers) helper.join();
  for (const std::exception_ptr& error : thrown) {
    if (error) std::rethrow_exception(error);
  }
}

}  // namespace swingloss
