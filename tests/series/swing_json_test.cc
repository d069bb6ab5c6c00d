// SPDX-License-Identifier: Apache-2.0
#include "series/swing_json.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "support/test.h"
#include "swing_samples.h"

#include <cmath>

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using Json = nlohmann::json;

namespace {

SwingRecord round_trip(const SwingRecord& record) {
  return parse_swing_json(swing_json(record), "test").record;
}

// Ten significant digits are kept: half a unit of the tenth, relative to the value.
auto to_ten_digits(double truth) { return test::to_truncation(truth, 5e-10 * std::abs(truth)); }

void check_same(const Uncertain& a, const Uncertain& b) {
  CHECK_THAT(b.value(), to_ten_digits(a.value()));
  REQUIRE(a.parts().size() == b.parts().size());
  for (std::size_t i = 0; i < a.parts().size(); ++i) {
    CHECK(a.parts()[i].source == b.parts()[i].source);
    CHECK(a.parts()[i].kind == b.parts()[i].kind);
    CHECK_THAT(b.parts()[i].signed_u, to_ten_digits(a.parts()[i].signed_u));
    CHECK(a.parts()[i].degrees_of_freedom == b.parts()[i].degrees_of_freedom);
  }
}

void check_same(const std::optional<Uncertain>& a, const std::optional<Uncertain>& b) {
  REQUIRE(a.has_value() == b.has_value());
  if (a) check_same(*a, *b);
}

}  // namespace

TEST_CASE("a swing's JSON has the contract's fields, in degrees and joules", "[series]") {
  const Json json = Json::parse(swing_json(test::broken_swing()));
  CHECK(json.at("format") == "swingloss/swing/1");
  CHECK(json.at("clip") == "clips/K1.mp4");
  CHECK(json.at("frames") == 156);
  CHECK(json.at("time").at("source") == "pts");
  CHECK(json.at("time").at("capture_rate_ratio") == 1.0);
  CHECK(json.at("outcome") == "broken");
  CHECK_THAT(json.at("release_angle_deg").at("value").get<double>(), to_ten_digits(125.0));
  CHECK_THAT(json.at("rise_angle_deg").at("u").get<double>(), to_ten_digits(0.05));
  CHECK_THAT(json.at("rest_angle_image_deg").at("value").get<double>(), to_ten_digits(-1.5));
  CHECK(json.at("absorbed_J").at("value") == 2.5);
  CHECK(json.at("absorbed_J").at("censored").is_null());
  CHECK(json.at("friction_J").at("value") == 0.125);
  CHECK(json.at("impact_speed_m_s").at("value") == 3.5);
  CHECK(json.at("speed_drop_check").at("absorbed_J").at("value") == 2.4375);
  CHECK(json.at("speed_drop_check").at("agrees") == true);
  CHECK(json.at("view").at("pivot_px") == Json({480.5, 130.25}));
  CHECK(json.at("view").at("mode") == "bare");
  CHECK(json.at("remarks").at(0).at("severity") == "warning");
  CHECK(json.at("track").at("t_s").size() == 4);
}

TEST_CASE("the parts of an energy square up to its u and keep their signs", "[series]") {
  const Json json = Json::parse(swing_json(test::broken_swing()));
  double sum = 0.0;
  for (const Json& part : json.at("parts")) sum += std::pow(part.at("u_J").get<double>(), 2);
  CHECK_THAT(std::sqrt(sum), to_ten_digits(json.at("absorbed_J").at("u").get<double>()));
  CHECK(json.at("parts").at(0).at("source") == "rig.moment");
  CHECK(json.at("parts").at(0).at("kind") == "shared");
  CHECK(json.at("parts").at(1).at("kind") == "own");
  CHECK(json.at("parts").at(1).at("u_J").get<double>() < 0.0);
}

TEST_CASE("track angles are from rest and positive on the release side, either way round",
          "[series]") {
  for (const bool mirrored : {false, true}) {
    CAPTURE(mirrored);
    const Json json = Json::parse(swing_json(test::broken_swing(mirrored)));
    CHECK_THAT(json.at("track").at("angle_deg").at(0).get<double>(), to_ten_digits(125.0));
    CHECK_THAT(json.at("track").at("angle_deg").at(3).get<double>(), to_ten_digits(-84.0));
    CHECK(json.at("track").at("direction") == (mirrored ? -1 : 1));
  }
}

TEST_CASE("what was not measured is null", "[series]") {
  SwingRecord record = test::broken_swing();
  record.measurement = {};
  const Json json = Json::parse(swing_json(record));
  CHECK(json.at("outcome") == "unclear");
  for (const char* field : {"release_angle_deg",
                            "rise_angle_deg",
                            "rest_angle_image_deg",
                            "absorbed_J",
                            "friction_J",
                            "impact_speed_m_s",
                            "speed_drop_check"}) {
    CAPTURE(field);
    CHECK(json.at(field).is_null());
  }
}

TEST_CASE("a bound is marked as one", "[series]") {
  SwingRecord record = test::broken_swing();
  record.measurement.censoring = Censoring::Right;
  CHECK(Json::parse(swing_json(record)).at("absorbed_J").at("censored") == "right");
  CHECK(round_trip(record).measurement.censoring == Censoring::Right);
}

