// SPDX-License-Identifier: Apache-2.0
/// \file expects.h
/// Our own preconditions: breaking one is a bug of ours, never the user's.
#pragma once

#include <stdexcept>

namespace swingloss {

/// \throws std::logic_error with `what` when `condition` is false; the program exits 3.
inline void expects(bool condition, const char* what) {
  if (!condition) throw std::logic_error(what);
}

}  // namespace swingloss
