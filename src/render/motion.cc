// SPDX-License-Identifier: Apache-2.0
#include "render/motion.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace swingloss::render {
namespace {

constexpr double kStep_s = 1e-5;
constexpr double kSameTime_s = 1e-9;  ///< closer than this is the same instant
constexpr int kStepsPerKnot = 20;
constexpr double kBrake_s = 0.9;
constexpr double kSteady_s = 0.5;
constexpr double kLift_s = 1.2;
constexpr double kStopDepth_rad = 3.0 * kPi / 180.0;
constexpr double kSpringBackFraction = 0.12;

/// 0 to 1 with zero slope and curvature at both ends.
double eased(double x) { return x * x * x * (10.0 + x * (6.0 * x - 15.0)); }
double eased_slope(double x) { return 30.0 * x * x * (1.0 - x) * (1.0 - x); }

}  // namespace

std::size_t Motion::knot_before(double t_s) const {
  const auto after =
      std::upper_bound(knots_.begin(), knots_.end(), t_s, [](double t, const Knot& knot) {
        return t < knot.t_s;
      });
  return after == knots_.begin() ? 0 : static_cast<std::size_t>(after - knots_.begin()) - 1;
}

double Motion::theta_rad(double t_s) const {
  const std::size_t at = knot_before(t_s);
  const Knot& a = knots_[at];
  if (t_s <= a.t_s || at + 1 == knots_.size()) return a.theta_rad;
  const Knot& b = knots_[at + 1];
  const double span_s = b.t_s - a.t_s;
  const double x = (t_s - a.t_s) / span_s;
  const double rest = 1.0 - x;
  return rest * rest * (1.0 + 2.0 * x) * a.theta_rad + x * x * (3.0 - 2.0 * x) * b.theta_rad +
         x * rest * span_s * (rest * a.omega_rad_per_s - x * b.omega_rad_per_s);
}

double Motion::lowest_rad(double t_s) const { return knots_[knot_before(t_s)].lowest_rad; }

/// Builds a Motion piece by piece; each piece starts where the last one ended.
class MotionMaker {
 public:
  explicit MotionMaker(const RenderScene& scene) : scene_(scene), integrator_(scene.rig, {}) {
    motion_.cut_s_ = std::numeric_limits<double>::infinity();
  }

  void swing(const RenderFurtherSwing& swing);
  void brake_and_steady();
  void ease_to(double target_rad, double span_s);
  void rest();
  Motion take() { return std::move(motion_); }

 private:
  void knot(const SwingState& state);
  void start(const RenderFurtherSwing& swing);
  void strike(const RenderFurtherSwing& swing);
  bool note_turning(SwingEvent event, const RenderFurtherSwing& swing);

  const RenderScene& scene_;
  Motion motion_;
  SwingIntegrator integrator_;
  RenderSwingTruth truth_;  ///< of the swing being played
  double now_s_ = 0.0;
  double theta_rad_ = 0.0;
  double lowest_rad_ = 0.0;
};

void MotionMaker::knot(const SwingState& state) {
  now_s_ = state.t_s;
  theta_rad_ = state.theta_rad;
  lowest_rad_ = std::min(lowest_rad_, theta_rad_);
  motion_.knots_.push_back({now_s_, theta_rad_, state.omega_rad_per_s, lowest_rad_});
}

void MotionMaker::start(const RenderFurtherSwing& swing) {
  const double release_rad = Angle::from_deg(swing.release_deg).rad();
  truth_ = {};
  truth_.release_deg = swing.release_deg;
  truth_.release_s = now_s_ + scene_.hold_s;
  lowest_rad_ = 0.0;
  knot({now_s_, release_rad, 0.0, 0.0});
  integrator_ = SwingIntegrator(scene_.rig, {truth_.release_s, release_rad, 0.0, 0.0});
  knot(integrator_.state());
}

void MotionMaker::strike(const RenderFurtherSwing& swing) {
  truth_.blow_s = integrator_.state().t_s;
  truth_.available_J = integrator_.kinetic_J();
  if (!swing.breaks) {
    const double stiffness = 2.0 * truth_.available_J / (kStopDepth_rad * kStopDepth_rad);
    integrator_.meet({stiffness, kSpringBackFraction, 0.0});
  } else if (swing.absorbed_J) {
    integrator_.take(*swing.absorbed_J);
    truth_.absorbed_J = swing.absorbed_J;
    truth_.broken = true;
  }
}

