// SPDX-License-Identifier: Apache-2.0
#include "swing/made_clip.h"

#include "core/angle.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace swingloss::test {
namespace {

constexpr double kStep_s = 1e-4;

double height(double theta) { return 1.0 - std::cos(theta); }

}  // namespace

MadeClip::MadeClip(const MadeRig& rig) : rig_(rig) { thetas_.push_back(0.0); }

void MadeClip::note(double theta) { thetas_.push_back(theta); }

double MadeClip::length_s() const { return kStep_s * static_cast<double>(thetas_.size() - 1); }

MadeClip& MadeClip::still(double for_s) {
  omega_ = 0.0;
  for (int i = 0; i < static_cast<int>(for_s / kStep_s); ++i) note(theta_);
  return *this;
}

MadeClip& MadeClip::carried(double to_deg, double for_s) {
  const double from = theta_;
  const double to = Angle::from_deg(to_deg).rad();
  const int steps = static_cast<int>(for_s / kStep_s);
  for (int i = 1; i <= steps; ++i) {
    const double part = static_cast<double>(i) / steps;
    note(from + (to - from) * 0.5 * (1.0 - std::cos(kPi * part)));
  }
  theta_ = to;
  omega_ = 0.0;
  return *this;
}

MadeClip& MadeClip::cut_to(double angle_deg) {
  theta_ = Angle::from_deg(angle_deg).rad();
  omega_ = 0.0;
  if (thetas_.size() == 1) thetas_[0] = theta_;
  return *this;
}

void MadeClip::strike(const MadeBar& bar) {
  const double w0 = rig_.natural_rad_per_s;
  const double kinetic = 0.5 * omega_ * omega_ / (w0 * w0);
  const double sign = omega_ < 0.0 ? -1.0 : 1.0;
  if (!bar_seen_) blow_s_ = length_s();
  if (bar.breaks) {
    omega_ = sign * w0 * std::sqrt(2.0 * std::max(0.0, kinetic - bar.absorbs));
  } else {
    omega_ = -sign * w0 * std::sqrt(2.0 * bar.thrown_back);
  }
}

void MadeClip::one_step(const std::optional<MadeBar>& bar, bool& struck) {
  const double w0 = rig_.natural_rad_per_s;
  const auto acceleration = [&](double theta, double omega) {
    const double s = omega / w0;
    const double sign = omega > 0.0 ? 1.0 : (omega < 0.0 ? -1.0 : 0.0);
    return w0 * w0 *
           (-std::sin(theta) - rig_.law.dry * sign - rig_.law.linear * s -
            rig_.law.quadratic * s * std::abs(s));
  };
  const bool held = std::abs(omega_) < 1e-9 && std::abs(std::sin(theta_)) <= rig_.law.dry;
  if (!held) {
    const double half = omega_ + 0.5 * kStep_s * acceleration(theta_, omega_);
    const double theta = theta_ + kStep_s * half;
    double omega = half + 0.5 * kStep_s * acceleration(theta, half);
    const bool turned = omega_ * omega < 0.0;
    if (turned && std::abs(std::sin(theta)) <= rig_.law.dry) omega = 0.0;
    const bool reached = bar && !struck && theta_ > bar->at_rad && theta <= bar->at_rad;
    theta_ = theta;
    omega_ = omega;
    if (reached) {
      struck = true;
      strike(*bar);
    }
  }
  note(theta_);
}

MadeClip& MadeClip::free(double for_s, const std::optional<MadeBar>& bar) {
  const bool counts = !bar_seen_ && (bar.has_value() || std::isnan(release_deg_));
  const double from = theta_;
  if (counts) {
    release_deg_ = Angle::from_rad(theta_).deg();
    release_s_ = length_s();
    rise_deg_ = std::numeric_limits<double>::quiet_NaN();
  }
  bool struck = false;
  bool passed = false;
  for (int i = 0; i < static_cast<int>(for_s / kStep_s); ++i) {
    const double omega = omega_;
    const double theta = theta_;
    const bool struck_before = struck;
    one_step(bar, struck);
    const bool reached = struck || (theta > 0.0 && theta_ <= 0.0);
    if (counts && !bar && !passed && reached) blow_s_ = length_s();
    // A blow may turn the hammer round in a step; that is no turning point.
    const bool turned = passed && struck == struck_before && omega * omega_ <= 0.0;
    if (counts && turned && std::isnan(rise_deg_)) {
      rise_deg_ = -Angle::from_rad(theta).deg();
      turn_s_ = length_s();
      friction_ = height(from) - height(theta) - (bar ? bar->absorbs : 0.0);
    }
    passed = passed || reached;
  }
  bar_seen_ = bar_seen_ || bar.has_value();
  return *this;
}

AngleTrack MadeClip::sampled(const MadeSampling& sampling) const {
  std::mt19937_64 random(sampling.seed);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  AngleTrack track;
  const double u_deg = sampling.stated_u_deg > 0.0 ? sampling.stated_u_deg : sampling.noise_deg;
  double error = normal(random);
  const double fresh = std::sqrt(1.0 - sampling.correlation * sampling.correlation);
  const double last_s = std::min(sampling.to_s, length_s());
  const double step_s = 1.0 / sampling.rate_per_s;
  for (int frame = 0; sampling.from_s + frame * step_s <= last_s; ++frame) {
    const double t_s = sampling.from_s + frame * step_s;
    const double at = t_s / kStep_s;
    const auto i = std::min(static_cast<std::size_t>(at), thetas_.size() - 2);
    const double theta_deg = Angle::from_rad(thetas_[i] + (at - static_cast<double>(i)) *
                                                              (thetas_[i + 1] - thetas_[i]))
                                 .deg();
    error = sampling.correlation * error + fresh * normal(random);
    double seen_deg = theta_deg + sampling.noise_deg * error;
    if (0.5 * (1.0 + uniform(random)) < sampling.outlier_share)
      seen_deg += 20.0 * uniform(random);
    const double stamp_s = t_s - sampling.from_s + sampling.jitter_s * normal(random);
    track.samples.push_back(
        {sampling.time_offset_s + sampling.time_scale * stamp_s,
         Angle::from_deg(sampling.direction * seen_deg + sampling.zero_deg).rad(),
         Angle::from_deg(u_deg).rad(),
         frame});
  }
  return track;
}

MadeClip usual_blow(double absorbs, double after_s) {
  MadeClip clip{MadeRig{}};
  MadeBar bar;
  bar.absorbs = absorbs;
  clip.cut_to(125.0).still(0.4).free(0.45 + after_s, bar);
  return clip;
}

MadeClip usual_free_swing(double for_s) {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125.0).still(0.4).free(for_s);
  return clip;
}

}  // namespace swingloss::test
