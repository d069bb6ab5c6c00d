// SPDX-License-Identifier: Apache-2.0
#include "series/correct_swing.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "series/measure_clip.h"
#include "series/picture_angle.h"
#include "swing/energy.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

using Kind = CorrectionKind;

/// Turning angles from rest; absent where not known.
struct Turns {
  std::optional<Uncertain> release_rad, rise_rad;
};

std::size_t sample_at(const SwingRecord& record, double t_s) {
  const auto& samples = record.arm.angles.samples;
  std::size_t nearest = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (std::abs(samples[i].t_s - t_s) < std::abs(samples[nearest].t_s - t_s)) nearest = i;
  }
  return nearest;
}

/// One bar's corrections on their way into its record.
class Hand {
 public:
  Hand(CorrectedSwing& swing, const std::vector<Correction>& standing, const Pendulum* pendulum)
      : swing_(swing), record_(swing.record), standing_(standing), pendulum_(pendulum) {}

  void change_track();
  void change_angles();

 private:
  [[nodiscard]] const Correction* of(Kind kind) const {
    return find_correction(standing_, kind);
  }
  void refuse(const Correction& correction, const std::string& why) {
    swing_.not_used[correction.number] = why;
  }
  std::optional<Uncertain> marked_rad(const Correction& mark, const char* source);
  std::optional<Uncertain> turn_rad(const Correction& mark, const char* source, double side);
  void hold_axle_against_motion(const Correction& axle);
  void change_rest();
  [[nodiscard]] Turns turns_by_hand();
  void check_turns(Turns& turns);
  void conclude(const Turns& before, const Turns& after);
  [[nodiscard]] std::optional<UncertainLaw> known_law() const;
  [[nodiscard]] std::optional<Uncertain> friction_J(const Turns& before,
                                                    const Turns& after,
                                                    bool was_stopped) const;
  void overrule_refusals();

  CorrectedSwing& swing_;
  SwingRecord& record_;
  const std::vector<Correction>& standing_;
  const Pendulum* pendulum_;
};

void Hand::change_track() {
  const Correction* axle = of(Kind::Axle);
  const Correction* blow = of(Kind::Blow);
  const bool has_track = !record_.arm.angles.samples.empty();
  for (const Correction* each : {axle, blow}) {
    if (each != nullptr && !has_track) refuse(*each, "The arm could not be followed here.");
  }
  if (axle != nullptr && has_track && record_.typed_track) {
    refuse(*axle, "The angles come from a file, which has no picture.");
    axle = nullptr;
  }
  if ((axle == nullptr && blow == nullptr) || !has_track) return;
  if (axle != nullptr)
    record_.arm = arm_about(record_.arm, *axle->point_px, *axle->u_px, ":" + axle->bar);
  if (blow != nullptr) record_.arm.angles = stretch_of_blow(record_.arm.angles, *blow->t_s);
  record_ = measure_again(std::move(record_), pendulum_);
  if (axle != nullptr) hold_axle_against_motion(*axle);
}

/// Where the law would have the axle, when that is not where it was marked.
void Hand::hold_axle_against_motion(const Correction& axle) {
  const auto& doubts = record_.arm.angles.doubts;
  const auto& scores = record_.measurement.doubt_scores;
  double off_in_u = 0.0;
  for (std::size_t k = 0; k < std::min(doubts.size(), scores.size()); ++k) {
    if (doubts[k].source.rfind("hand.axle-", 0) == 0)
      off_in_u = std::hypot(off_in_u, scores[k].value());
  }
  if (off_in_u <= 3.0) return;  // as far as chance may put it
  record_.measurement.remarks.push_back(
      {"axle-against-motion",
       Severity::Warning,
       "The motion of the arm speaks against the axle set by hand: it would have it " +
           significant_text(off_in_u * *axle.u_px, 2) + " px away, " +
           significant_text(off_in_u, 2) +
           " times the uncertainty stated for it. Look at the ring in several pictures."});
}

