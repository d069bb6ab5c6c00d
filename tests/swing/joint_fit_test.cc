// SPDX-License-Identifier: Apache-2.0
#include "swing/joint_fit.h"

#include "core/angle.h"
#include "metrology/differences.h"
#include "support/test.h"
#include "swing/made_rigs.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Fall and rise of the usual blow as a problem, started a little off.
JointProblem usual_problem(const MadeSampling& sampling = {}) {
  const MadeClip clip = usual_blow();
  const AngleTrack track = clip.sampled(sampling);
  JointProblem problem;
  problem.zero_rad = 0.005;
  problem.natural_rad_per_s = 4.97;
  problem.law = {0.001, 0.001, 0.005};
  const auto term = [](const char* s) {
    return Uncertain::from(0.0, 0.01, s, SourceKind::Shared);
  };
  problem.law_prior = {
      term("friction.dry"), term("friction.linear"), term("friction.quadratic")};
  problem.pieces = {{2.17, clip.release_s() + 0.01, true},
                    {-1.45, clip.turn_s() + 0.01, false}};
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    const AngleSample& s = track.samples[i];
    const bool fall = s.t_s > 0.45 && s.t_s < clip.blow_s() - 0.015;
    const bool rise = s.t_s > clip.blow_s() + 0.015;
    if (fall || rise) {
      problem.points.push_back({i, fall ? 0U : 1U, s.t_s, s.theta_rad, s.u_rad});
    }
  }
  problem.shapes_rad.resize(static_cast<Eigen::Index>(problem.points.size()), 1);
  for (std::size_t i = 0; i < problem.points.size(); ++i) {
    problem.shapes_rad(static_cast<Eigen::Index>(i), 0) =
        0.01 * std::sin(2.0 * problem.points[i].theta_rad);
  }
  problem.doubt_sources = {"view.tilt-x"};
  FitLevel hold;
  hold.piece = 0;
  hold.theta_rad = Angle::from_deg(125.0).rad();
  hold.u_rad = 1e-4;
  hold.shape_rad = Eigen::VectorXd::Constant(1, 0.002);
  hold.source = "tracking.hold";
  problem.levels = {hold};
  return problem;
}

double part(const Uncertain& value, const std::string& source) {
  for (const Contribution& c : value.parts()) {
    if (c.source == source) return c.signed_u;
  }
  return 0.0;
}

}  // namespace

TEST_CASE("derivatives of the joint model are those that differences give", "[swing]") {
  const JointProblem problem = usual_problem();
  const Eigen::VectorXd x = start_of(problem);
  const Predicted at = predict(problem, x);
  REQUIRE(at.defined);
  const auto f = [&](const Eigen::VectorXd& p) {
    const Predicted there = predict(problem, p);
    Eigen::VectorXd both(there.value.theta_rad.size() + there.value.level_rad.size());
    both << there.value.theta_rad, there.value.level_rad;
    return both;
  };
  const Eigen::MatrixXd by = numeric_jacobian(f, x, Eigen::VectorXd::Constant(x.size(), 1e-3));
  Eigen::MatrixXd ours(by.rows(), by.cols());
  ours << at.value.jacobian, at.value.level_jacobian;
  // The interpolation between steps of 0.02 has derivatives of its own: 1e-7 a step's worth.
  CHECK_THAT((ours - by).cwiseAbs().maxCoeff(), to_truncation(0.0, 5e-6));
}

