// SPDX-License-Identifier: Apache-2.0
#include "tracking/arm_tag.h"

#include "tracking/all_cores.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <opencv2/aruco.hpp>

namespace swingloss {
namespace {

constexpr int kFewestFrames = 6;

struct ReadTag {
  int id = 0;
  std::array<Eigen::Vector2d, 4> corners;
};

std::vector<ReadTag> read_tags(const ArmCrop& crop,
                               const cv::Ptr<cv::aruco::Dictionary>& dictionary,
                               const cv::Ptr<cv::aruco::DetectorParameters>& settings) {
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> ids;
  cv::aruco::detectMarkers(crop.luma, dictionary, corners, ids, settings);
  std::vector<ReadTag> out;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    ReadTag tag{ids[i], {}};
    for (std::size_t j = 0; j < 4; ++j) {
      tag.corners[j] = {double(corners[i][j].x) + crop.offset_px.x,
                        double(corners[i][j].y) + crop.offset_px.y};
    }
    out.push_back(tag);
  }
  return out;
}

/// Farthest distance of the first corner from where it was first read, in sides of the tag.
double travel_in_sides(const ArmTag& tag) {
  const Eigen::Vector2d first = tag.corners[0].pixel;
  const double side = std::max(1.0, (tag.corners[1].pixel - first).norm());
  double farthest = 0.0;
  for (std::size_t i = 0; i < tag.corners.size(); i += 4) {
    farthest = std::max(farthest, (tag.corners[i].pixel - first).norm());
  }
  return farthest / side;
}

}  // namespace

std::optional<ArmTag> find_arm_tag(const std::vector<ArmCrop>& crops) {
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  const auto settings = cv::aruco::DetectorParameters::create();
  settings->cornerRefinementMethod = cv::aruco::CORNER_REFINE_SUBPIX;
  std::vector<std::vector<ReadTag>> read(crops.size());
  on_all_cores(crops.size(),
               [&](std::size_t k) { read[k] = read_tags(crops[k], dictionary, settings); });
  std::map<int, ArmTag> by_id;
  for (std::size_t k = 0; k < read.size(); ++k) {
    for (const ReadTag& found : read[k]) {
      ArmTag& tag = by_id[found.id];
      tag.id = found.id;
      ++tag.frames;
      for (int j = 0; j < 4; ++j)
        tag.corners.push_back({int(k), j, found.corners[std::size_t(j)]});
    }
  }
  std::optional<ArmTag> best;
  for (const auto& [id, tag] : by_id) {
    if (tag.frames < kFewestFrames || travel_in_sides(tag) < 1.0) continue;
    if (!best || tag.frames > best->frames) best = tag;
  }
  return best;
}

void add_tag(const ArmTag& tag, double corner_u_px, SingleAxisProblem& problem) {
  const auto first = int(problem.body_px.size());
  std::array<Eigen::Vector2d, 4> sum;
  sum.fill(Eigen::Vector2d::Zero());
  for (const TagCorner& c : tag.corners) {
    const double theta = problem.theta_rad[std::size_t(c.frame)];
    const Eigen::Vector2d arm = c.pixel - problem.view.axle_px;
    sum[std::size_t(c.corner)] +=
        Eigen::Vector2d(std::cos(theta) * arm.x() - std::sin(theta) * arm.y(),
                        std::sin(theta) * arm.x() + std::cos(theta) * arm.y());
  }
  for (const Eigen::Vector2d& s : sum)
    problem.body_px.emplace_back(s.x() / tag.frames, s.y() / tag.frames, 0.0);
  const Eigen::Matrix2d information = Eigen::Matrix2d::Identity() / (corner_u_px * corner_u_px);
  for (const TagCorner& c : tag.corners) {
    problem.sightings.push_back({c.frame, first + c.corner, c.pixel, information});
  }
}

}  // namespace swingloss
