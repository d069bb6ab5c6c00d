// SPDX-License-Identifier: Apache-2.0
/// \file shared_data_test.cc
/// True angles of rendered footage and real encoder logs, kept beside the checkout; skipped
/// with a message where they are not.
#include "core/angle.h"
#include "core/csv.h"
#include "support/shared_file.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "swing/fit_decay.h"
#include "swing/measure_swing.h"
#include "swing/measured.h"

#include <cmath>
#include <random>
#include <sstream>
#include <string>

#include <nlohmann/json.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

std::optional<std::string> shared_text(const std::string& name) {
  const std::string path = shared_file(name);
  if (path.empty()) return std::nullopt;
  return bytes_of(path);
}

/// One rendered clip's truth.
struct Footage {
  double release_deg = 0.0, rise_deg = 0.0, absorbed_J = 0.0, blow_s = 0.0;
  std::vector<double> t_s, angle_deg;
};

std::optional<Footage> footage(const std::string& name) {
  const auto text = shared_text("footage/" + name + "/truth.json");
  if (!text) return std::nullopt;
  const auto truth = nlohmann::json::parse(*text);
  Footage f;
  f.release_deg = truth["alpha_deg"];
  f.rise_deg = truth["beta_deg"];
  if (!truth["absorbed_J"].is_null()) f.absorbed_J = truth["absorbed_J"];
  if (!truth["t_impact_s"].is_null()) f.blow_s = truth["t_impact_s"];
  for (const int frame : truth["kept_frames"]) {
    f.t_s.push_back(frame / truth["capture_fps"].get<double>());
  }
  f.angle_deg = truth["frame_angle_deg"].get<std::vector<double>>();
  return f;
}

AngleTrack noisy(const Footage& f, double noise_deg, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  AngleTrack track;
  for (std::size_t i = 0; i < f.t_s.size(); ++i) {
    const double seen_deg = f.angle_deg[i] + noise_deg * normal(random);
    track.samples.push_back({f.t_s[i],
                             Angle::from_deg(seen_deg).rad(),
                             Angle::from_deg(noise_deg).rad(),
                             static_cast<int>(i)});
  }
  return track;
}

/// rig.json of that folder: mass and centre of mass, length, radius, gravity.
Pendulum footage_rig() {
  const auto shared = [](double value, double u, const char* source) {
    return Uncertain::from(value, u, source, SourceKind::Shared);
  };
  Pendulum p;
  p.gravity_m_per_s2 = shared(9.80665, 0.0001, "rig.gravity");
  p.moment_Nm =
      shared(1.10, 0.001, "rig.mass") * shared(0.365, 0.0003, "rig.com") * p.gravity_m_per_s2;
  p.reduced_length_m = shared(0.392, 0.0005, "rig.reduced-length");
  p.strike_radius_m = shared(0.400, 0.0005, "rig.strike-radius");
  return p;
}

/// A column of angles in degrees after some header lines; times from the first column, or one
/// thousandth of a second each.
AngleTrack log_track(const std::string& text, int headers, double u_deg, double until_s) {
  std::istringstream lines(text);
  std::string line;
  AngleTrack track;
  double row = 0.0;
  for (int i = 0; i < headers; ++i) std::getline(lines, line);
  while (std::getline(lines, line)) {
    if (line.empty()) continue;
    const auto comma = line.find(',');
    const double t_s = comma == std::string::npos ? 1e-3 * row : std::stod(line);
    const double angle_deg =
        std::stod(comma == std::string::npos ? line : line.substr(comma + 1));
    row += 1.0;
    if (t_s > until_s) break;
    track.samples.push_back(
        {t_s, Angle::from_deg(angle_deg).rad(), Angle::from_deg(u_deg).rad(), -1});
  }
  return track;
}

}  // namespace