TEST_CASE("named contributions are what priors move the estimate by", "[swing]") {
  const JointProblem problem = usual_problem();
  const Result<JointFit> fit = fit_jointly(problem);
  REQUIRE(fit.ok());
  const std::vector<Uncertain> values = fit.value().uncertain(problem);
  const auto release = static_cast<std::size_t>(ParameterPlaces(problem).amplitude(0));

  JointProblem moved = problem;
  moved.levels[0].theta_rad += moved.levels[0].u_rad;
  const Result<JointFit> again = fit_jointly(moved);
  REQUIRE(again.ok());
  const auto at = static_cast<Eigen::Index>(release);
  const double by_level = again.value().parameters[at] - fit.value().parameters[at];
  // First order: the fits are nearly linear over one u; outliers stay the same.
  CHECK_THAT(part(values[release], "tracking.hold"),
             to_truncation(by_level, 0.05 * std::abs(by_level)));

  JointProblem tilted = problem;
  for (std::size_t i = 0; i < tilted.points.size(); ++i) {
    // The true score being one more is the samples being off by one shape.
    tilted.points[i].theta_rad += tilted.shapes_rad(static_cast<Eigen::Index>(i), 0);
  }
  tilted.levels[0].theta_rad += tilted.levels[0].shape_rad[0];
  const Result<JointFit> seen = fit_jointly(tilted);
  REQUIRE(seen.ok());
  // What the data do not correct of it is the contribution; the rest the score takes up.
  const double left = seen.value().parameters[at] - fit.value().parameters[at];
  CHECK_THAT(std::abs(part(values[release], "view.tilt-x")),
             to_truncation(std::abs(left), 0.1 * std::abs(left) + 1e-7));
}

TEST_CASE("contributions add up to the covariance of the fit", "[swing]") {
  int plain = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    MadeSampling sampling;
    sampling.seed = seed;
    const JointProblem problem = usual_problem(sampling);
    const Result<JointFit> fit = fit_jointly(problem);
    REQUIRE(fit.ok());
    // Where residuals remember their neighbours the sum is not (J'J)^-1, and should not be.
    if (fit.value().inefficiency > 1.0) continue;
    ++plain;
    const std::vector<Uncertain> values = fit.value().uncertain(problem);
    for (std::size_t k = 0; k < values.size(); ++k) {
      CAPTURE(seed, k);
      const auto at = static_cast<Eigen::Index>(k);
      const double u = std::sqrt(fit.value().covariance(at, at));
      // Rounding of an inverse with a condition of about 1e6.
      CHECK_THAT(values[k].u(), to_truncation(u, 1e-6 * u));
    }
  }
  CHECK(plain >= 4);
}

TEST_CASE("outliers are left out and the rest decides", "[swing][synthetic]") {
  JointProblem problem = usual_problem();
  const Result<JointFit> clean = fit_jointly(problem);
  for (std::size_t i = 3; i < problem.points.size(); i += 9) problem.points[i].theta_rad += 0.2;
  const Result<JointFit> fit = fit_jointly(problem);
  REQUIRE(fit.ok());
  for (std::size_t i = 3; i < problem.points.size(); i += 9) CHECK_FALSE(fit.value().used[i]);
  for (const Eigen::Index k : {Eigen::Index{0}, Eigen::Index{5}, Eigen::Index{7}}) {
    // A ninth of the samples gone: the estimates differ by a third of their u or so; four of
    // it.
    const double u = std::sqrt(fit.value().covariance(k, k));
    CHECK_THAT(fit.value().parameters[k], to_uncertainty(clean.value().parameters[k], u, 1.5));
  }
}

TEST_CASE("loss terms stay at zero or above", "[swing]") {
  JointProblem problem = usual_problem();
  problem.law_prior.dry =
      Uncertain::from(-0.05, 0.001, "friction.dry", SourceKind::Shared);  // drags it below zero
  const Result<JointFit> fit = fit_jointly(problem);
  REQUIRE(fit.ok());
  CHECK(fit.value().parameters[ParameterPlaces::kLaw] == 0.0);
}

TEST_CASE("a fit of nothing fails with a reason", "[swing]") {
  JointProblem problem = usual_problem();
  problem.points.clear();
  problem.shapes_rad.resize(0, 1);
  const Result<JointFit> fit = fit_jointly(problem);
  REQUIRE_FALSE(fit.ok());
  CHECK(fit.failure().code == "fit-failed");
}
