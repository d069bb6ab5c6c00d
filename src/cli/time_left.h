// SPDX-License-Identifier: Apache-2.0
/// \file time_left.h
/// How long a row of like pieces of work will still take.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

namespace swingloss {

/// Told of each finished piece. Pieces that cost nothing (stored ones, used again) say nothing
/// of the others: they are not counted, and what is still to come is taken as costly.
class TimeLeft {
 public:
  /// \param now_s  when the work began, on any clock that only goes forward
  explicit TimeLeft(double now_s) : last_s_(now_s) {}

  /// One more piece is done. \return seconds to go; nothing while there is no costly piece to
  /// go by, and at the end
  std::optional<double> tell(double now_s, std::size_t done, std::size_t count);

 private:
  double last_s_;
  double costly_s_ = 0.0;
  std::size_t costly_ = 0;
};

/// "about 3 min left", "about 40 s left"; rounded, for it is a guess.
[[nodiscard]] std::string time_left_words(double left_s);

}  // namespace swingloss