/// The direction that was marked, in the track's angles, or the angle that was typed.
std::optional<Uncertain> Hand::marked_rad(const Correction& mark, const char* source) {
  const auto by_hand = [&](double x_rad) {
    return Uncertain::from(x_rad, *mark.u_rad, source, SourceKind::Own);
  };
  if (!mark.point_px) return by_hand(*mark.angle_rad);
  if (record_.typed_track || record_.arm.angles.samples.empty() ||
      record_.arm.view.focal_px <= 0.0) {
    refuse(mark, "The arm could not be followed here: type the angle instead.");
    return {};
  }
  const auto seen_rad = angle_in_picture_rad(record_.arm.view, *mark.point_px);
  if (!seen_rad) {
    refuse(mark, "The marked point gives no direction: mark one away from the axle.");
    return {};
  }
  return by_hand(*seen_rad - doubt_shift_rad(record_, sample_at(record_, *mark.t_s)));
}

void Hand::change_rest() {
  const Correction* rest = of(Kind::Rest);
  if (rest == nullptr) return;
  SwingMeasurement& m = record_.measurement;
  const std::optional<Uncertain> rest_rad = marked_rad(*rest, "hand.rest");
  if (!rest_rad) return;
  const double old_rad = m.zero_rad ? m.zero_rad->value() : 0.0;
  const Uncertain turned =
      *rest_rad +
      Uncertain::exact(turned_near_rad(rest_rad->value(), old_rad) - rest_rad->value());
  if (m.zero_rad) {
    // What turns keep is their direction in the picture.
    const Uncertain moved = m.direction * (*m.zero_rad - turned);
    if (m.release_angle_rad) m.release_angle_rad = *m.release_angle_rad + moved;
    if (m.rise_angle_rad) m.rise_angle_rad = *m.rise_angle_rad - moved;
  }
  m.zero_rad = turned;
}

/// A turning angle as a positive number on its own side. \param side +1 release, -1 rise
std::optional<Uncertain> Hand::turn_rad(const Correction& mark,
                                        const char* source,
                                        double side) {
  const SwingMeasurement& m = record_.measurement;
  std::optional<Uncertain> angle_rad = marked_rad(mark, source);
  if (!angle_rad || !mark.point_px) return angle_rad;
  if (!m.zero_rad) {
    refuse(mark, "Hanging rest is not known here: mark it too, or type the angle.");
    return {};
  }
  const Uncertain from_rest = side * m.direction * (*angle_rad - *m.zero_rad);
  return from_rest +
         Uncertain::exact(turned_near_rad(from_rest.value(), 0.5 * kPi) - from_rest.value());
}

Turns Hand::turns_by_hand() {
  const SwingMeasurement& m = record_.measurement;
  Turns turns{m.release_angle_rad, m.rise_angle_rad};
  const Correction* release = of(Kind::Release);
  const Correction* rise = of(Kind::Rise);
  if (release != nullptr) {
    const auto by_hand = turn_rad(*release, "hand.release", 1.0);
    if (by_hand) turns.release_rad = by_hand;
  }
  if (rise != nullptr) {
    const auto by_hand = turn_rad(*rise, "hand.rise", -1.0);
    if (by_hand) turns.rise_rad = by_hand;
  }
  return turns;
}

/// A rise above its release is a slip; so is an angle outside half a turn.
void Hand::check_turns(Turns& turns) {
  const SwingMeasurement& m = record_.measurement;
  const auto possible = [](const std::optional<Uncertain>& x_rad) {
    return !x_rad || (x_rad->value() > 0.0 && x_rad->value() < kPi);
  };
  const Correction* release = of(Kind::Release);
  const Correction* rise = of(Kind::Rise);
  if (release != nullptr && !possible(turns.release_rad)) {
    refuse(*release, "It is not on the release side, between rest and straight up.");
    turns.release_rad = m.release_angle_rad;
  }
  const bool above = turns.release_rad && turns.rise_rad &&
                     turns.rise_rad->value() >= turns.release_rad->value();
  if (rise != nullptr && (!possible(turns.rise_rad) || above)) {
    refuse(*rise,
           above ? "It is as high as the release or higher: no bar gives energy."
                 : "It is not on the far side, between rest and straight up.");
    turns.rise_rad = m.rise_angle_rad;
  }
}

std::optional<UncertainLaw> Hand::known_law() const {
  const auto& of_rig = pendulum_->friction;
  const auto& friction = of_rig ? of_rig : record_.measurement.friction_fitted;
  if (!friction) return {};
  return law_of(*friction, *pendulum_);
}

