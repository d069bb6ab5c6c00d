// SPDX-License-Identifier: Apache-2.0
#include "tracking/exposure_search.h"

#include <algorithm>
#include <cmath>
#include <thread>

namespace swingloss {
namespace {

constexpr double kLongestExposure_s = 1.0 / 25.0;

/// Sum of squared misfits of the listed frames for one assumed exposure.
double blur_misfit(const RegistrationScene& scene,
                   const std::vector<std::size_t>& fast,
                   double exposure_s) {
  RegistrationOptions options = scene.options;
  options.exposure_s = exposure_s;
  double sum = 0.0;
  for (std::size_t k : fast) {
    const FrameRegistration f = register_frame(
        scene.body, scene.crops[k], scene.theta_rad[k], scene.view, scene.background, options);
    sum += f.residual_level * f.residual_level;
  }
  return sum;
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

}  // namespace

std::vector<FrameRegistration> register_all(const RegistrationScene& scene) {
  std::vector<FrameRegistration> out(scene.crops.size());
  const std::size_t workers = std::clamp(std::thread::hardware_concurrency(), 1U, 8U);
  std::vector<std::thread> threads;
  for (std::size_t w = 0; w < workers; ++w) {
    threads.emplace_back([&, w] {
      for (std::size_t k = w; k < scene.crops.size(); k += workers) {
        out[k] = register_frame(scene.body,
                                scene.crops[k],
                                scene.theta_rad[k],
                                scene.view,
                                scene.background,
                                scene.options);
      }
    });
  }
  for (std::thread& t : threads) t.join();
  return out;
}

double find_exposure(const RegistrationScene& scene) {
  std::vector<std::size_t> order(scene.crops.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::abs(scene.crops[a].omega_rad_per_s) > std::abs(scene.crops[b].omega_rad_per_s);
  });
  order.resize(std::min<std::size_t>(order.size(), 8));
  const double longest_s = std::min(kLongestExposure_s, smallest_gap_s(scene.crops));
  double best_s = 0.0, best_misfit = blur_misfit(scene, order, 0.0);
  for (double exposure_s = 0.001; exposure_s <= longest_s; exposure_s *= 1.4) {
    const double misfit = blur_misfit(scene, order, exposure_s);
    if (misfit < best_misfit) best_misfit = misfit, best_s = exposure_s;
  }
  return best_s;
}

}  // namespace swingloss
