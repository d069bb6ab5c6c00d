// SPDX-License-Identifier: Apache-2.0
#include "core/expects.h"
#include "metrology/correlated.h"
#include "swing/fit_decay.h"

#include <algorithm>

#include <Eigen/Dense>

namespace swingloss {
namespace {

LossTerms any_of(const std::vector<FreeDecay>& decays) {
  LossTerms terms{false, false, false};
  for (const FreeDecay& decay : decays) {
    terms.dry = terms.dry || decay.terms.dry;
    terms.linear = terms.linear || decay.terms.linear;
    terms.quadratic = terms.quadratic || decay.terms.quadratic;
  }
  return terms;
}

std::vector<Eigen::Index> places_of(const LossTerms& terms) {
  std::vector<Eigen::Index> places;
  for (std::size_t k = 0; k < 3; ++k) {
    if (terms.flags()[k]) places.push_back(static_cast<Eigen::Index>(k));
  }
  return places;
}

/// Average of the terms at `places`, by inverse covariances, widened where they scatter.
UncertainLaw averaged(const std::vector<FreeDecay>& decays,
                      const std::vector<Eigen::Index>& places) {
  const auto n = static_cast<Eigen::Index>(places.size());
  Eigen::MatrixXd precision = Eigen::MatrixXd::Zero(n, n);
  Eigen::VectorXd weighted = Eigen::VectorXd::Zero(n);
  std::vector<Eigen::MatrixXd> inverses;
  for (const FreeDecay& decay : decays) {
    const Eigen::MatrixXd covariance =
        covariance_of({decay.law.dry, decay.law.linear, decay.law.quadratic})(places, places);
    inverses.push_back(covariance.inverse());
    precision += inverses.back();
    weighted += inverses.back() * decay.law.law().vector()(places);
  }
  const Eigen::MatrixXd covariance = precision.inverse();
  const Eigen::VectorXd mean = covariance * weighted;
  double chi2 = 0.0;
  for (std::size_t i = 0; i < decays.size(); ++i) {
    const Eigen::VectorXd off = decays[i].law.law().vector()(places) - mean;
    chi2 += off.dot(inverses[i] * off);
  }
  const double freedom = static_cast<double>(n) * static_cast<double>(decays.size() - 1);
  const double widened = freedom > 0.0 ? std::max(1.0, chi2 / freedom) : 1.0;
  const std::vector<Uncertain> terms =
      correlated(mean,
                 0.5 * widened * (covariance + covariance.transpose()),
                 "rig.friction",
                 SourceKind::Shared);
  std::vector<Uncertain> all(3);
  for (std::size_t k = 0; k < terms.size(); ++k) {
    all[static_cast<std::size_t>(places[k])] = terms[k];
  }
  return {all[0], all[1], all[2]};
}

}  // namespace

Result<UncertainLaw> law_of_free_swings(const std::vector<AngleTrack>& tracks,
                                        const DecayOptions& options) {
  expects(!tracks.empty(), "no free swings to take the losses from");
  std::vector<FreeDecay> decays;
  for (const AngleTrack& track : tracks) {
    Result<FreeDecay> decay = fit_decay(track, options);
    if (!decay.ok()) return decay.failure();
    decays.push_back(std::move(decay).value());
  }
  DecayOptions same = options;
  same.terms = any_of(decays);
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const bool has_all = decays[i].terms.flags() == same.terms->flags();
    Result<FreeDecay> decay =
        has_all ? Result<FreeDecay>(decays[i]) : fit_decay(tracks[i], same);
    if (!decay.ok()) return decay.failure();
    decays[i] = std::move(decay).value();
  }
  return averaged(decays, places_of(*same.terms));
}

}  // namespace swingloss
