// SPDX-License-Identifier: Apache-2.0
#include "swing/split_blows.h"

#include "swing/find_falls.h"
#include "swing/oriented_track.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr double kMostBefore_s = 20.0;
constexpr double kMostAfter_s = 30.0;

/// When the arm is readied for its next fall: where it leaves the last rest before it, else
/// where its hold, or the fall, begins.
double readied_s(const OrientedTrack& whole,
                 const FallsFound& found,
                 double after_s,
                 const Fall& next) {
  double at_s = next.hold ? whole.samples[next.hold->begin].t_s : next.start_s;
  const double held_s = at_s;
  for (const StaticStretch& still : found.still) {
    const double left_s = whole.samples[still.end - 1].t_s;
    if (left_s > after_s && left_s < held_s) at_s = left_s;
  }
  return at_s;
}

}  // namespace

Result<std::vector<AngleTrack>> split_blows(const AngleTrack& track) {
  const OrientedTrack whole = without_wild(as_it_stands(track));
  const Result<FallsFound> found = find_falls(whole.samples);
  if (!found.ok()) return found.failure();
  const std::vector<Fall>& falls = found.value().falls;
  const std::vector<std::size_t> blows = all_blows(falls);
  if (blows.size() < 2) return std::vector<AngleTrack>{track};
  const double w0 = found.value().guess.natural_rad_per_s;
  std::vector<AngleTrack> parts;
  for (std::size_t k = 0; k < blows.size(); ++k) {
    const double bottom_s = falls[blows[k]].bottom_s;
    double from_s = bottom_s - kMostBefore_s;
    double to_s = bottom_s + kMostAfter_s;
    // A quarter of a period and more: what follows the blow before is not its rise.
    if (k > 0) from_s = std::max(from_s, falls[blows[k - 1]].bottom_s + 2.0 / w0);
    if (k + 1 < blows.size())
      to_s = std::min(to_s, readied_s(whole, found.value(), bottom_s, falls[blows[k + 1]]));
    parts.push_back(stretch_of(track, from_s, to_s));
  }
  return parts;
}

}  // namespace swingloss
