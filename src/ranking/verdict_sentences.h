// SPDX-License-Identifier: Apache-2.0
/// \file verdict_sentences.h
/// The ranking in plain words.
#pragma once

#include "ranking/ranking.h"

#include <string>
#include <vector>

namespace swingloss {

/// One sentence on who leads, then for each group, toughest first, what it reached and how it
/// stands to the one before it. Groups and comparisons of `ranking` are filled in.
[[nodiscard]] std::vector<std::string> verdict_sentences(const Ranking& ranking);

/// One sentence an effect, one a contrast. Effects and contrasts of `ranking` are filled in.
[[nodiscard]] std::vector<std::string> effect_sentences(const Ranking& ranking);

}  // namespace swingloss
