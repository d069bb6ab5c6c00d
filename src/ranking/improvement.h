// SPDX-License-Identifier: Apache-2.0
/// \file improvement.h
/// What would make a group's mean surer.
#pragma once

#include "ranking/group_summary.h"

#include <string>

namespace swingloss {

/// Whether the group shows how far its bars scatter: two or more values that are not all the
/// same, or the likelihood's estimate of them.
[[nodiscard]] bool has_scatter(const GroupSummary& group);

/// One sentence. Where the scatter is not known (one bar, limits alone, values all the same) it
/// says so and compares nothing with it; else worth_improving() of the budget. Empty for a
/// group without any value.
[[nodiscard]] std::string improvement_of(const GroupSummary& group);

}  // namespace swingloss
