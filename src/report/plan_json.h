// SPDX-License-Identifier: Apache-2.0
/// \file plan_json.h
/// A plan as JSON.
#pragma once

#include "series/plan_ahead.h"

#include <string>

namespace swingloss {

/// Format "swingloss/plan/1": scatter used, bars for each difference and power, precision by
/// number of bars, what the source's groups have reached, hammers, and u(W) over the release
/// angle in degrees. What is not known is null.
[[nodiscard]] std::string plan_json(const PlanAnswer& answer);

}  // namespace swingloss
