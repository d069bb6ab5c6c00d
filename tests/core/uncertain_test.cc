// SPDX-License-Identifier: Apache-2.0
#include "core/uncertain.h"

#include "support/test.h"

#include <cmath>
#include <limits>
#include <random>
#include <string>

using namespace swingloss;

namespace {

constexpr auto kShared = SourceKind::Shared;
constexpr auto kOwn = SourceKind::Own;

/// Names of the sources in their order, with blanks between.
std::string names_of(const Uncertain& x) {
  std::string names;
  for (const Contribution& part : x.parts()) names += (names.empty() ? "" : " ") + part.source;
  return names;
}

}  // namespace

TEST_CASE("a value minus itself is exactly nothing", "[core]") {
  const Uncertain x =
      Uncertain::from(0.1, 0.03, "a", kShared) + Uncertain::from(0.7, 0.11, "b", kOwn, 4.0);
  const Uncertain nothing = x - x;
  CHECK(nothing.value() == 0.0);
  CHECK(nothing.u() == 0.0);
  CHECK(nothing.parts().empty());
  CHECK(std::isinf(nothing.degrees_of_freedom()));
}

TEST_CASE("a value over itself is exactly one", "[core]") {
  const auto x = Uncertain::from(0.1, 0.03, "a", kShared);
  CHECK((x / x).value() == 1.0);
  CHECK((x / x).u() == 0.0);
}

TEST_CASE("a shared moment cancels in the ratio of two energies", "[core]") {
  // Whatever the sizes: nothing of the moment is left, not even rounding.
  std::mt19937 bits(11);
  std::uniform_real_distribution<double> size(0.01, 100.0);
  for (int i = 0; i < 1000; ++i) {
    const double moment_Nm = size(bits);
    const auto moment = Uncertain::from(moment_Nm, 0.01 * moment_Nm, "rig.moment", kShared);
    const auto rise_1 = Uncertain::from(size(bits), 0.01, "rise 1", kOwn);
    const auto rise_2 = Uncertain::from(size(bits), 0.02, "rise 2", kOwn);
    const Uncertain ratio = (moment * rise_1) / (moment * rise_2);
    REQUIRE(names_of(ratio) == "rise 1 rise 2");
  }
}

TEST_CASE("independent sources add in squares", "[core]") {
  const auto a = Uncertain::from(10.0, 3.0, "a", kOwn);
  const auto b = Uncertain::from(20.0, 4.0, "b", kShared);
  const Uncertain sum = a + b;
  CHECK(sum.value() == 30.0);
  CHECK(sum.u() == 5.0);
  CHECK(sum.u(kOwn) == 3.0);
  CHECK(sum.u(kShared) == 4.0);
  CHECK((a - b).u() == 5.0);
}

TEST_CASE("one source adds with its sign", "[core]") {
  const auto a = Uncertain::from(10.0, 3.0, "a", kOwn);
  CHECK((a + a).u() == 6.0);
  CHECK((a + 2.0 * a).u() == 9.0);
  CHECK((2.0 * a - a).u() == 3.0);
  CHECK((-a).parts().front().signed_u == -3.0);
  CHECK((a / 2.0).u() == 1.5);
}

TEST_CASE("contributions come in order of name and none is zero", "[core]") {
  const Uncertain sum =
      Uncertain::from(1.0, 1.0, "c", kOwn) + Uncertain::from(1.0, 0.0, "unseen", kOwn) +
      Uncertain::from(1.0, 1.0, "a", kOwn) + 0.0 * Uncertain::from(1.0, 1.0, "dropped", kOwn) +
      Uncertain::from(1.0, 1.0, "b", kOwn);
  CHECK(names_of(sum) == "a b c");
}

TEST_CASE("products and functions have the derivatives of calculus", "[core]") {
  // u times the derivative by a step of the plain function: a central difference with step
  // 1e-6 is off by its square and by 1e-16 / 1e-6 of rounding.
  const double x = 0.6;
  const double h = 1e-6;
  const auto check = [&](auto uncertain_function, auto plain_function) {
    const Uncertain y = uncertain_function(Uncertain::from(x, 1.0, "x", kOwn));
    const double slope = (plain_function(x + h) - plain_function(x - h)) / (2.0 * h);
    CHECK(y.value() == plain_function(x));
    CHECK_THAT(y.parts().front().signed_u, test::to_truncation(slope, 1e-9));
  };
  const auto two = Uncertain::exact(2.0);
  check([](const Uncertain& v) { return sqrt(v); }, [](double v) { return std::sqrt(v); });
  check([](const Uncertain& v) { return exp(v); }, [](double v) { return std::exp(v); });
  check([](const Uncertain& v) { return log(v); }, [](double v) { return std::log(v); });
  check([](const Uncertain& v) { return sin(v); }, [](double v) { return std::sin(v); });
  check([](const Uncertain& v) { return cos(v); }, [](double v) { return std::cos(v); });
  check([](const Uncertain& v) { return v * v; }, [](double v) { return v * v; });
  check([&](const Uncertain& v) { return two / v; }, [](double v) { return 2.0 / v; });
  check([&](const Uncertain& v) { return v / two; }, [](double v) { return v / 2.0; });
}

