// SPDX-License-Identifier: Apache-2.0
/// \file chart_texts.h
/// What every picture that leaves the report says of its data.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// `words`, after a statement that the data are invented or rendered where they are.
[[nodiscard]] std::string footnote_words(const SeriesResult& series, const std::string& words);

/// What the marks mean that not every series has: bars beyond what could be measured, bars
/// left out. Empty where the ranking has neither, otherwise whole sentences.
[[nodiscard]] std::string rare_mark_words(const SeriesResult& series);

/// What is invented: the series' label, or "invented or rendered data".
[[nodiscard]] std::string invention_words(const SeriesResult& series);

/// For pictures whose letters are few and plain: that the data are invented or rendered, or
/// nothing where they are not.
[[nodiscard]] std::string demonstration_stamp(const SeriesResult& series);

/// The ranking in one line of plain text, for a comment under a video: every group with mean
/// (or bound), interval and letters, what the letters mean, and what was not measured. Ends
/// with a line feed; holds no other.
[[nodiscard]] std::string summary_line(const SeriesResult& series);

}  // namespace swingloss
