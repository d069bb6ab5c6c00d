// SPDX-License-Identifier: Apache-2.0
/// \file reuse.h
/// What a run makes of the records that earlier ones stored, and which bars are its own.
#pragma once

#include <cstddef>

namespace swingloss {

enum class Reuse {
  Unchanged,  ///< takes what was measured from the same inputs, measures the rest
  Nothing,    ///< measures all again
  Only        ///< measures nothing: a record that is not stored is missing
};

/// Every `of`-th bar of the table, from the `number`-th on: a machine's share of a series.
struct SeriesPart {
  std::size_t number = 1, of = 1;  ///< 1 <= number <= of

  /// \param index  place in specimens.csv, 0 the first
  [[nodiscard]] bool has(std::size_t index) const { return index % of == number - 1; }
};

}  // namespace swingloss