TEST_CASE("true angles of rendered clips give the truth back", "[swing][truth]") {
  const auto free = footage("free60");
  if (!free) return;
  Pendulum rig = footage_rig();
  const Result<UncertainLaw> law = law_of_free_swings({noisy(*free, 0.02, 1)});
  REQUIRE(law.ok());
  rig.friction = friction_of(law.value(), rig);
  // The clip's truth.json: 0.0075 N m dry, 0.0011 N m s2 quadratic.
  CHECK_THAT(rig.friction->dry_Nm.value(), to_uncertainty(0.0075, rig.friction->dry_Nm.u()));
  CHECK_THAT(rig.friction->quadratic_Nms2.value(),
             to_uncertainty(0.0011, rig.friction->quadratic_Nms2.u()));
  for (const char* name : {"plain60", "dots30"}) {
    const auto clip = footage(name);
    if (!clip) continue;
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
      CAPTURE(name, seed);
      const auto result = measure_swing(noisy(*clip, 0.01, seed), &rig);
      REQUIRE(result.ok());
      const SwingMeasurement& m = result.value();
      CHECK(m.outcome == Outcome::Broken);
      REQUIRE(m.absorbed_J.has_value());
      // What is asked of the method, beside its own u: 0.02 degrees and 0.1 %.
      CHECK_THAT(deg(*m.release_angle_rad), to_truncation(clip->release_deg, 0.02));
      CHECK_THAT(deg(*m.rise_angle_rad), to_truncation(clip->rise_deg, 0.02));
      CHECK_THAT(m.absorbed_J->value(),
                 to_truncation(clip->absorbed_J, 0.001 * clip->absorbed_J));
      CHECK_THAT(deg(*m.release_angle_rad),
                 to_uncertainty(clip->release_deg, u_deg(*m.release_angle_rad)));
      CHECK_THAT(deg(*m.rise_angle_rad),
                 to_uncertainty(clip->rise_deg, u_deg(*m.rise_angle_rad)));
      CHECK(m.speed_drop->agrees);
      CHECK(m.capture_rate_ratio == 1.0);
      // Angles are those of mid-exposure, so the blow comes half an exposure early: 2 and 5 ms.
      CHECK_THAT(*m.events.blow_s, to_truncation(clip->blow_s, 0.006));
    }
  }
}

TEST_CASE("a rendered free swing is called one", "[swing][truth]") {
  const auto free = footage("free60");
  if (!free) return;
  const Pendulum rig = footage_rig();
  const auto result = measure_swing(noisy(*free, 0.02, 2), &rig);
  REQUIRE(result.ok());
  const SwingMeasurement& m = result.value();
  CHECK(m.outcome == Outcome::FreeSwing);
  CHECK_THAT(deg(*m.release_angle_rad), to_truncation(free->release_deg, 0.02));  // as above
  CHECK_THAT(deg(*m.rise_angle_rad), to_truncation(free->rise_deg, 0.02));
}

TEST_CASE("u holds on the true angles of rendered clips", "[swing][synthetic]") {
  const auto clip = footage("plain60");
  if (!clip) return;
  const Pendulum rig = footage_rig();
  constexpr int kSeeds = 60;
  double release = 0.0;
  double rise = 0.0;
  double absorbed = 0.0;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const auto result = measure_swing(noisy(*clip, 0.02, seed), &rig);
    REQUIRE(result.ok());
    const SwingMeasurement& m = result.value();
    REQUIRE(m.absorbed_J.has_value());
    const auto score = [](double estimate, double truth, double u) {
      return std::pow((estimate - truth) / u, 2) / kSeeds;
    };
    release += score(deg(*m.release_angle_rad), clip->release_deg, u_deg(*m.release_angle_rad));
    rise += score(deg(*m.rise_angle_rad), clip->rise_deg, u_deg(*m.rise_angle_rad));
    absorbed += score(m.absorbed_J->value(), clip->absorbed_J, m.absorbed_J->u());
  }
  // Sixty squared scores: deviation 0.18; four of these. Energy carries the moment's u besides.
  CHECK_THAT(release, to_truncation(1.0, 0.73));
  CHECK_THAT(rise, to_truncation(1.0, 0.73));
  CHECK(absorbed < 1.73);
  CHECK(absorbed > 0.1);
}

