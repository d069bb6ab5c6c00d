// SPDX-License-Identifier: Apache-2.0
#include "report/source_families.h"

#include "support/test.h"

#include <cmath>

namespace swingloss {
namespace {

Uncertain own(double u, const std::string& source) {
  return Uncertain::from(0.0, u, source, SourceKind::Own);
}

Uncertain shared(double u, const std::string& source) {
  return Uncertain::from(0.0, u, source, SourceKind::Shared);
}

}  // namespace

TEST_CASE("numbered sources of one cause are one family, in words", "[report]") {
  const Uncertain value = own(3.0, "tracking[1]:F-1") + own(4.0, "tracking[12]:F-1") +
                          shared(2.0, "view.look-7") + own(1.0, "new.cause:F-1");
  const std::vector<SourceFamily> families = source_families(value);
  REQUIRE(families.size() == 3);
  CHECK(families[0].name == "following the arm");
  // The 3-4-5 triangle: two squares, a sum and a root.
  CHECK_THAT(families[0].u, test::to_rounding(5.0, 4));
  CHECK_FALSE(families[0].is_shared);
  CHECK(families[1].name == "look of the arm as it turns");
  CHECK(families[1].is_shared);
  CHECK(families[2].name == "new.cause");
}

TEST_CASE("families hold the whole uncertainty, small ones joined", "[report]") {
  Uncertain value = shared(1.0, "rig.moment") + own(0.04, "a") + shared(0.03, "b-x");
  for (int i = 0; i < 30; ++i)
    value = value + own(0.01 * i, "tracking[" + std::to_string(i) + "]");
  double squares = 0.0;
  for (const SourceFamily& family : source_families(value)) squares += family.u * family.u;
  // Thirty-odd squares in another order of adding, and a root.
  CHECK_THAT(std::sqrt(squares), test::to_rounding(value.u(), 64));
  CHECK(source_families(value).back().name == "smaller ones together");
  CHECK_FALSE(source_families(value).back().is_shared);  // one of them is the bar's own
}

TEST_CASE("a value without doubt has no families", "[report]") {
  CHECK(source_families(Uncertain::exact(2.0)).empty());
  CHECK(source_families(std::vector<BudgetPart>()).empty());
}

TEST_CASE("a budget is gathered like a value, scatter among its own", "[report]") {
  const std::vector<BudgetPart> budget = {{"bar to bar", BudgetKind::Scatter, 1.0, 0.9},
                                          {"view.geometry-1", BudgetKind::Shared, 0.3, 0.05},
                                          {"view.geometry-2", BudgetKind::Shared, 0.4, 0.05}};
  const std::vector<SourceFamily> families = source_families(budget);
  REQUIRE(families.size() == 2);
  CHECK(families[0].name == "from bar to bar");
  CHECK_FALSE(families[0].is_shared);
  // The 3-4-5 triangle in tenths, which are not exact.
  CHECK_THAT(families[1].u, test::to_rounding(0.5, 4));
  CHECK(families[1].is_shared);
}

}  // namespace swingloss
