// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "metrology/correlated.h"
#include "rig/cautions.h"
#include "rig/rig.h"
#include "support/has_remark.h"
#include "support/test.h"
#include "swing/swing_law.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A sound rig file whose members are `more`.
std::string rig_with(const std::string& more) {
  return "{ \"format\": \"swingloss/rig/1\", " + more + " }";
}

const std::string kWeighed = R"("mass_kg": { "value": 1.10, "u": 0.001 },
  "com_m": { "value": 0.365, "u": 0.0003 })";
const std::string kLength = R"("reduced_length_m": { "value": 0.392, "u": 0.0005 })";
const std::string kGravity = R"("gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 })";
const std::string kSound = kWeighed + "," + kLength + "," + kGravity;

Rig read(const std::string& members) { return read_rig_text(rig_with(members), "bench.json"); }

bool mentions(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a rig file gives moment, length and gravity with named doubts", "[rig]") {
  const Rig rig = read("\"name\": \"bench\", \"capacity_J\": 5.5, \"made_like\": \"ISO 180\"," +
                       kSound + R"(, "strike_radius_m": { "value": 0.4, "u": 0.0005 },
    "release_angle_deg": { "value": 125, "u": 0.1 })");
  CHECK(rig.name == "bench");
  CHECK(rig.made_like == "ISO 180");
  CHECK(rig.capacity_J == 5.5);
  // m g L: two products.
  CHECK_THAT(rig.pendulum.moment_Nm.value(), to_rounding(1.10 * 9.80665 * 0.365, 4));
  // Relative: 0.001/1.10, 0.0003/0.365, 0.0001/9.80665 in quadrature.
  const double relative = std::sqrt(std::pow(0.001 / 1.10, 2) + std::pow(0.0003 / 0.365, 2) +
                                    std::pow(0.0001 / 9.80665, 2));
  CHECK_THAT(rig.pendulum.moment_Nm.u(),
             to_rounding(relative * rig.pendulum.moment_Nm.value(), 16));
  CHECK(rig.pendulum.moment_Nm.parts().size() == 3);
  for (const Contribution& part : rig.pendulum.moment_Nm.parts()) {
    CHECK(part.kind == SourceKind::Shared);
    CHECK(part.source.rfind("rig.", 0) == 0);
  }
  CHECK(rig.pendulum.reduced_length_m.value() == 0.392);
  // Degrees to radians: one product.
  CHECK_THAT(rig.pendulum.release_angle_rad->value(),
             to_rounding(Angle::from_deg(125).rad(), 2));
  CHECK(rig.remarks.empty());
  CHECK_FALSE(rig.pendulum.friction.has_value());
}

TEST_CASE("the moment may be weighed, typed, or both", "[rig]") {
  const Rig scale = read(R"("scale_reading_kg": { "value": 1.00375, "u": 0.001 },
    "scale_radius_m": { "value": 0.4, "u": 0.0002 },)" +
                         kLength + "," + kGravity);
  // Reading times g times radius.
  CHECK_THAT(scale.pendulum.moment_Nm.value(), to_rounding(1.00375 * 9.80665 * 0.4, 4));
  const Rig typed = read(R"("moment_Nm": { "value": 3.94, "u": 0.004 },)" + kSound);
  CHECK(typed.pendulum.moment_Nm.value() == 3.94);
  CHECK_FALSE(test::has_remark(typed.remarks, "moments-disagree"));
  const Rig odd = read(R"("moment_Nm": { "value": 4.2, "u": 0.004 },)" + kSound);
  CHECK(test::has_remark(odd.remarks, "moments-disagree"));
}

TEST_CASE("the length may come from a period and its amplitude", "[rig][truth]") {
  // A uniform rod of 1 m: T0 = 1.638226327340569 s at g = 9.80665, l = 2/3 m (textbook); at 30
  // degrees it is 1.017408797596 times as long (reference values, 2.1).
  const Rig rig = read(R"("period_small_s": { "value": 1.66674, "u": 0.0001 },
    "period_amplitude_deg": { "value": 30, "u": 0.5 }, "moment_Nm": { "value": 3, "u": 0.01 },)" +
                       kGravity);
  const double quoted_s = 1.638226327340569 * 1.017408797596;
  const double length_m = 2.0 / 3.0 * std::pow(1.66674 / quoted_s, 2);
  // A dozen roundings, and the ratio quoted to 13 digits.
  CHECK_THAT(rig.pendulum.reduced_length_m.value(), to_truncation(length_m, 1e-12));
  // dT/T = theta dtheta / 8 (first term of the series, 3 % low at 30 degrees); twice in l.
  const double by_amplitude =
      2.0 * length_m * Angle::from_deg(30).rad() * Angle::from_deg(0.5).rad() / 8.0;
  for (const Contribution& part : rig.pendulum.reduced_length_m.parts()) {
    if (part.source != "rig.period-amplitude") continue;
    CHECK_THAT(std::abs(part.signed_u), to_truncation(by_amplitude, 0.05 * by_amplitude));
  }
  CHECK(rig.pendulum.reduced_length_m.parts().size() == 3);
}

TEST_CASE("gravity may come from the place, or be assumed aloud", "[rig][truth]") {
  const Rig place =
      read(kWeighed + "," + kLength + ", \"latitude_deg\": 52.5, \"height_m\": 0");
  // WGS 84 at 52.5 degrees (reference values, 2.2).
  CHECK_THAT(place.pendulum.gravity_m_per_s2.value(), to_printed_decimals(9.81291270, 8));
  const Rig none = read(kWeighed + "," + kLength);
  CHECK(test::has_remark(none.remarks, "gravity-assumed"));
  CHECK(none.pendulum.gravity_m_per_s2.u() > 0.01);
}