/// Whether this event is the turning point that counts: not the one inside an unbroken bar.
bool MotionMaker::note_turning(SwingEvent event, const RenderFurtherSwing& swing) {
  if (!truth_.blow_s) return false;
  const bool in_the_bar = !swing.breaks && integrator_.state().theta_rad < 0.0;
  const bool counts =
      event == SwingEvent::Stuck || (event == SwingEvent::Turning && !in_the_bar);
  if (!counts) return false;
  truth_.rise_deg = -Angle::from_rad(integrator_.state().theta_rad).deg();
  truth_.friction_J = integrator_.state().loss_J;
  return true;
}

void MotionMaker::swing(const RenderFurtherSwing& swing) {
  const double end_s = now_s_ + swing.length_s;
  start(swing);
  bool turned = false;
  bool stuck = false;
  bool shown = true;
  for (int step = 1; !turned || (!stuck && shown); ++step) {
    const double left_s = end_s - integrator_.state().t_s;
    shown = left_s > kSameTime_s;
    const SwingEvent event = integrator_.advance(shown ? std::min(kStep_s, left_s) : kStep_s);
    const bool blow = event == SwingEvent::Passage && !truth_.blow_s;
    if (blow && shown) knot(integrator_.state());
    if (blow) strike(swing);
    const bool due =
        event != SwingEvent::None || step % kStepsPerKnot == 0 || left_s <= kStep_s;
    if (shown && due) knot(integrator_.state());
    stuck = event == SwingEvent::Stuck;
    if (turned || !note_turning(event, swing)) continue;
    turned = true;
    if (shown) truth_.turn_s = integrator_.state().t_s;
  }
  if (now_s_ < end_s) knot({end_s, theta_rad_, 0.0, 0.0});
  motion_.swings_.push_back(truth_);
}

void MotionMaker::brake_and_steady() {
  RenderRig braked = scene_.rig;
  const double natural_rad_per_s =
      std::sqrt(scene_.rig.gravity_m_per_s2 / scene_.rig.reduced_length_m);
  braked.linear_Nms = 1.4 * integrator_.inertia_kg_m2() * natural_rad_per_s;
  SwingIntegrator integrator(braked,
                             {now_s_, theta_rad_, motion_.knots_.back().omega_rad_per_s, 0.0});
  const double end_s = now_s_ + kBrake_s;
  for (int step = 1; integrator.state().t_s < end_s; ++step) {
    const SwingEvent event = integrator.advance(kStep_s);
    if (event == SwingEvent::Stuck) break;
    if (step % kStepsPerKnot == 0) knot(integrator.state());
  }
  knot({end_s, theta_rad_, 0.0, 0.0});
  ease_to(0.0, kSteady_s);
}

void MotionMaker::ease_to(double target_rad, double span_s) {
  const double start_s = now_s_;
  const double start_rad = theta_rad_;
  const double way_rad = target_rad - start_rad;
  const double spacing_s = kStep_s * kStepsPerKnot;
  const int knots = static_cast<int>(std::ceil(span_s / spacing_s));
  for (int i = 1; i <= knots; ++i) {
    const double x = static_cast<double>(i) / knots;
    knot({start_s + x * span_s,
          start_rad + way_rad * eased(x),
          way_rad * eased_slope(x) / span_s,
          0.0});
  }
}

void MotionMaker::rest() {
  if (scene_.rest_s <= 0.0) return;
  if (scene_.rest == RenderRest::SeparateTake) {
    motion_.cut_s_ = now_s_;
    knot({now_s_, 0.0, 0.0, 0.0});
  }
  knot({now_s_ + scene_.rest_s, 0.0, 0.0, 0.0});
}

Motion swing_motion(const RenderScene& scene) {
  expects(scene.release_deg > 0.0 && scene.release_deg <= 179.0, "release_deg is in (0, 179]");
  expects(scene.hold_s >= 0.0 && scene.length_s > 0.0, "hold_s >= 0 and length_s > 0");
  MotionMaker maker(scene);
  const bool braked_rest = scene.rest == RenderRest::Braked && scene.rest_s > 0.0;
  const double caught_s = braked_rest ? kBrake_s + kSteady_s : 0.0;
  RenderFurtherSwing next{scene.release_deg, scene.absorbed_J, scene.breaks, scene.length_s};
  for (std::size_t i = 0; i <= scene.further.size(); ++i) {
    const bool last = i == scene.further.size();
    if (last) next.length_s -= caught_s;
    expects(next.length_s > 0.0, "length_s leaves no time for the swing");
    maker.swing(next);
    if (last) break;
    next = scene.further[i];
    maker.brake_and_steady();
    maker.ease_to(Angle::from_deg(next.release_deg).rad(), kLift_s);
  }
  if (braked_rest) maker.brake_and_steady();
  maker.rest();
  return maker.take();
}

}  // namespace swingloss::render
