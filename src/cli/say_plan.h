// SPDX-License-Identifier: Apache-2.0
/// \file say_plan.h
/// A plan in words, for a terminal.
#pragma once

#include "series/plan_ahead.h"

#include <string>

namespace swingloss {

/// Tables of bars, precision, what was reached, hammers, and u(W) at every tenth degree.
[[nodiscard]] std::string account_of(const PlanAnswer& answer);

}  // namespace swingloss