TEST_CASE("a plain number is given a customary u, aloud", "[rig]") {
  const Rig rig = read("\"mass_kg\": 1.1, \"com_m\": { \"value\": 0.365, \"u\": 0.0003 }, " +
                       kLength + "," + kGravity);
  CHECK(test::has_remark(rig.remarks, "u-assumed"));
  CHECK(rig.mass_kg->u() > 0.0);
}

TEST_CASE("friction keeps the correlation of its terms", "[rig]") {
  const Rig rig = read(kSound + R"(, "friction": {
    "dry_Nm": { "value": 0.0075, "u": 0.0002 }, "linear_Nms": { "value": 0, "u": 0 },
    "quadratic_Nms2": { "value": 0.0011, "u": 0.00003 },
    "correlation": { "dry_quadratic": -0.9 } })");
  REQUIRE(rig.pendulum.friction.has_value());
  const FrictionModel& f = *rig.pendulum.friction;
  const Eigen::MatrixXd c = covariance_of({f.dry_Nm, f.quadratic_Nms2});
  // One product each.
  CHECK_THAT(c(0, 1), to_rounding(-0.9 * 0.0002 * 0.00003, 16));
  CHECK_THAT(f.dry_Nm.u(), to_rounding(0.0002, 8));
  CHECK(f.linear_Nms.u() == 0.0);
}

TEST_CASE("a rig written and read is the same rig", "[rig]") {
  const Rig rig = read(
      "\"name\": \"bench\", \"note\": \"second shelf\", \"zero\": \"rest\", "
      "\"made_like\": \"ISO 179-1\", \"capacity_J\": 6.2," +
      kSound + R"(, "strike_radius_m": { "value": 0.4, "u": 0.0005 },
    "release_angle_deg": { "value": 125, "u": 0.1 }, "friction": {
    "dry_Nm": { "value": 0.0075, "u": 0.0002 }, "linear_Nms": { "value": 0.0003, "u": 0.0001 },
    "quadratic_Nms2": { "value": 0.0011, "u": 0.00003 },
    "correlation": { "dry_linear": -0.5, "dry_quadratic": 0.3, "linear_quadratic": -0.8 } })");
  const Rig again = read_rig_text(rig_text(rig), "again.json");
  CHECK(rig_text(again) == rig_text(rig));
  CHECK(again.remarks.empty());
  CHECK(again.zero == "rest");
  CHECK(again.note == "second shelf");
  const auto same = [](const Uncertain& a, const Uncertain& b) {
    // Fifteen digits are written.
    CHECK_THAT(a.value(), to_printed_digits(b.value(), 15));
    CHECK_THAT(a.u(), to_printed_digits(b.u(), 14));
  };
  same(again.pendulum.moment_Nm, rig.pendulum.moment_Nm);
  same(again.pendulum.reduced_length_m, rig.pendulum.reduced_length_m);
  same(*again.pendulum.release_angle_rad, *rig.pendulum.release_angle_rad);
  same(again.pendulum.friction->quadratic_Nms2, rig.pendulum.friction->quadratic_Nms2);
  const auto covariance = [](const Rig& r) {
    const FrictionModel& f = *r.pendulum.friction;
    return covariance_of({f.dry_Nm, f.linear_Nms, f.quadratic_Nms2});
  };
  CHECK((covariance(again) - covariance(rig)).norm() < 1e-10 * covariance(rig).norm());

  const Rig minimal =
      read("\"moment_Nm\": { \"value\": 3.9, \"u\": 0.01 }, " + kLength + "," + kGravity);
  CHECK(rig_text(read_rig_text(rig_text(minimal), "")) == rig_text(minimal));
}

TEST_CASE("write_rig and read_rig go through a file", "[rig]") {
  const auto folder = std::filesystem::temp_directory_path() / "swingloss-rig-test";
  const std::string path = (folder / "rig.json").string();
  const Rig rig = read(kSound);
  write_rig(rig, path);
  CHECK(rig_text(read_rig(path)) == rig_text(rig));
  std::filesystem::remove_all(folder);
  CHECK_THROWS_AS(read_rig(path), InputError);
}

TEST_CASE("a centre of mass beyond the reduced length is named", "[rig]") {
  const Rig rig = read(R"("mass_kg": { "value": 1.1, "u": 0.001 },
    "com_m": { "value": 0.45, "u": 0.001 },)" +
                       kLength + "," + kGravity);
  CHECK(test::has_remark(rig.remarks, "com-beyond-length"));
}

TEST_CASE("the cautions name the dangers that every source names", "[rig]") {
  std::string all;
  for (const std::string& line : safety_cautions()) all += line + "\n";
  // Swinging hammer, flying pieces, hot or cold media: ASTM E23 clause 5 as its national
  // institute quotes it; glasses, latch, one person, plane of swing: university lab sheets.
  for (const char* word : {"hammer",
                           "pieces",
                           "freezer",
                           "glasses",
                           "latch",
                           "one person",
                           "plane of the swing",
                           "by hand",
                           "guard",
                           "splinter"}) {
    CAPTURE(word);
    CHECK(mentions(all, word));
  }
}
