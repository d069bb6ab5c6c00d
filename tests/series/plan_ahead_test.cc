// SPDX-License-Identifier: Apache-2.0
#include "series/plan_ahead.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using test::TempFolder;

namespace {

/// Means 2 and 1, relative scatter 5 % from three bars and 10 % from four; and bars that only
/// set a limit or are not to be counted.
constexpr const char* kTable =
    "id,material,energy_J,limit\n"
    "A1,Korvel,1.9,\nA2,Korvel,2.0,\nA3,Korvel,2.1,\n"
    "B1,Morna,0.91339746,\nB2,Morna,0.91339746,\nB3,Morna,1.08660254,\nB4,Morna,1.08660254,\n"
    "C1,Veltan,3.0,>\nC2,Veltan,3.0,>\n";

constexpr const char* kRig =
    R"({ "format": "swingloss/rig/1", "name": "bench", "moment_Nm": { "value": 4, "u": 0.01 },
         "reduced_length_m": { "value": 0.4, "u": 0.001 }, "strike_radius_m": 0.41,
         "gravity_m_per_s2": { "value": 9.8, "u": 0.001 } %s })";

std::string rig_text(const std::string& more) {
  std::string text = kRig;
  return text.replace(text.find("%s"), 2, more);
}

PlanRequest of_table(const TempFolder& folder) {
  PlanRequest request;
  request.source = folder.write("values.csv", kTable);
  return request;
}

}  // namespace

TEST_CASE("a table's scatter is pooled over its groups and taken with caution", "[series]") {
  const TempFolder folder;
  const PlanAnswer answer = plan_ahead(of_table(folder));
  // s of B is 0.0866025 * sqrt(4/3) = 0.1; pooled: (2 * 0.05^2 + 3 * 0.10^2)/5. Chi squared of
  // five degrees of freedom in closed form: erf(sqrt(x/2)) - sqrt(2x/pi) exp(-x/2) (1 + x/3) is
  // 0.2 at x = 2.3425343.
  const double pooled = std::sqrt((2.0 * 0.0025 + 3.0 * 0.01) / 5.0);
  CHECK_THAT(answer.question.cv / (pooled * std::sqrt(5.0 / 2.3425343)),
             test::to_truncation(1.0, 1e-6));
  PlanRequest typed = of_table(folder);
  typed.cv = 0.04;
  CHECK(plan_ahead(typed).question.cv == 0.04);
  CHECK(plan_ahead(PlanRequest()).question.cv == 0.10);
}

TEST_CASE("energies to come are those of the table, and limits among them are told",
          "[series]") {
  const TempFolder folder;
  const PlanAnswer answer = plan_ahead(of_table(folder));
  CHECK(*answer.expected_low_J == 0.91339746);
  CHECK(*answer.expected_high_J == 3.0);
  REQUIRE_FALSE(answer.remarks.empty());
  CHECK(answer.remarks.back().code == "expected-from-limit");
  PlanRequest typed = of_table(folder);
  typed.expected_low_J = 0.5;
  typed.expected_high_J = 0.7;
  const PlanAnswer as_typed = plan_ahead(typed);
  CHECK(*as_typed.expected_low_J == 0.5);
  CHECK(*as_typed.expected_high_J == 0.7);
  for (const Remark& remark : as_typed.remarks) CHECK(remark.code != "expected-from-limit");
}

TEST_CASE("a hammer is released from its latch, else from where it may be", "[series]") {
  const TempFolder folder;
  PlanRequest request;
  request.release_most_rad = 2.0;
  const auto hammer = [&](const std::string& more) {
    return hammer_of(read_rig(folder.write("rig.json", rig_text(more))), 2.0, request);
  };
  const Hammer free = hammer("");
  CHECK(free.release_most_rad == 2.0);
  CHECK_FALSE(free.friction_J.has_value());
  CHECK(*free.strike_radius_m == 0.41);
  CHECK(free.moment_Nm.value() == 4.0);
  const Hammer latched = hammer(R"(, "release_angle_deg": { "value": 90, "u": 0.1 })");
  CHECK(latched.release_most_rad == Angle::from_deg(90.0).rad());
}

TEST_CASE("no hammer is released higher than its capacity", "[series]") {
  const TempFolder folder;
  PlanRequest request;
  request.expected_low_J = 0.5;
  request.expected_high_J = 2.0;
  const auto plan_with = [&](const std::string& more) {
    request.rigs = {folder.write("rig.json", rig_text(more))};
    return plan_ahead(request);
  };
  // 4 N m (1 - cos 90 deg) = 4 J, though neither latch nor file says 90 degrees.
  const PlanAnswer capped = plan_with(R"(, "capacity_J": 4.0)");
  CHECK_THAT(capped.hammers.at(0).available_J, test::to_rounding(4.0, 8));
  CHECK(capped.curves.at(0).rows.back().release_rad <= Angle::from_deg(90.0).rad() + 1e-9);
  CHECK(capped.remarks.back().code == "release-of-capacity");
  const PlanAnswer latched =
      plan_with(R"(, "capacity_J": 4.0, "release_angle_deg": { "value": 120, "u": 0.1 })");
  CHECK_THAT(latched.hammers.at(0).available_J, test::to_rounding(4.0, 8));
  // A latch that gives 3.98 J stays where it is, and so does a rig that states nothing.
  const double low_rad = std::acos(1.0 - 3.98 / 4.0);
  request.release_most_rad = low_rad;
  const PlanAnswer low = plan_with(R"(, "capacity_J": 4.0)");
  CHECK_THAT(low.hammers.at(0).available_J, test::to_rounding(3.98, 8));
  CHECK(low.remarks.empty());
  request.release_most_rad.reset();
  CHECK(plan_with("").hammers.at(0).available_J > 7.0);
}