TEST_CASE("a real pendulum's long decay and its tail tell one dry friction", "[swing][truth]") {
  // Real encoder logs of one arm (dynamicslab/MultiArm-Pendulum, MIT): 55 s from 93 degrees,
  // and another run's tail that stops dead from 3.8 degrees.
  const auto whole = shared_text("real/free-decay-logs/single_free_swing_1kHz.csv");
  const auto tail = shared_text("real/free-decay-logs/single_free_swing_tail_1kHz.csv");
  if (!whole || !tail) return;
  const auto long_one = fit_decay(log_track(*whole, 1, 0.01, 30.0));
  REQUIRE(long_one.ok());
  const FreeDecay& d = long_one.value();
  // As its provenance describes the record: turning points 75.6 degrees at 6.8 s, period 0.935
  // s at the start (0.4 % of which is a hundredth of a period's reading).
  CHECK(d.half_swings > 60);
  CHECK(d.terms.dry);
  CHECK(d.dry.t_ratio > 10.0);
  const double period_s = 2.0 * kPi / d.natural_rad_per_s.value();
  // T0 = 0.935 s / period_ratio(92.5 degrees) = 0.786 s: one digit of the reading is 0.001 s.
  CHECK_THAT(period_s, to_truncation(0.786, 0.004));

  const auto short_one = fit_decay(log_track(*tail, 1, 0.005, 1e300));
  REQUIRE(short_one.ok());
  const FreeDecay& t = short_one.value();
  CHECK(t.terms.dry);
  CHECK_FALSE(t.terms.quadratic);
  REQUIRE(t.stopped_s.has_value());
  // "3.8 deg down to a dead stop at -0.03 deg within 5.5 s" from 60 s on.
  CHECK_THAT(*t.stopped_s, to_truncation(65.3, 0.3));
  CHECK_THAT(Angle::from_rad(*t.rest_off_zero_rad).deg(), to_truncation(-0.03, 0.1));
  // Two runs of one bearing: the same within their own doubts and a tenth (grease,
  // temperature).
  CHECK_THAT(d.law.dry.value(), to_truncation(t.law.dry.value(), 0.1 * t.law.dry.value()));
}

TEST_CASE("a real, strongly damped pendulum is followed from large angles", "[swing][truth]") {
  // Real encoder logs (jensen-benard/rotary-inverted-pendulum, MIT), released by hand from 136,
  // 157 and 64 degrees; extremes as its provenance lists them.
  struct Log {
    const char* name;
    double first_deg, period_end_s;
    int half_swings;
  };
  const Log logs[] = {{"pendulum_free_swing_data_01.txt", 98.4, 0.599, 8},
                      {"pendulum_free_swing_data_02.txt", 125.8, 0.603, 8},
                      {"pendulum_free_swing_data_03.txt", 58.3, 0.568, 8}};
  for (const Log& log : logs) {
    const auto text = shared_text(std::string("real/free-decay-logs/") + log.name);
    if (!text) return;
    CAPTURE(log.name);
    const auto decay = fit_decay(log_track(*text, 2, 0.026, 1e300));
    REQUIRE(decay.ok());
    const FreeDecay& d = decay.value();
    CHECK(d.half_swings >= log.half_swings);
    // The first half swing is the hand's; the fit begins at the first far extreme. The arm's
    // base moves a little: residuals of up to half a degree, and the fit says so.
    CHECK_THAT(Angle::from_rad(d.first_amplitude_rad).deg(), to_truncation(log.first_deg, 1.0));
    // Small swings are a little faster than the last listed ones: 0 to 2 %.
    const double period_s = 2.0 * kPi / d.natural_rad_per_s.value();
    CHECK_THAT(period_s, to_truncation(0.98 * log.period_end_s, 0.03 * log.period_end_s));
    CHECK(d.inefficiency > 3.0);
  }
}
