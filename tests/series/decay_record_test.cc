// SPDX-License-Identifier: Apache-2.0
#include "series/decay_record.h"

#include "core/angle.h"
#include "series/swing_json.h"
#include "support/test.h"
#include "swing/measure_swing.h"
#include "swing/swing_path.h"

#include <cmath>
#include <random>

#include <nlohmann/json.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Fifty samples a second of a free swing from `begin_s` after its release at 60 degrees.
SwingRecord free_swing(double begin_s, double until_s) {
  const double w0 = 6.0;
  const SwingLaw law{0.002, 0.0, 0.006};
  PathSpan span;
  span.after = until_s * w0;
  const SwingPath path(Angle::from_deg(60.0).rad(), law, span);
  std::mt19937_64 random(5);
  std::normal_distribution<double> noise(0.0, 2e-4);
  SwingRecord record;
  record.typed_track = true;
  for (double t_s = begin_s; t_s < until_s; t_s += 0.02) {
    record.arm.angles.samples.push_back(
        {t_s, path.at(w0 * t_s).theta_rad + noise(random), 2e-4, -1});
  }
  Result<SwingMeasurement> m = measure_swing(record.arm.angles, nullptr);
  REQUIRE(m.ok());
  record.measurement = std::move(m).value();
  return record;
}

}  // namespace

TEST_CASE("a track that begins in full swing and swings on is a free swing", "[series]") {
  SwingRecord record = free_swing(0.35, 8.0);
  add_decay(record, nullptr);
  CHECK(record.measurement.outcome == Outcome::FreeSwing);
  REQUIRE(record.decay.has_value());
  const FreeDecay& d = record.decay->decay;
  CHECK(d.dry.supported);
  CHECK(d.quadratic.supported);
  CHECK_FALSE(d.linear.supported);
  CHECK(d.dry.chance < 1e-6);
  CHECK(d.linear.chance > 0.01);
  CHECK(record.decay->gravity_assumed);
  CHECK_THAT(record.decay->reduced_length_m.value(),
             to_uncertainty(9.80665 / 36.0, record.decay->reduced_length_m.u()));
  // White noise of 2e-4 rad: rms known to 1/sqrt(2 n), neighbours correlate by 1/sqrt(n) of
  // n = 380; four of these.
  CHECK_THAT(d.scatter_rad, to_truncation(2e-4, 4.0 * 0.036 * 2e-4));
  CHECK_THAT(d.residual_correlation, to_truncation(0.0, 4.0 * 0.051));
  CHECK(d.largest_residual_rad >= d.scatter_rad);
}

TEST_CASE("gravity of the rig is taken where there is one", "[series]") {
  SwingRecord record = free_swing(0.35, 8.0);
  Pendulum rig;
  rig.gravity_m_per_s2 = Uncertain::from(9.81, 1e-4, "rig.gravity", SourceKind::Shared);
  add_decay(record, &rig);
  REQUIRE(record.decay.has_value());
  CHECK_FALSE(record.decay->gravity_assumed);
  CHECK(record.decay->reduced_length_m.u() < 1e-4);
}

TEST_CASE("a decay survives being written and read", "[series]") {
  SwingRecord record = free_swing(0.35, 8.0);
  add_decay(record, nullptr);
  const std::string text = swing_json(record);
  const StoredSwing stored = parse_swing_json(text, "test");
  REQUIRE(stored.record.decay.has_value());
  CHECK(swing_json(stored.record) == text);
  const nlohmann::json json = nlohmann::json::parse(text).at("decay");
  CHECK(json.at("loss_over_moment").at("dry").at("supported") == true);
  CHECK(json.at("residuals").at("residual_deg").size() ==
        record.decay->decay.residual_rad.size());
}

TEST_CASE("a broken bar has no decay", "[series]") {
  SwingRecord record = free_swing(0.35, 8.0);
  record.measurement.outcome = Outcome::Broken;
  add_decay(record, nullptr);
  CHECK_FALSE(record.decay.has_value());
}
