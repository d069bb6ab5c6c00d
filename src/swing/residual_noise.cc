// SPDX-License-Identifier: Apache-2.0
#include "swing/residual_noise.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// Log likelihood, constants left out, and the best scale, for a given jitter over scale.
struct Profile {
  double log_likelihood = 0.0;
  double scale = 1.0;
};

Profile profile(const ResidualSet& set, double jitter_over_scale_s) {
  const auto n = static_cast<double>(set.residual_rad.size());
  const Eigen::ArrayXd variance =
      set.u_rad.array().square() + (jitter_over_scale_s * set.omega_rad_per_s.array()).square();
  const double chi2 = (set.residual_rad.array().square() / variance).sum();
  const double freedom = std::max(1.0, n - set.parameters);
  Profile p;
  p.scale = std::sqrt(chi2 / freedom);
  p.log_likelihood = -0.5 * variance.log().sum() - 0.5 * n * std::log(std::max(chi2, 1e-300));
  return p;
}

/// Golden section on the logarithm of the jitter, whose profile has one maximum in practice.
double best_jitter_s(const ResidualSet& set, double typical_s) {
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double low = std::log(1e-3 * typical_s);
  double high = std::log(1e3 * typical_s);
  for (int i = 0; i < 40; ++i) {
    const double a = high - golden * (high - low);
    const double b = low + golden * (high - low);
    const bool rises =
        profile(set, std::exp(a)).log_likelihood < profile(set, std::exp(b)).log_likelihood;
    (rises ? low : high) = rises ? a : b;
  }
  return std::exp(0.5 * (low + high));
}

}  // namespace

NoiseModel noise_of(const ResidualSet& set) {
  NoiseModel noise;
  if (set.residual_rad.size() < 3) return noise;
  const Profile still = profile(set, 0.0);
  noise.scale = still.scale;
  const double fastest = set.omega_rad_per_s.cwiseAbs().maxCoeff();
  if (fastest <= 0.0 || set.residual_rad.size() < 20) return noise;
  const double jitter_s = best_jitter_s(set, set.u_rad.mean() / fastest);
  const Profile moving = profile(set, jitter_s);
  constexpr double kClear = 10.0;
  if (2.0 * (moving.log_likelihood - still.log_likelihood) > kClear) {
    noise.scale = moving.scale;
    noise.jitter_s = jitter_s * moving.scale;
  }
  return noise;
}

namespace {

/// What is expected of residuals M (e + d), M = 1 - Q Q', when e has memory rho and d is what
/// priors allow: their sum of squares and their sum of products of neighbours. Q is shortened
/// where priors hold, and M cov(d) M = Q Q' - (Q Q')^2.
struct Expected {
  double squares = 0.0, products = 0.0;
};

Expected expected(const Eigen::MatrixXd& q, double rho, const std::vector<bool>& contiguous) {
  const Eigen::MatrixXd rq = correlated_rows(q, rho, contiguous);
  const Eigen::MatrixXd qrq = q.transpose() * rq;
  const Eigen::MatrixXd qb = q * (qrq - q.transpose() * q);
  Expected e;
  e.squares = static_cast<double>(q.rows()) - 2.0 * qrq.trace() + q.squaredNorm() +
              qb.cwiseProduct(q).sum();
  for (Eigen::Index i = 0; i + 1 < q.rows(); ++i) {
    if (!contiguous[static_cast<std::size_t>(i)]) continue;
    e.products += rho - q.row(i).dot(rq.row(i + 1)) - rq.row(i).dot(q.row(i + 1)) +
                  q.row(i).dot(q.row(i + 1)) + qb.row(i).dot(q.row(i + 1));
  }
  return e;
}

double lag_one(const Eigen::VectorXd& x, const std::vector<bool>& contiguous) {
  double products = 0.0;
  for (Eigen::Index i = 0; i + 1 < x.size(); ++i) {
    if (contiguous[static_cast<std::size_t>(i)]) products += x[i] * x[i + 1];
  }
  return products / x.squaredNorm();
}

}  // namespace

Eigen::MatrixXd correlated_rows(const Eigen::MatrixXd& rows,
                                double rho,
                                const std::vector<bool>& contiguous) {
  const Eigen::Index n = rows.rows();
  Eigen::MatrixXd forward = rows;
  Eigen::MatrixXd back = rows;
  for (Eigen::Index i = 1; i < n; ++i) {
    if (contiguous[static_cast<std::size_t>(i - 1)]) forward.row(i) += rho * forward.row(i - 1);
  }
  for (Eigen::Index i = n - 1; i-- > 0;) {
    if (contiguous[static_cast<std::size_t>(i)]) back.row(i) += rho * back.row(i + 1);
  }
  return forward + back - rows;
}

Eigen::MatrixXd followed_directions(const Eigen::MatrixXd& jacobian,
                                    const Eigen::MatrixXd& prior) {
  const Eigen::Index n = jacobian.rows();
  const Eigen::Index p = jacobian.cols();
  Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(n + prior.rows(), p);
  stacked.topRows(n) = jacobian;
  if (prior.rows() > 0) {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(prior);
    stacked.bottomRows(p) = eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal() *
                            eigen.eigenvectors().transpose();
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(stacked);
  const Eigen::MatrixXd q =
      qr.householderQ() * Eigen::MatrixXd::Identity(stacked.rows(), qr.rank());
  return q.topRows(n);
}

Memory memory_of(const Eigen::VectorXd& whitened,
                 const Eigen::MatrixXd& followed,
                 const std::vector<bool>& contiguous) {
  constexpr double kStrongest = 0.98;
  Memory memory;
  const Eigen::Index n = whitened.size();
  const double parameters = followed.squaredNorm();
  if (static_cast<double>(n) < parameters + 8.0 || whitened.squaredNorm() <= 0.0) return memory;
  const auto seen_through = [&](double rho) {
    const Expected e = expected(followed, rho, contiguous);
    return e.products / e.squares;
  };
  const double found = lag_one(whitened, contiguous);
  if (found < seen_through(0.0) + 1.64 / std::sqrt(static_cast<double>(n))) return memory;
  double low = 0.0;
  double high = kStrongest;
  for (int i = 0; i < 30; ++i) {
    const double middle = 0.5 * (low + high);
    (seen_through(middle) < found ? low : high) = middle;
  }
  memory.rho = 0.5 * (low + high);
  memory.variance_factor = (static_cast<double>(n) - parameters) /
                           expected(followed, memory.rho, contiguous).squares;
  return memory;
}

}  // namespace swingloss