TEST_CASE("a record comes back from its JSON", "[series]") {
  const SwingRecord a = test::broken_swing(true);
  const SwingRecord b = round_trip(a);
  CHECK(a.clip == b.clip);
  CHECK(a.measurement.outcome == b.measurement.outcome);
  check_same(a.measurement.release_angle_rad, b.measurement.release_angle_rad);
  check_same(a.measurement.rise_angle_rad, b.measurement.rise_angle_rad);
  check_same(a.measurement.zero_rad, b.measurement.zero_rad);
  check_same(a.measurement.natural_rad_per_s, b.measurement.natural_rad_per_s);
  check_same(a.measurement.absorbed_J, b.measurement.absorbed_J);
  check_same(a.measurement.raw_absorbed_J, b.measurement.raw_absorbed_J);
  check_same(a.measurement.friction_J, b.measurement.friction_J);
  check_same(a.measurement.friction_swept_J, b.measurement.friction_swept_J);
  check_same(a.measurement.impact_speed_m_per_s, b.measurement.impact_speed_m_per_s);
  check_same(a.measurement.speed_drop->absorbed_J, b.measurement.speed_drop->absorbed_J);
  check_same(a.measurement.friction_fitted->quadratic_Nms2,
             b.measurement.friction_fitted->quadratic_Nms2);
  CHECK(a.measurement.events.blow_s == b.measurement.events.blow_s);
  CHECK(a.measurement.curve.used_samples == b.measurement.curve.used_samples);
  REQUIRE(a.arm.angles.samples.size() == b.arm.angles.samples.size());
  for (std::size_t i = 0; i < a.arm.angles.samples.size(); ++i) {
    // The angle is written from rest, so the zero's ten digits enter too: 1.5 of 125 deg.
    CHECK_THAT(b.arm.angles.samples[i].theta_rad,
               test::to_truncation(a.arm.angles.samples[i].theta_rad, 5e-10 * kPi));
    CHECK(a.arm.angles.samples[i].frame == b.arm.angles.samples[i].frame);
  }
  CHECK(a.measurement.direction == b.measurement.direction);
  CHECK(a.measurement.time_jitter_s == b.measurement.time_jitter_s);
  CHECK(a.measurement.residual_inefficiency == b.measurement.residual_inefficiency);
  check_same(a.measurement.doubt_scores.at(0), b.measurement.doubt_scores.at(0));
  CHECK(a.arm.angles.doubts.at(0).source == b.arm.angles.doubts.at(0).source);
  for (Eigen::Index k = 0; k < 5; ++k)
    CHECK_THAT(b.arm.angles.doubts.at(0).view[k],
               to_ten_digits(a.arm.angles.doubts.at(0).view[k]));
  for (Eigen::Index k = 0; k < 25; ++k)
    CHECK_THAT(b.arm.view_rest(k), to_ten_digits(a.arm.view_rest(k)));
  CHECK(a.arm.view.axle_px == b.arm.view.axle_px);
  CHECK(a.arm.mode == b.arm.mode);
  CHECK(a.arm.clip.codec == b.arm.clip.codec);
  CHECK(a.arm.remarks.size() == b.arm.remarks.size());
  CHECK(a.measurement.remarks.at(0).text == b.measurement.remarks.at(0).text);
}

TEST_CASE("a record keeps how fast the camera reads a picture", "[series]") {
  SwingRecord a = test::broken_swing();
  a.arm.view.readout_s = -0.0125;
  a.arm.u_readout_s = 0.0005;
  const SwingRecord b = round_trip(a);
  CHECK(a.arm.view.readout_s == b.arm.view.readout_s);
  CHECK(a.arm.u_readout_s == b.arm.u_readout_s);
}

TEST_CASE("writing what was read gives the same bytes", "[series]") {
  const std::string text = swing_json(test::broken_swing(true), "clip 1-2; rig 3-4");
  const StoredSwing read = parse_swing_json(text, "test");
  CHECK(read.inputs == "clip 1-2; rig 3-4");
  CHECK(swing_json(read.record, read.inputs) == text);
}

TEST_CASE("a damaged or foreign swing file is refused with its name", "[series]") {
  const std::string text = swing_json(test::broken_swing());
  for (std::size_t length = 0; length < text.size() - 2; length += 97) {
    CHECK_THROWS_AS(parse_swing_json(text.substr(0, length), "half.json"), InputError);
  }
  CHECK_THROWS_WITH(parse_swing_json("{}", "x.json"), Contains("x.json"));
  CHECK_THROWS_WITH(parse_swing_json(R"({"format": "swingloss/rig/1"})", "x.json"),
                    Contains("swingloss/rig/1"));
  Json uneven = Json::parse(text);
  uneven["track"]["u_deg"].erase(0);
  CHECK_THROWS_AS(parse_swing_json(uneven.dump(), "x.json"), InputError);
  Json wrong = Json::parse(text);
  wrong["outcome"] = "splendid";
  CHECK_THROWS_WITH(parse_swing_json(wrong.dump(), "x.json"), Contains("splendid"));
}
