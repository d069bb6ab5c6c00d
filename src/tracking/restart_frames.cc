// SPDX-License-Identifier: Apache-2.0
#include "tracking/restart_frames.h"

#include "core/angle.h"
#include "core/median.h"
#include "tracking/all_cores.h"
#include "tracking/frame_course.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kStep_rad = 0.15 * kPi / 180.0, kMargin_rad = 1.0 * kPi / 180.0;
/// A search over more than this is a lost frame, not a drawn one.
constexpr double kWidest_rad = 6.0 * kPi / 180.0;
/// A frame off its neighbours' course by less is left where it is: a score that is higher a
/// degree away is then chance (a few sharp dots score by luck). One that agrees well otherwise
/// may be off by more.
constexpr double kOnCourse_rad = 0.15 * kPi / 180.0, kOffCourse_rad = 0.4 * kPi / 180.0;

double best_direction_rad(const RegistrationScene& fine, std::size_t k, double course) {
  RegistrationScene scene = fine;
  scene.options.stride = 2;  // a score needs no more
  const double present = scene.theta_rad[k];
  if (std::abs(course - present) > kWidest_rad) return present;
  double best_rad = present, best_score = -1.0;
  const double low = std::min(course, present) - kMargin_rad,
               high = std::max(course, present) + kMargin_rad;
  const auto steps = static_cast<int>(std::floor((high - low) / kStep_rad));
  for (int step = 0; step <= steps; ++step) {
    const double theta = low + step * kStep_rad;
    const double score = agreement_of_one(scene, k, theta).score;
    if (score > best_score) best_score = score, best_rad = theta;
  }
  return best_rad;
}

}  // namespace

std::vector<double> restart_frames(const RegistrationScene& scene,
                                   const std::vector<double>& frame_score) {
  const double typical = median_of(frame_score);
  std::vector<bool> trusted(frame_score.size());
  std::transform(frame_score.begin(), frame_score.end(), trusted.begin(), [&](double score) {
    return score > 0.85 * typical;
  });
  std::vector<double> out = scene.theta_rad;
  on_all_cores(out.size(), [&](std::size_t k) {
    const double course =
        course_rad(scene.crops, scene.theta_rad, trusted, k).value_or(scene.theta_rad[k]);
    const double allowed = trusted[k] ? kOffCourse_rad : kOnCourse_rad;
    if (std::abs(course - scene.theta_rad[k]) < allowed) return;
    out[k] = best_direction_rad(scene, k, course);
  });
  return out;
}

}  // namespace swingloss
