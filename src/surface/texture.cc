// SPDX-License-Identifier: Apache-2.0
#include "surface/texture.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

int boxes_that_hold(const cv::Mat& set, int side) {
  int boxes = 0;
  for (int top = 0; top < set.rows; top += side) {
    for (int left = 0; left < set.cols; left += side) {
      const cv::Rect box(
          left, top, std::min(side, set.cols - left), std::min(side, set.rows - top));
      boxes += cv::countNonZero(set(box)) > 0 ? 1 : 0;
    }
  }
  return boxes;
}

}  // namespace

Eigen::MatrixXd cooccurrence(const cv::Mat& levels, int count, const cv::Point& offset) {
  expects(levels.type() == CV_8UC1 && offset != cv::Point(0, 0),
          "cooccurrence: levels, an offset");
  Eigen::MatrixXd counts = Eigen::MatrixXd::Zero(count, count);
  for (int row = 0; row < levels.rows; ++row) {
    for (int column = 0; column < levels.cols; ++column) {
      const int r = row + offset.y;
      const int c = column + offset.x;
      if (r < 0 || c < 0 || r >= levels.rows || c >= levels.cols) continue;
      const int a = levels.at<unsigned char>(row, column);
      const int b = levels.at<unsigned char>(r, c);
      counts(a, b) += 1.0;
      counts(b, a) += 1.0;
    }
  }
  return counts;
}

CooccurrenceFeatures features_of(const Eigen::MatrixXd& counts) {
  const Eigen::MatrixXd p = counts / std::max(1.0, counts.sum());
  CooccurrenceFeatures out;
  double mean = 0.0;
  double square = 0.0;
  double product = 0.0;
  for (Eigen::Index i = 0; i < p.rows(); ++i) {
    for (Eigen::Index j = 0; j < p.cols(); ++j) {
      const double off = double(i - j);
      out.second_moment += p(i, j) * p(i, j);
      out.contrast += off * off * p(i, j);
      out.homogeneity += p(i, j) / (1.0 + off * off);
      if (p(i, j) > 0.0) out.entropy -= p(i, j) * std::log(p(i, j));
      mean += double(i) * p(i, j);
      square += double(i * i) * p(i, j);
      product += double(i * j) * p(i, j);
    }
  }
  const double variance = square - mean * mean;
  out.correlation = variance > 1e-12 ? (product - mean * mean) / variance : 1.0;
  return out;
}

cv::Mat equal_levels(const cv::Mat& values, int count) {
  std::vector<float> sorted(values.begin<float>(), values.end<float>());
  std::sort(sorted.begin(), sorted.end());
  std::vector<float> steps;
  for (int i = 1; i < count; ++i) {
    steps.push_back(sorted[sorted.size() * std::size_t(i) / std::size_t(count)]);
  }
  cv::Mat levels(values.size(), CV_8UC1);
  for (int row = 0; row < values.rows; ++row) {
    for (int column = 0; column < values.cols; ++column) {
      const auto place =
          std::upper_bound(steps.begin(), steps.end(), values.at<float>(row, column));
      levels.at<unsigned char>(row, column) = static_cast<unsigned char>(place - steps.begin());
    }
  }
  return levels;
}

int local_pattern(const cv::Mat& values, int row, int column) {
  static constexpr std::array<std::array<int, 2>, 8> kRound = {
      {{-1, -1}, {-1, 0}, {-1, 1}, {0, 1}, {1, 1}, {1, 0}, {1, -1}, {0, -1}}};
  const float middle = values.at<float>(row, column);
  int pattern = 0;
  for (std::size_t i = 0; i < 8; ++i) {
    const float other = values.at<float>(row + kRound[i][0], column + kRound[i][1]);
    if (other >= middle) pattern |= 1 << i;
  }
  return pattern;
}

int turned_pattern_class(int pattern) {
  int changes = 0;
  int ones = 0;
  for (int i = 0; i < 8; ++i) {
    const int here = (pattern >> i) & 1;
    const int next = (pattern >> ((i + 1) % 8)) & 1;
    ones += here;
    changes += here != next ? 1 : 0;
  }
  return changes <= 2 ? ones : 9;
}

std::array<double, 10> pattern_shares(const cv::Mat& values) {
  std::array<double, 10> shares{};
  const double count = double(values.rows - 2) * double(values.cols - 2);
  for (int row = 1; row + 1 < values.rows; ++row) {
    for (int column = 1; column + 1 < values.cols; ++column) {
      shares[std::size_t(turned_pattern_class(local_pattern(values, row, column)))] +=
          1.0 / count;
    }
  }
  return shares;
}

double box_dimension(const cv::Mat& set, const std::vector<int>& sides) {
  expects(sides.size() >= 2, "box_dimension: two sizes of boxes or more");
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (const int side : sides) {
    const int boxes = boxes_that_hold(set, side);
    if (boxes == 0) return 0.0;
    const double x = std::log(double(side));
    const double y = std::log(double(boxes));
    n += 1.0;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  return -(n * sxy - sx * sy) / (n * sxx - sx * sx);
}

}  // namespace swingloss
