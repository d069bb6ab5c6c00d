// SPDX-License-Identifier: Apache-2.0
/// \file doubt_size.h
/// How large a family of doubts is, as the motion shows it.
#pragma once

#include "swing/joint_fit.h"
#include "swing/oriented_track.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// The track of an arm may be off by something that belongs to each place of its path (light,
/// shadow, what is behind it; an encoder's eccentricity) and is the same at every pass. Whoever
/// made the track can state such errors as a row of bumps, but hardly their size. It follows
/// from the residuals: of all sizes from that stated (1) down to 1/64 of it, and of none, the
/// marginal likelihood of the samples is computed [MacKay1992], on the problem linearised at a
/// fit and for every scale of the noise. Beforehand none is as likely as all others together,
/// and those are equally likely on a logarithmic scale.
///
/// Why not simply less weight for samples far from the turning points: tried on made clips,
/// that leaves the pull of a bump as it is where the other samples there agree with it, and
/// costs precision where there is none (tests/swing/doubt_size_test.cc).
///
/// \param columns  of the family, in problem.shapes_rad
/// \param largest  size to begin with, in those shapes
/// \return root of the mean square of the size, likewise; in (0, largest]
[[nodiscard]] double size_of_doubts(const JointProblem& problem,
                                    const JointFit& fit,
                                    const std::vector<Eigen::Index>& columns,
                                    double largest = 1.0);

/// The track with its families, and its u_place_rad with them, of the size that a fit of it
/// shows.
[[nodiscard]] OrientedTrack resized(OrientedTrack track,
                                    const JointProblem& problem,
                                    const JointFit& fit);

/// A track that states no doubts at all, with a family of bumps of up to a tenth of a degree,
/// 0.3 rad apart (`track.place-k`, shared): one that states none has them all the same.
[[nodiscard]] OrientedTrack with_place_doubts(OrientedTrack track);

/// Whether any doubt of the track belongs to a family.
[[nodiscard]] bool has_families(const OrientedTrack& track);

}  // namespace swingloss
