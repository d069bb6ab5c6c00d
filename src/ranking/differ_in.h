// SPDX-License-Identifier: Apache-2.0
/// \file differ_in.h
/// What tells two groups apart beside their means.
#pragma once

#include "ranking/group_summary.h"
#include "ranking/tie_rigs.h"

#include <string>
#include <vector>

namespace swingloss {

/// Of "material", "condition", "orientation", "kind of break" and "instrument" those in which
/// the groups differ. With two or more, a difference of the means belongs to all of them
/// together and to none alone.
///
/// Kinds of break differ where the two means are of classes that ISO 179-1 / ISO 180 keep
/// apart, both of them known; instruments, where no bar of the one was broken on a rig of the
/// other, tied rigs counting as one.
/// \param bars  those that the groups' indices point into
[[nodiscard]] std::vector<std::string> differ_in(const GroupSummary& first,
                                                 const GroupSummary& second,
                                                 const std::vector<Bar>& bars,
                                                 const std::vector<RigTie>& ties);

}  // namespace swingloss
