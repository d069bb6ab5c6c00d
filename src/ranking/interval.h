// SPDX-License-Identifier: Apache-2.0
/// \file interval.h
/// A range of values that the data do not contradict.
#pragma once

#include <optional>

namespace swingloss {

/// An interval; an end is absent where the data give none (all bars censored).
struct Interval {
  std::optional<double> low, high;
};

}  // namespace swingloss
