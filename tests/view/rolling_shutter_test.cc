// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "support/test.h"
#include "view/made_turn.h"
#include "view/single_axis_fit.h"

#include <Eigen/Eigenvalues>

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("fit_single_axis finds how fast a rolling shutter reads", "[view][synthetic]") {
  for (const Rolling& rolling :
       {Rolling{0.018, false}, Rolling{-0.009, false}, Rolling{0.018, true}}) {
    CAPTURE(rolling.readout_s, rolling.upright);
    const MadeTurn made = made_turn(-8.0, 0.0, 1, rolling);
    const auto fit = fit_single_axis(made.problem, usual_options());
    REQUIRE(fit.ok());
    // A hundredth of what it is said to be unsure of when pixels are good to a hundredth.
    CHECK_THAT(fit.value().view.readout_s, test::to_truncation(rolling.readout_s, 1e-5));
    for (double e : errors(fit.value(), made.theta_rad)) {
      // As with pictures taken at an instant.
      CHECK_THAT(Angle::from_rad(e).deg(), test::to_truncation(0.0, 0.01));
    }
  }
}

TEST_CASE("fit_single_axis holds the readout where it is told to, or cannot tell",
          "[view][synthetic]") {
  MadeTurn made = made_turn(3.0, 0.0, 1, {0.018, false});
  SingleAxisOptions held = usual_options();
  held.hold_readout = true;
  made.problem.view.readout_s = 0.015;
  const auto kept = fit_single_axis(made.problem, held);
  REQUIRE(kept.ok());
  // A hold of a billionth of a second against pixels that pull by milliseconds.
  CHECK_THAT(kept.value().view.readout_s, test::to_truncation(0.015, 1e-6));
  made.problem.omega_rad_per_s.clear();
  made.problem.view.readout_s = 0.0;
  const auto still = fit_single_axis(made.problem, usual_options());
  REQUIRE(still.ok());
  // The prior alone, at its mean.
  CHECK_THAT(still.value().view.readout_s, test::to_truncation(0.0, 1e-9));
}

TEST_CASE("what is known of the readout narrows what goes along with it", "[view]") {
  const MadeTurn made = made_turn(3.0, 0.05, 2, {0.018, false});
  SingleAxisOptions sure = usual_options(), unsure = usual_options();
  sure.readout_alike_count = 0.01 * sure.alike_count;
  unsure.readout_alike_count = 0.04 * unsure.alike_count;
  const auto narrow = fit_single_axis(made.problem, sure);
  const auto wide = fit_single_axis(made.problem, unsure);
  REQUIRE((narrow.ok() && wide.ok()));
  // Variances are to each other as the counts are, up to rounding.
  CHECK_THAT(wide.value().u_readout_s / narrow.value().u_readout_s,
             test::to_truncation(2.0, 1e-9));
  const ViewCovariance more = wide.value().view_covariance - narrow.value().view_covariance;
  const Eigen::SelfAdjointEigenSolver<ViewCovariance> eigen(more);
  CHECK(eigen.eigenvalues().maxCoeff() > 0.0);
  // Rounding of what is taken away.
  CHECK(eigen.eigenvalues().minCoeff() > -1e-9 * eigen.eigenvalues().maxCoeff());
}
