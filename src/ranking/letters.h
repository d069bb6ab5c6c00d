// SPDX-License-Identifier: Apache-2.0
/// \file letters.h
/// The compact letter display: groups that share a letter are not clearly apart.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace swingloss {

/// Letters by insert-and-absorb [Piepho2004]: start with one column that holds every group;
/// for each different pair split every column that holds both; drop columns that lie within
/// another. Two groups then share a letter exactly when the pair is not different.
///
/// Letters are given out in the order of the groups, so that the first group has "a". After
/// a..z follow A..Z, then a2, b2, ... (a digit belongs to the letter before it).
///
/// Agrees with R's multcompView (tests/ranking/letters_test.cc).
/// \param groups     number of groups
/// \param different  pairs of indices below `groups` that differ
/// \return one text a group, letters in order; empty when there is no group
[[nodiscard]] std::vector<std::string> compact_letters(
    std::size_t groups, const std::vector<std::pair<std::size_t, std::size_t>>& different);

}  // namespace swingloss
