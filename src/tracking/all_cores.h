// SPDX-License-Identifier: Apache-2.0
/// \file all_cores.h
/// Independent pieces of work spread over the machine's cores.
#pragma once

#include "core/parallel.h"

#include <cstddef>
#include <functional>

namespace swingloss {

/// for_each_index() on the machine's cores, eight at most: bars are measured side by side as
/// well.
inline void on_all_cores(std::size_t count, const std::function<void(std::size_t)>& work) {
  constexpr std::size_t kMost = 8;
  for_each_index(count, static_cast<int>(workers_for(0, kMost)), work);
}

}  // namespace swingloss
