// SPDX-License-Identifier: Apache-2.0
/// \file decay_covariance.h
/// Honest covariance of a decay whose law is not the whole truth.
#pragma once

#include "swing/joint_fit.h"

namespace swingloss {

/// Widens `fit.tracking` to what the residuals of whole periods say: the scores (J'r) summed
/// over a period are taken as the unit that scatters, correlated with those of the next few
/// periods [NeweyWest1987, Bartlett weights]. A law that misses something leaves residuals that
/// swing with the arm, which a memory from sample to sample does not see. Never narrows;
/// correlations stay. Nothing is done with fewer than ten periods.
///
/// \param period_s  of a small swing
void widen_by_periods(const JointProblem& problem, double period_s, JointFit& fit);

}  // namespace swingloss
