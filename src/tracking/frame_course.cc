// SPDX-License-Identifier: Apache-2.0
#include "tracking/frame_course.h"

#include <Eigen/Cholesky>

namespace swingloss {

std::optional<double> course_rad(const std::vector<ArmCrop>& crops,
                                 const std::vector<double>& theta_rad,
                                 const std::vector<bool>& trusted,
                                 std::size_t k) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d rhs = Eigen::Vector3d::Zero();
  int count = 0;
  const auto add = [&](std::size_t i) {
    const double t_s = crops[i].t_s - crops[k].t_s;
    const Eigen::Vector3d row(1.0, 100.0 * t_s, 1e4 * t_s * t_s);
    normal += row * row.transpose();
    rhs += row * theta_rad[i];
    ++count;
  };
  int before = 0, after = 0;
  for (std::size_t i = k; i-- > 0 && before < 4;) {
    if (trusted[i]) add(i), ++before;
  }
  for (std::size_t i = k + 1; i < crops.size() && after < 4; ++i) {
    if (trusted[i]) add(i), ++after;
  }
  if (count < 5 || before == 0 || after == 0) return std::nullopt;
  return normal.ldlt().solve(rhs)(0);
}

}  // namespace swingloss