std::optional<Uncertain> Hand::friction_J(const Turns& before,
                                          const Turns& after,
                                          bool was_stopped) const {
  const auto& known_J = record_.measurement.friction_J;
  const std::optional<UncertainLaw> law = known_law();
  const Uncertain& moment = pendulum_->moment_Nm;
  const std::optional<Uncertain> old_rise_rad = was_stopped ? std::nullopt : before.rise_rad;
  const bool has_old = known_J && before.release_rad;
  if (law) {
    const auto now_J = friction_work_J(moment, *law, *after.release_rad, after.rise_rad);
    if (!has_old || !now_J) return now_J;
    const auto then_J = friction_work_J(moment, *law, *before.release_rad, old_rise_rad);
    if (!then_J) return now_J;
    return *known_J + *now_J - *then_J;
  }
  if (!has_old) return {};
  const auto swept = [](const Uncertain& release, const std::optional<Uncertain>& rise) {
    return rise ? release + *rise : release;
  };
  return *known_J * swept(*after.release_rad, after.rise_rad) /
         swept(*before.release_rad, old_rise_rad);
}

void Hand::overrule_refusals() {
  for (Remark& remark : record_.measurement.remarks) {
    if (remark.severity != Severity::Refusal && remark.code != "speeds-disagree") continue;
    remark.severity = Severity::Note;
    remark.text = "Before the correction by hand: " + remark.text;
  }
}

void Hand::conclude(const Turns& before, const Turns& after) {
  SwingMeasurement& m = record_.measurement;
  const bool was_stopped = m.outcome == Outcome::NotBroken;
  const Correction* outcome = of(Kind::Outcome);
  if (outcome != nullptr) {
    m.outcome = *outcome->outcome;
  } else if (m.outcome == Outcome::Unclear && after.release_rad && after.rise_rad) {
    m.outcome = Outcome::Broken;
  }
  const bool stopped = m.outcome == Outcome::NotBroken;
  m.release_angle_rad = after.release_rad;
  m.rise_angle_rad = after.rise_rad;
  m.absorbed_J.reset();
  m.raw_absorbed_J.reset();
  m.friction_swept_J.reset();  // of the path before
  m.speed_drop.reset();        // held against the heights before
  m.censoring = Censoring::None;
  const bool complete = after.release_rad && (stopped || after.rise_rad);
  if (pendulum_ == nullptr || !complete || m.outcome == Outcome::FreeSwing) return;
  Turns path = after;
  if (stopped) path.rise_rad.reset();
  m.friction_J = friction_J(before, path, was_stopped);
  if (!m.friction_J) {
    m.remarks.push_back({"friction-unknown",
                         Severity::Refusal,
                         "Neither the rig file nor this clip says what friction takes, so the "
                         "angles set by hand give no energy. Film a free swing and name it "
                         "under free_swings in series.json."});
    return;
  }
  if (stopped) {
    m.absorbed_J = height_energy_J(pendulum_->moment_Nm, *path.release_rad) - *m.friction_J;
    m.censoring = Censoring::Right;
  } else {
    m.raw_absorbed_J = raw_absorbed_J(pendulum_->moment_Nm, *path.release_rad, *path.rise_rad);
    m.absorbed_J = *m.raw_absorbed_J - *m.friction_J;
  }
  overrule_refusals();
}

void Hand::change_angles() {
  const bool asked = of(Kind::Rest) != nullptr || of(Kind::Release) != nullptr ||
                     of(Kind::Rise) != nullptr || of(Kind::Outcome) != nullptr;
  if (!asked) return;
  const Turns before{record_.measurement.release_angle_rad, record_.measurement.rise_angle_rad};
  change_rest();
  Turns after = turns_by_hand();
  check_turns(after);
  const bool changes_nothing =
      of(Kind::Outcome) == nullptr && swing_.not_used.size() == standing_.size();
  if (!changes_nothing) conclude(before, after);
}

}  // namespace

CorrectedSwing correct_swing(SwingRecord automatic,
                             const std::vector<Correction>& standing,
                             const Pendulum* pendulum) {
  CorrectedSwing swing{std::move(automatic), {}};
  Hand hand(swing, standing, pendulum);
  hand.change_track();
  hand.change_angles();
  return swing;
}

}  // namespace swingloss
