// SPDX-License-Identifier: Apache-2.0
#include "tracking/exposure_search.h"

#include "tracking/all_cores.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kLongestExposure_s = 1.0 / 25.0;

/// Sum of squared misfits of the listed frames for one assumed exposure.
double blur_misfit(const RegistrationScene& scene,
                   const std::vector<std::size_t>& fast,
                   double exposure_s) {
  RegistrationScene blurred = scene;
  blurred.options.exposure_s = exposure_s;
  blurred.options.stride = 2;  // a mean misfit needs no more
  std::vector<double> misfits(fast.size());
  on_all_cores(fast.size(), [&](std::size_t i) {
    misfits[i] = agreement_of_one(blurred, fast[i], scene.theta_rad[fast[i]]).residual_level;
  });
  double sum = 0.0;
  for (double misfit : misfits) sum += misfit * misfit;
  return sum;
}

/// Frames that the blur shows in: fast ones, spread over their speeds, and of those the half
/// that agrees best with the arm (the rest pass before its stand or beside a shadow).
std::vector<std::size_t> fast_frames(const RegistrationScene& scene,
                                     const std::vector<double>& frame_score) {
  constexpr std::size_t kMost = 16;
  double fastest = 0.0;
  for (const ArmCrop& crop : scene.crops)
    fastest = std::max(fastest, std::abs(crop.omega_rad_per_s));
  std::vector<std::size_t> fast;
  for (std::size_t k = 0; k < scene.crops.size(); ++k) {
    if (std::abs(scene.crops[k].omega_rad_per_s) >= 0.4 * fastest) fast.push_back(k);
  }
  if (frame_score.size() == scene.crops.size()) {
    std::stable_sort(fast.begin(), fast.end(), [&](std::size_t a, std::size_t b) {
      return frame_score[a] > frame_score[b];
    });
    fast.resize((fast.size() + 1) / 2);
  }
  const std::size_t step = 1 + fast.size() / kMost;
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < fast.size(); i += step) chosen.push_back(fast[i]);
  return chosen;
}

double smallest_gap_s(const std::vector<ArmCrop>& crops) {
  double gap_s = 1.0;
  for (std::size_t i = 1; i < crops.size(); ++i) {
    const double step_s =
        (crops[i].t_s - crops[i - 1].t_s) / (crops[i].frame - crops[i - 1].frame);
    if (step_s > 0.0) gap_s = std::min(gap_s, step_s);
  }
  return gap_s;
}

FrameStart start_of(const RegistrationScene& scene, std::size_t k, double theta_rad) {
  return {scene.crops[k], theta_rad, scene.view, scene.background};
}

}  // namespace

FrameRegistration register_one(const RegistrationScene& scene,
                               std::size_t k,
                               double theta_rad) {
  return register_frame(scene.body, start_of(scene, k, theta_rad), scene.options);
}

FrameAgreement agreement_of_one(const RegistrationScene& scene,
                                std::size_t k,
                                double theta_rad) {
  return agreement_of_frame(scene.body, start_of(scene, k, theta_rad), scene.options);
}

std::vector<FrameRegistration> register_all(const RegistrationScene& scene) {
  std::vector<FrameRegistration> out(scene.crops.size());
  on_all_cores(out.size(),
               [&](std::size_t k) { out[k] = register_one(scene, k, scene.theta_rad[k]); });
  return out;
}

double find_exposure(const RegistrationScene& scene, const std::vector<double>& frame_score) {
  const std::vector<std::size_t> fast = fast_frames(scene, frame_score);
  const double longest_s = std::min(kLongestExposure_s, smallest_gap_s(scene.crops));
  double best_s = 0.0, best_misfit = blur_misfit(scene, fast, 0.0);
  double exposure_s = 0.0005;
  while (exposure_s <= longest_s) {
    const double misfit = blur_misfit(scene, fast, exposure_s);
    if (misfit < best_misfit) best_misfit = misfit, best_s = exposure_s;
    exposure_s *= 1.25;
  }
  return best_s;
}

}  // namespace swingloss
