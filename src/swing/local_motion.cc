// SPDX-License-Identifier: Apache-2.0
#include "swing/local_motion.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// Neighbourhood [begin, end) of sample i.
struct Window {
  std::size_t begin = 0, end = 0;
};

Window window_about(const std::vector<AngleSample>& samples, std::size_t i, double half_s) {
  constexpr std::size_t kFewest = 5;
  const double t_s = samples[i].t_s;
  Window w{i, i + 1};
  while (w.begin > 0 && t_s - samples[w.begin - 1].t_s <= half_s) --w.begin;
  while (w.end < samples.size() && samples[w.end].t_s - t_s <= half_s) ++w.end;
  while (w.end - w.begin < kFewest) {
    const double left_s = w.begin > 0 ? t_s - samples[w.begin - 1].t_s : 1e300;
    const double right_s = w.end < samples.size() ? samples[w.end].t_s - t_s : 1e300;
    if (std::min(left_s, right_s) > 2.0 * half_s) return {i, i};
    if (left_s < right_s) {
      --w.begin;
    } else {
      ++w.end;
    }
  }
  return w;
}

/// Weighted parabola about sample i; time in units of `scale_s`.
Eigen::Vector3d parabola(const std::vector<AngleSample>& samples,
                         std::size_t i,
                         const Window& w,
                         double scale_s,
                         const std::vector<double>& weight) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (std::size_t k = w.begin; k < w.end; ++k) {
    const double x = (samples[k].t_s - samples[i].t_s) / scale_s;
    const Eigen::Vector3d row(1.0, x, x * x);
    normal += weight[k - w.begin] * row * row.transpose();
    right += weight[k - w.begin] * row * (samples[k].theta_rad - samples[i].theta_rad);
  }
  return normal.ldlt().solve(right);
}

/// How far each sample lies off the parabola [rad].
std::vector<double> misfits(const std::vector<AngleSample>& samples,
                            std::size_t i,
                            const Window& w,
                            double scale_s,
                            const Eigen::Vector3d& c) {
  std::vector<double> misfit;
  misfit.reserve(w.end - w.begin);
  for (std::size_t k = w.begin; k < w.end; ++k) {
    const double x = (samples[k].t_s - samples[i].t_s) / scale_s;
    const double off = samples[k].theta_rad - samples[i].theta_rad;
    misfit.push_back(std::abs(off - c[0] - x * (c[1] + x * c[2])));
  }
  return misfit;
}

/// Bisquare weights [BeatonTukey1974] of the residuals of a parabola, scale by their median.
std::vector<double> bisquare(const std::vector<AngleSample>& samples,
                             std::size_t i,
                             const Window& w,
                             double scale_s,
                             const Eigen::Vector3d& c) {
  const std::vector<double> residual = misfits(samples, i, w, scale_s, c);
  const double reach = 6.0 * std::max(1.5 * median_of(residual), samples[i].u_rad);
  std::vector<double> weight;
  for (const double r : residual) {
    const double part = std::min(1.0, r / reach);
    weight.push_back(std::pow(1.0 - part * part, 2) + 1e-9);
  }
  return weight;
}

LocalMotion motion_at(const std::vector<AngleSample>& samples, std::size_t i, const Window& w) {
  const double scale_s =
      std::max(samples[w.end - 1].t_s - samples[i].t_s, samples[i].t_s - samples[w.begin].t_s);
  std::vector<double> weight(w.end - w.begin, 1.0);
  Eigen::Vector3d c = parabola(samples, i, w, scale_s, weight);
  // With five samples there is none to spare.
  for (int round = 0; round < 4 && weight.size() >= 7; ++round) {
    weight = bisquare(samples, i, w, scale_s, c);
    c = parabola(samples, i, w, scale_s, weight);
  }
  LocalMotion motion;
  motion.theta_rad = samples[i].theta_rad + c[0];
  motion.omega_rad_per_s = c[1] / scale_s;
  motion.alpha_rad_per_s2 = 2.0 * c[2] / (scale_s * scale_s);
  double sum = 0.0;
  for (const double off : misfits(samples, i, w, scale_s, c)) sum += off * off;
  // A parabola has three constants.
  motion.scatter_rad = std::sqrt(sum / std::max(1.0, double(w.end - w.begin) - 3.0));
  motion.known = true;
  return motion;
}

}  // namespace

std::vector<LocalMotion> local_motion(const std::vector<AngleSample>& samples,
                                      double half_width_s) {
  std::vector<LocalMotion> motion(samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const Window w = window_about(samples, i, half_width_s);
    if (w.end > w.begin) motion[i] = motion_at(samples, i, w);
  }
  return motion;
}

std::vector<AngleSample> running_median(const std::vector<AngleSample>& samples) {
  std::vector<AngleSample> smooth = samples;
  const std::size_t n = samples.size();
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<double> near;
    for (std::size_t k = i < 2 ? 0 : i - 2; k < std::min(n, i + 3); ++k) {
      near.push_back(samples[k].theta_rad);
    }
    smooth[i].theta_rad = median_of(near);
  }
  return smooth;
}

std::vector<AngleSample> without_spikes(const std::vector<AngleSample>& samples) {
  std::vector<AngleSample> calm = samples;
  for (std::size_t i = 2; i + 2 < samples.size(); ++i) {
    const double theta = samples[i].theta_rad;
    const std::vector<double> around = {samples[i - 2].theta_rad,
                                        samples[i - 1].theta_rad,
                                        samples[i + 1].theta_rad,
                                        samples[i + 2].theta_rad};
    const auto [low, high] = std::minmax_element(around.begin(), around.end());
    std::vector<double> all = around;
    all.push_back(theta);
    const double median = median_of(all);
    const double reach = *high - *low + 10.0 * samples[i].u_rad;
    if (std::abs(theta - median) > reach) calm[i].theta_rad = median;
  }
  return calm;
}

std::vector<StaticStretch> static_stretches(const std::vector<AngleSample>& samples,
                                            double band_rad,
                                            double shortest_s) {
  constexpr std::size_t kFewest = 4;
  std::vector<StaticStretch> stretches;
  std::size_t begin = 0;
  while (begin < samples.size()) {
    double sum = samples[begin].theta_rad;
    std::size_t end = begin + 1;
    while (end < samples.size()) {
      const double mean = sum / static_cast<double>(end - begin);
      if (std::abs(samples[end].theta_rad - mean) > band_rad) break;
      sum += samples[end].theta_rad;
      ++end;
    }
    const bool long_enough = samples[end - 1].t_s - samples[begin].t_s >= shortest_s;
    if (end - begin >= kFewest && long_enough) {
      stretches.push_back({begin, end, sum / static_cast<double>(end - begin)});
      begin = end;
    } else {
      ++begin;
    }
  }
  return stretches;
}

double usual_interval_s(const std::vector<AngleSample>& samples) {
  std::vector<double> intervals;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    intervals.push_back(samples[i].t_s - samples[i - 1].t_s);
  }
  return median_of(intervals);
}

}  // namespace swingloss