TEST_CASE("sine and cosine of one angle stay on the circle", "[core]") {
  // sin^2 + cos^2 = 1 whatever the angle: its doubt cancels.
  const auto angle_rad = Uncertain::from(0.8, 0.01, "angle", kOwn);
  const Uncertain one = sin(angle_rad) * sin(angle_rad) + cos(angle_rad) * cos(angle_rad);
  CHECK(one.u() == 0.0);
}

TEST_CASE("combine takes a value and its derivatives", "[core]") {
  const auto a = Uncertain::from(1.0, 0.1, "a", kOwn);
  const auto b = Uncertain::from(1.0, 0.2, "b", kOwn);
  const Uncertain y = Uncertain::combine(42.0, {{3.0, &a}, {-2.0, &b}, {1.0, &a}});
  CHECK(y.value() == 42.0);
  CHECK(y.parts()[0].signed_u == 4.0 * 0.1);
  CHECK(y.parts()[1].signed_u == -2.0 * 0.2);
}

TEST_CASE("degrees of freedom combine by Welch and Satterthwaite", "[core]") {
  // Two equal parts with 4 degrees of freedom each: 8; one with 4 and one without limit: 16.
  // Squares of squares: a few roundings.
  const auto a = Uncertain::from(0.0, 1.0, "a", kOwn, 4.0);
  const auto b = Uncertain::from(0.0, 1.0, "b", kOwn, 4.0);
  const auto c = Uncertain::from(0.0, 1.0, "c", kOwn);
  CHECK(a.degrees_of_freedom() == 4.0);
  CHECK_THAT((a + b).degrees_of_freedom(), test::to_rounding(8.0, 8));
  CHECK_THAT((a + c).degrees_of_freedom(), test::to_rounding(16.0, 8));
  CHECK(std::isinf(c.degrees_of_freedom()));
  CHECK(std::isinf(Uncertain::exact(3.0).degrees_of_freedom()));
}

TEST_CASE("factors of one joint estimate count once in the degrees of freedom", "[core]") {
  // [Willink2007]; a few roundings.
  const auto a = Uncertain::from(0.0, 1.0, "fit[1]", kOwn, 4.0);
  const auto b = Uncertain::from(0.0, 2.0, "fit[2]", kOwn, 4.0);
  CHECK_THAT((a + b).degrees_of_freedom(), test::to_rounding(4.0, 8));
}

TEST_CASE("joint_estimate_of takes a number in brackets for a factor", "[core]") {
  CHECK(joint_estimate_of("fit[2]") == "fit");
  CHECK(joint_estimate_of("fit[12] B7") == "fit B7");
  CHECK(joint_estimate_of("rig.moment") == "rig.moment");
  CHECK(joint_estimate_of("odd[name]") == "odd[name]");
  CHECK(joint_estimate_of("odd[]") == "odd[]");
  CHECK(joint_estimate_of("odd[1") == "odd[1");
}

TEST_CASE("with_sources_of makes one bar's sources distinct from another's", "[core]") {
  const Uncertain x = Uncertain::from(1.0, 0.1, "rise", kOwn) +
                      Uncertain::from(1.0, 0.2, "rig.moment", kShared);
  const Uncertain bar_1 = x.with_sources_of(kOwn, " B1");
  const Uncertain bar_2 = x.with_sources_of(kOwn, " B2");
  CHECK(names_of(bar_1) == "rig.moment rise B1");
  CHECK(bar_1.u() == x.u());
  CHECK(names_of(bar_1 - bar_2) == "rise B1 rise B2");
  CHECK(names_of(bar_1 - bar_1) == "");
}

TEST_CASE("an uncertain value refuses nonsense", "[core]") {
  const double nan = std::nan("");
  const auto zero = Uncertain::from(0.0, 1.0, "a", kOwn);
  CHECK_THROWS_AS(Uncertain::from(1.0, -0.1, "a", kOwn), std::logic_error);
  CHECK_THROWS_AS(Uncertain::from(1.0, nan, "a", kOwn), std::logic_error);
  CHECK_THROWS_AS(Uncertain::from(nan, 0.1, "a", kOwn), std::logic_error);
  CHECK_THROWS_AS(Uncertain::from(1.0, 0.1, "", kOwn), std::logic_error);
  CHECK_THROWS_AS(Uncertain::from(1.0, 0.1, "a", kOwn, 0.0), std::logic_error);
  CHECK_THROWS_AS(Uncertain::exact(std::numeric_limits<double>::infinity()), std::logic_error);
  CHECK_THROWS_AS(Uncertain::exact(1.0) / zero, std::logic_error);
  CHECK_THROWS_AS(sqrt(zero), std::logic_error);
  CHECK_THROWS_AS(log(zero), std::logic_error);
  CHECK(sqrt(Uncertain()).value() == 0.0);
  // One name is one quantity, and that is either of the rig or of the bar.
  CHECK_THROWS_AS(zero + Uncertain::from(0.0, 1.0, "a", kShared), std::logic_error);
}
