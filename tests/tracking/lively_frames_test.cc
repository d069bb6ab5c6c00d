// SPDX-License-Identifier: Apache-2.0
#include "tracking/lively_frames.h"

#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace swingloss;

namespace {

/// Directions of a recording in which the arm falls and swings for three seconds, once a
/// minute.
struct Recording {
  std::vector<double> t_s, theta_rad;

  Recording(double rate_per_s, double length_s) {
    for (int k = 0; k < int(rate_per_s * length_s); ++k) {
      const double t = k / rate_per_s, since = std::fmod(t, 60.0) - 30.0;
      t_s.push_back(t);
      theta_rad.push_back(is_swinging(t) ? 1.5 * std::sin(5.0 * since) : 0.0);
    }
  }
  static bool is_swinging(double t) {
    const double since = std::fmod(t, 60.0) - 30.0;
    return since >= 0.0 && since < 3.0;
  }
};

/// How many of the frames in which the arm swings are among those chosen.
double part_kept(const Recording& recording, const std::vector<int>& chosen) {
  int all = 0, kept = 0;
  for (std::size_t k = 0; k < recording.t_s.size(); ++k) {
    if (!Recording::is_swinging(recording.t_s[k])) continue;
    ++all;
    kept += std::binary_search(chosen.begin(), chosen.end(), int(k)) ? 1 : 0;
  }
  return double(kept) / all;
}

}  // namespace

TEST_CASE("all frames of a short clip are followed", "[tracking]") {
  const Recording recording(60.0, 20.0);
  CHECK(frames_to_refine(recording.t_s, recording.theta_rad).size() == recording.t_s.size());
}

TEST_CASE("a recording of four bars keeps every frame of their swings", "[tracking]") {
  const Recording recording(60.0, 240.0);
  const std::vector<int> chosen = frames_to_refine(recording.t_s, recording.theta_rad);
  CHECK(chosen.size() <= kMostRefined);
  CHECK(std::is_sorted(chosen.begin(), chosen.end()));
  CHECK(part_kept(recording, chosen) == 1.0);
  // And something of the rest, which shows where the arm hangs.
  CHECK(chosen.front() < 60 * 5);
  CHECK(chosen.back() > 60 * 235);
}

TEST_CASE("one that swings all the time is thinned evenly", "[tracking]") {
  Recording recording(60.0, 240.0);
  for (std::size_t k = 0; k < recording.t_s.size(); ++k)
    recording.theta_rad[k] = 1.5 * std::sin(5.0 * recording.t_s[k]);
  const std::vector<int> chosen = frames_to_refine(recording.t_s, recording.theta_rad);
  CHECK(chosen.size() <= kMostRefined);
  CHECK(chosen.size() > kMostRefined / 2);
  for (std::size_t i = 1; i < chosen.size(); ++i) CHECK(chosen[i] - chosen[i - 1] <= 20);
}

TEST_CASE("a direction that jumps is not taken for the fastest fall", "[tracking]") {
  Recording recording(60.0, 240.0);
  recording.theta_rad[5000] += 3.0;
  CHECK(part_kept(recording, frames_to_refine(recording.t_s, recording.theta_rad)) == 1.0);
}

TEST_CASE("slow motion keeps its swings as well", "[tracking]") {
  Recording recording(60.0, 240.0);
  for (double& t : recording.t_s) t *= 8.0;
  const std::vector<int> chosen = frames_to_refine(recording.t_s, recording.theta_rad);
  for (double& t : recording.t_s) t /= 8.0;
  CHECK(part_kept(recording, chosen) > 0.95);
}
