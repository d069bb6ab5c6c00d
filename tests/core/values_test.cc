// SPDX-License-Identifier: Apache-2.0
// The small values that everything shares: angle, result, errors, remark.
#include "core/angle.h"
#include "core/input_error.h"
#include "core/remark.h"
#include "core/result.h"
#include "support/test.h"

#include <memory>

using namespace swingloss;

TEST_CASE("an angle is the same in degrees and radians", "[core][truth]") {
  CHECK(Angle::from_deg(180.0).rad() == kPi);
  CHECK(kPi == std::acos(-1.0));
  // One product each way: a rounding or two.
  CHECK_THAT(Angle::from_deg(33.3).deg(), test::to_rounding(33.3, 2));
  CHECK_THAT(Angle::from_rad(1.0).deg(), test::to_printed_digits(57.29577951308232, 15));
  CHECK((Angle::from_deg(30.0) - Angle::from_deg(40.0)).rad() < 0.0);
  CHECK((-Angle::from_rad(0.5) + Angle::from_rad(0.5)).rad() == 0.0);
  CHECK(Angle::from_deg(30.0) < Angle::from_rad(1.0));
  CHECK(Angle().rad() == 0.0);
}

TEST_CASE("a result holds a value or a failure and gives out only that", "[core]") {
  const Result<int> value = 7;
  CHECK(value.ok());
  CHECK(value.value() == 7);
  CHECK_THROWS_AS(value.failure(), std::logic_error);
  const Result<int> failure = Failure{"no-pendulum", "nothing moves", "Film the swing."};
  CHECK_FALSE(failure.ok());
  CHECK(failure.failure().code == "no-pendulum");
  CHECK_THROWS_AS(failure.value(), std::logic_error);
  // A value that can only be moved comes out whole.
  Result<std::unique_ptr<int>> owned = std::make_unique<int>(3);
  const std::unique_ptr<int> taken = std::move(owned).value();
  CHECK(*taken == 3);
}

TEST_CASE("an input error says all five parts, and leaves out empty ones", "[core]") {
  const InputError error({"specimens.csv",
                          "row 7, column width_mm",
                          "\"-8\"",
                          "a number above 0",
                          "Measure under the notch."});
  CHECK(std::string(error.what()) ==
        "specimens.csv: row 7, column width_mm: found \"-8\"; wanted a number above 0. "
        "Measure under the notch.");
  CHECK(error.fault().place == "row 7, column width_mm");
  CHECK(InputError::sentence({"", "", "x", "y", ""}) == "found x; wanted y.");
}

TEST_CASE("severities are spelled as files spell them", "[core]") {
  CHECK(std::string(name_of(Severity::Note)) == "note");
  CHECK(std::string(name_of(Severity::Warning)) == "warning");
  CHECK(std::string(name_of(Severity::Refusal)) == "refusal");
}