TEST_CASE("a rig without an energy to expect is told what is missing", "[series]") {
  const TempFolder folder;
  PlanRequest request;
  request.rigs = {folder.write("rig.json", rig_text(""))};
  const PlanAnswer answer = plan_ahead(request);
  CHECK(answer.hammers.empty());
  CHECK(answer.remarks.back().code == "expected-energy-missing");
}

TEST_CASE("a percentage where a part of the mean is wanted is refused", "[series]") {
  PlanRequest request;
  request.question.differences = {10.0};
  CHECK_THROWS_AS(plan_ahead(request), InputError);
  request.question.differences = {1.0};
  CHECK_NOTHROW(plan_ahead(request));
  request.half_widths = {5.0};
  CHECK_THROWS_AS(plan_ahead(request), InputError);
  request.half_widths = {0.05};
  request.cv = 8.0;
  CHECK_THROWS_AS(plan_ahead(request), InputError);
}

TEST_CASE("a hammer's friction is that of a swing from the top to eight tenths of it",
          "[series]") {
  const TempFolder folder;
  PlanRequest request;
  const std::string rough =
      rig_text(R"(, "friction": { "dry_Nm": { "value": 0.01, "u": 0.001 } })");
  const Hammer hammer = hammer_of(read_rig(folder.write("rig.json", rough)), 1.5, request);
  REQUIRE(hammer.friction_J.has_value());
  // Dry friction alone: torque times the angle swept, 1.5 and 0.8 * 1.5 rad.
  CHECK_THAT(hammer.friction_J->value(), test::to_truncation(0.01 * 1.8 * 1.5, 1e-9));
}

TEST_CASE("u(W) is planned for every degree up to the highest release, at both energies",
          "[series]") {
  const TempFolder folder;
  PlanRequest request;
  request.rigs = {folder.write("rig.json", rig_text(""))};
  request.release_most_rad = Angle::from_deg(120.0).rad();
  request.expected_low_J = 1.0;
  request.expected_high_J = 2.0;
  const PlanAnswer answer = plan_ahead(request);
  REQUIRE(answer.curves.size() == 2);
  CHECK(answer.curves[0].expected_J == 1.0);
  CHECK(answer.curves[1].expected_J == 2.0);
  REQUIRE(answer.curves[1].rows.size() == 116);  // 5 to 120 degrees
  const ReleaseRow& last = answer.curves[1].rows.back();
  CHECK(last.release_rad == Angle::from_deg(120.0).rad());
  // 4 N m (1 - cos 120) = 6 J, of which a third is asked for.
  CHECK_THAT(last.used_fraction, test::to_rounding(1.0 / 3.0, 16));
  // dW/d alpha, dW/d beta with cos(beta) = cos 120 + 2/4 = 0: beta is 90 degrees. Zero adds to
  // the one and takes from the other. u: 0.1, 0.1 and 0.05 degrees, moment 0.25 % of 2 J.
  const double degree = Angle::from_deg(1.0).rad();
  const double by_release = 4.0 * std::sin(Angle::from_deg(120.0).rad()) * 0.1 * degree;
  const double by_rise = 4.0 * 0.1 * degree;
  const double by_zero = 4.0 * (std::sin(Angle::from_deg(120.0).rad()) + 1.0) * 0.05 * degree;
  const double u = std::sqrt(by_release * by_release + by_rise * by_rise + by_zero * by_zero +
                             0.005 * 0.005);
  CHECK_THAT(last.absorbed_J->u(), test::to_rounding(u, 64));
  request.expected_high_J = 1.0;
  CHECK(plan_ahead(request).curves.size() == 1);
}

TEST_CASE("a rig without a latch is planned up to 150 degrees, and that is said", "[series]") {
  const TempFolder folder;
  PlanRequest request;
  request.rigs = {folder.write("rig.json", rig_text(""))};
  request.expected_low_J = 1.0;
  request.expected_high_J = 1.0;
  const PlanAnswer answer = plan_ahead(request);
  REQUIRE(answer.curves.size() == 1);
  // To radians and back: a product and a quotient.
  CHECK_THAT(Angle::from_rad(answer.curves[0].rows.back().release_rad).deg(),
             test::to_rounding(150.0, 2));
  REQUIRE_FALSE(answer.remarks.empty());
  CHECK(answer.remarks.back().code == "release-assumed");
}
