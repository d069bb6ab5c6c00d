// SPDX-License-Identifier: Apache-2.0
#include "ranking/letters.h"

#include "core/expects.h"

#include <algorithm>

namespace swingloss {
namespace {

using Column = std::vector<bool>;

bool within(const Column& small, const Column& large) {
  for (std::size_t i = 0; i < small.size(); ++i) {
    if (small[i] && !large[i]) return false;
  }
  return true;
}

/// Adds `column` unless another already holds all of it; drops those that it holds.
void absorb(std::vector<Column>& columns, const Column& column) {
  for (const Column& other : columns) {
    if (within(column, other)) return;
  }
  columns.erase(std::remove_if(columns.begin(),
                               columns.end(),
                               [&](const Column& other) { return within(other, column); }),
                columns.end());
  columns.push_back(column);
}

/// Splits every column that holds both groups of a different pair.
void insert(std::vector<Column>& columns, std::size_t first, std::size_t second) {
  const auto middle =
      std::stable_partition(columns.begin(), columns.end(), [&](const Column& c) {
        return !(c[first] && c[second]);
      });
  const std::vector<Column> split(middle, columns.end());
  columns.erase(middle, columns.end());
  for (Column column : split) {
    column[first] = false;
    absorb(columns, column);
    column[first] = true;
    column[second] = false;
    absorb(columns, column);
  }
}

std::string letter(std::size_t index) {
  const std::size_t round = index / 52;
  const std::size_t place = index % 52;
  const char name = static_cast<char>(place < 26 ? 'a' + static_cast<char>(place)
                                                 : 'A' + static_cast<char>(place - 26));
  return std::string(1, name) + (round == 0 ? "" : std::to_string(round + 1));
}

}  // namespace

std::vector<std::string> compact_letters(
    std::size_t groups, const std::vector<std::pair<std::size_t, std::size_t>>& different) {
  std::vector<std::string> letters(groups);
  if (groups == 0) return letters;
  std::vector<Column> columns{Column(groups, true)};
  for (const auto& [first, second] : different) {
    expects(first < groups && second < groups && first != second, "no such pair of groups");
    insert(columns, first, second);
  }
  // A column that starts higher comes first: true sorts before false, place by place.
  std::sort(columns.begin(), columns.end(), std::greater<>());
  for (std::size_t c = 0; c < columns.size(); ++c) {
    for (std::size_t g = 0; g < groups; ++g) {
      if (columns[c][g]) letters[g] += letter(c);
    }
  }
  return letters;
}

}  // namespace swingloss
