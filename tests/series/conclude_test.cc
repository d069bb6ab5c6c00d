// SPDX-License-Identifier: Apache-2.0
#include "series/conclude.h"

#include "support/has_remark.h"
#include "support/test.h"
#include "swing_samples.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using Catch::Contains;

namespace {

Specimen bar(const std::string& id) {
  Specimen specimen;
  specimen.row = 2;
  specimen.id = id;
  specimen.material = "Korvel";
  specimen.clip = "clips/K1.mp4";
  specimen.thickness_mm = 4.0;
  specimen.width_mm = 8.0;
  return specimen;
}

}  // namespace

TEST_CASE("strength is the energy over the section under the notch", "[series]") {
  const BarResult result = conclude_filmed(bar("K1"), test::broken_swing(), {});
  REQUIRE(result.bar.strength_kJ_m2.has_value());
  // 2.5 J over 4 mm x 8 mm = 2.5 J / 32e-6 m2 = 78125 J/m2; one quotient, one product.
  CHECK_THAT(result.bar.strength_kJ_m2->value(), test::to_rounding(78.125, 4));
  // Relative u: energy 0.005/2.5, sizes 0.02/4 and 0.02/8, in quadrature.
  const double relative = std::sqrt(0.002 * 0.002 + 0.005 * 0.005 + 0.0025 * 0.0025);
  CHECK_THAT(result.bar.strength_kJ_m2->u(), test::to_rounding(78.125 * relative, 16));
}

TEST_CASE("two bars share the rig's doubt and nothing of their own", "[series]") {
  const BarResult a = conclude_filmed(bar("K1"), test::broken_swing(), {});
  const BarResult b = conclude_filmed(bar("K2"), test::broken_swing(), {});
  const Uncertain difference = *a.bar.energy_J - *b.bar.energy_J;
  CHECK(difference.u(SourceKind::Shared) == 0.0);
  // Own parts are 0.003 J each and independent.
  CHECK_THAT(difference.u(), test::to_rounding(0.003 * std::sqrt(2.0), 8));
}

TEST_CASE("bars of two rigs share nothing", "[series]") {
  ConcludeOptions first;
  first.rig_suffix = "@one";
  ConcludeOptions second;
  second.rig_suffix = "@two";
  const BarResult a = conclude_filmed(bar("K1"), test::broken_swing(), first);
  const BarResult b = conclude_filmed(bar("K2"), test::broken_swing(), second);
  // 0.004 J of the rig and 0.003 J of the bar, twice: 0.005 J each.
  CHECK_THAT((*a.bar.energy_J - *b.bar.energy_J).u(),
             test::to_rounding(0.005 * std::sqrt(2.0), 8));
}

TEST_CASE("a bound on the energy stays a bound", "[series]") {
  SwingRecord record = test::broken_swing();
  record.measurement.outcome = Outcome::NotBroken;
  record.measurement.censoring = Censoring::Right;
  const BarResult result = conclude_filmed(bar("K1"), record, {});
  CHECK(result.bar.limit == Limit::Above);
  CHECK(result.bar.break_type == BreakType::NonBreak);
  CHECK_FALSE(result.problem.has_value());
}

TEST_CASE("a typed break letter wins, and a contradiction with the clip is said", "[series]") {
  Specimen specimen = bar("K1");
  specimen.break_type = BreakType::Hinge;
  CHECK_FALSE(test::has_remark(conclude_filmed(specimen, test::broken_swing(), {}).remarks,
                               "break-type-conflict"));
  specimen.break_type = BreakType::NonBreak;
  const BarResult whole = conclude_filmed(specimen, test::broken_swing(), {});
  CHECK(whole.bar.break_type == BreakType::NonBreak);
  CHECK(test::has_remark(whole.remarks, "break-type-conflict"));
  SwingRecord stopped = test::broken_swing();
  stopped.measurement.outcome = Outcome::NotBroken;
  CHECK_FALSE(
      test::has_remark(conclude_filmed(specimen, stopped, {}).remarks, "break-type-conflict"));
  specimen.break_type = BreakType::Complete;
  CHECK(
      test::has_remark(conclude_filmed(specimen, stopped, {}).remarks, "break-type-conflict"));
}

TEST_CASE("a clip without energy is the bar's problem, with the refusal's cause", "[series]") {
  SwingRecord record = test::broken_swing();
  record.measurement.absorbed_J.reset();
  record.measurement.remarks.push_back(
      {"no-turning-point", Severity::Refusal, "The clip ends at 0.7 s, before the arm turns."});
  const BarResult result = conclude_filmed(bar("K1"), record, {});
  REQUIRE(result.problem.has_value());
  CHECK(result.problem->code == "no-turning-point");
  CHECK(result.problem->text == "clips/K1.mp4: The clip ends at 0.7 s, before the arm turns.");
  CHECK(result.swing.has_value());
  CHECK_FALSE(result.bar.energy_J.has_value());
}

TEST_CASE("a free swing is not taken for a bar of no strength", "[series]") {
  SwingRecord record = test::broken_swing();
  record.measurement.outcome = Outcome::FreeSwing;
  const BarResult result = conclude_filmed(bar("K1"), record, {});
  REQUIRE(result.problem.has_value());
  CHECK(result.problem->code == "no-blow");
  CHECK_FALSE(result.bar.energy_J.has_value());
}

TEST_CASE("a typed energy beside a clip is compared, not used", "[series]") {
  Specimen specimen = bar("K1");
  specimen.energy_J = 2.75;
  const BarResult result = conclude_filmed(specimen, test::broken_swing(), {});
  CHECK(result.bar.energy_J->value() == 2.5);
  REQUIRE(test::has_remark(result.remarks, "typed-energy-beside-clip"));
  CHECK_THAT(result.remarks[0].text, Contains("2.5000 J (u 0.0050 J)") && Contains("2.75 J"));
}

TEST_CASE("a typed energy keeps its stated u, and a missing one is said", "[series]") {
  Specimen specimen = bar("K1");
  specimen.energy_J = 2.75;
  specimen.limit = Limit::Below;
  const BarResult bare = conclude_typed(specimen, {});
  CHECK(bare.bar.energy_J->u() == 0.0);
  CHECK(bare.bar.limit == Limit::Below);
  CHECK(test::has_remark(bare.remarks, "no-energy-u"));
  specimen.energy_u_J = 0.05;
  const BarResult stated = conclude_typed(specimen, {});
  CHECK(stated.bar.energy_J->u() == 0.05);
  CHECK_FALSE(test::has_remark(stated.remarks, "no-energy-u"));
}

TEST_CASE("without a section there is an energy and no strength", "[series]") {
  Specimen specimen = bar("K1");
  specimen.width_mm.reset();
  const BarResult result = conclude_filmed(specimen, test::broken_swing(), {});
  CHECK(result.bar.energy_J.has_value());
  CHECK_FALSE(result.bar.strength_kJ_m2.has_value());
  CHECK(test::has_remark(result.remarks, "no-section"));
}
