// SPDX-License-Identifier: Apache-2.0
#include "series/view_of_swing.h"

#include "imaging/frame_source.h"
#include "metrology/correlated.h"
#include "series/followed_clip.h"

#include <vector>

namespace swingloss {

std::optional<KnownView> view_of_swing(const SwingRecord& record, const std::string& path) {
  const ArmTrack& arm = record.arm;
  const std::vector<Uncertain>& scores = record.measurement.doubt_scores;
  const Followed how = how_followed(record);
  const bool explained = !scores.empty() && scores.size() == arm.angles.doubts.size();
  if (record.typed_track || how.steadied || !explained) return std::nullopt;
  KnownView view;
  view.clip = record.clip;
  view.arm_length_px = arm.arm_length_px;
  view.view = vector_of(arm.view);
  Eigen::Matrix<double, 5, Eigen::Dynamic> by(5, static_cast<Eigen::Index>(scores.size()));
  for (std::size_t j = 0; j < scores.size(); ++j) {
    by.col(static_cast<Eigen::Index>(j)) = arm.angles.doubts[j].view;
    view.view -= scores[j].value() * arm.angles.doubts[j].view;
  }
  view.covariance = by * covariance_of(scores) * by.transpose() + arm.view_rest;
  const std::optional<Frame> first = followed_clip(path, how)()->next();
  if (!first) return std::nullopt;
  view.picture = first->luma.clone();
  return view;
}

}  // namespace swingloss
