// SPDX-License-Identifier: Apache-2.0
/// \file parallel.h
/// The same work on many things at once.
#pragma once

#include <cstddef>
#include <functional>

namespace swingloss {

/// Threads to use: `jobs`, or the machine's where it is 0, and never more than there is work.
[[nodiscard]] std::size_t workers_for(int jobs, std::size_t count);

/// Calls work(0) ... work(count - 1), each once, on up to `jobs` threads (0: the machine's).
/// Work that writes only to its own place gives the same result for any number of jobs.
/// \throws whatever `work` threw for the lowest index, after all threads have ended
void for_each_index(std::size_t count, int jobs, const std::function<void(std::size_t)>& work);

}  // namespace swingloss
