// SPDX-License-Identifier: Apache-2.0
/// \file group_remarks.h
/// What a group has to say beside its numbers.
#pragma once

#include "ranking/estimate_group.h"

namespace swingloss {

/// Remarks of one group, most weighty first: how its mean was come by, what was kept apart or
/// pooled, which bars to look at again, which were not counted.
[[nodiscard]] Remarks group_remarks(const std::vector<Bar>& bars,
                                    Quantity quantity,
                                    const BarGroup& group,
                                    const GroupEstimate& estimate);

}  // namespace swingloss
