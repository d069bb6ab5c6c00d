// SPDX-License-Identifier: Apache-2.0
#include "series/swing_record.h"

#include "core/angle.h"
#include "series/measure_clip.h"
#include "support/test.h"
#include "swing_samples.h"

using namespace swingloss;

TEST_CASE("fitted_angle_rad goes by straight lines and not beyond the fit", "[series]") {
  const SwingRecord record = test::broken_swing();
  const auto& curve = record.measurement.curve;
  CHECK(fitted_angle_rad(record, 0.0) == curve.theta_rad[0]);
  CHECK(fitted_angle_rad(record, 0.75) == curve.theta_rad[3]);
  // Halfway between 125 and 60 deg; a few products and sums.
  CHECK_THAT(*fitted_angle_rad(record, 0.125), test::to_rounding(92.5 * kPi / 180.0, 4));
  CHECK_FALSE(fitted_angle_rad(record, -0.01).has_value());
  CHECK_FALSE(fitted_angle_rad(record, 0.76).has_value());
  CHECK_FALSE(fitted_angle_rad(SwingRecord(), 0.0).has_value());
}

TEST_CASE("direction_of tells on which side of the picture the arm was released", "[series]") {
  CHECK(direction_of(test::broken_swing(false)) == 1.0);
  CHECK(direction_of(test::broken_swing(true)) == -1.0);
  CHECK(direction_of(SwingRecord()) == 1.0);
}

TEST_CASE("cause_of_absence prefers refusals over warnings and notes", "[series]") {
  SwingRecord record;
  CHECK_FALSE(cause_of_absence(record).empty());
  record.measurement.remarks.push_back({"a", Severity::Note, "note"});
  record.measurement.remarks.push_back({"b", Severity::Warning, "warning"});
  CHECK(cause_of_absence(record) == "warning");
  record.measurement.remarks.push_back({"c", Severity::Refusal, "refusal"});
  CHECK(cause_of_absence(record) == "refusal");
}

TEST_CASE("a record answers when it has what was asked for", "[series]") {
  SwingRecord record = test::broken_swing();
  CHECK(answers(record, true));
  record.measurement.absorbed_J.reset();
  CHECK_FALSE(answers(record, true));
  CHECK(answers(record, false));
  record.measurement.outcome = Outcome::FreeSwing;
  CHECK(answers(record, true));
  record.measurement.outcome = Outcome::Unclear;
  CHECK_FALSE(answers(record, false));
}
