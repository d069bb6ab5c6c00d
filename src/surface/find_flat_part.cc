// SPDX-License-Identifier: Apache-2.0
#include "surface/find_flat_part.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <Eigen/LU>
#include <Eigen/QR>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Below it the fine bands hold blur: over rendered faces the root mean square of error over u
/// was 2.1 at 69 pixels, 1.4 at 109 and 1.1 at 140.
constexpr double kFewest_px = 130.0;
constexpr int kTiles = 20;    // each way
constexpr int kFeatures = 4;  // brightness, and roughness in three bands
/// Neighbouring tiles share facets and dimples: about one in four is independent.
constexpr double kIndependent = 0.25;
/// By how much, in natural logarithms of likelihood, two kinds must explain the tiles better
/// than one. Calibrated on rendered faces (tests/surface/find_flat_part_test.cc).
constexpr double kClear = 20.0;
/// The border is ragged and tiles are coarse: by so much of the face's side each side of the
/// flat part is in doubt. Calibrated likewise.
constexpr double kBorder = 0.025;

using Features = Eigen::Matrix<double, kFeatures, 1>;
using Scatter = Eigen::Matrix<double, kFeatures, kFeatures>;

/// Brightness less the plane that fits it best: a lamp from aside.
cv::Mat without_slope(const cv::Mat& brightness) {
  cv::Mat small;
  cv::resize(brightness, small, {kTiles, kTiles}, 0, 0, cv::INTER_AREA);
  Eigen::MatrixXd places(small.total(), 3);
  Eigen::VectorXd values(small.total());
  for (int row = 0; row < kTiles; ++row) {
    for (int column = 0; column < kTiles; ++column) {
      const Eigen::Index i = row * kTiles + column;
      places.row(i) << 1.0, column, row;
      values[i] = double(small.at<float>(row, column));
    }
  }
  const Eigen::VectorXd plane = places.colPivHouseholderQr().solve(values);
  const Eigen::VectorXd left = values - places * plane;
  for (int row = 0; row < kTiles; ++row) {
    for (int column = 0; column < kTiles; ++column)
      small.at<float>(row, column) = float(left[row * kTiles + column]);
  }
  return small;
}

/// Mean logarithm of what a band holds, tile by tile. The mean of logarithms, so that a tile
/// half way over the border lies half way; the logarithm of a mean would be the rougher half's.
cv::Mat roughness_of(const cv::Mat& brightness, double fine_px) {
  cv::Mat fine;
  cv::Mat coarse;
  cv::GaussianBlur(brightness, fine, {}, fine_px, fine_px, cv::BORDER_REFLECT);
  cv::GaussianBlur(brightness, coarse, {}, 2.0 * fine_px, 2.0 * fine_px, cv::BORDER_REFLECT);
  cv::Mat log;
  cv::log(cv::abs(fine - coarse) + 1e-3, log);
  cv::Mat tiles;
  cv::resize(log, tiles, {kTiles, kTiles}, 0, 0, cv::INTER_AREA);
  return tiles;
}

/// Sums of features and of their products over the tiles above and left of a place.
struct Sums {
  double count = 0.0;
  Features first = Features::Zero();
  Scatter second = Scatter::Zero();
};

class Tiles {
 public:
  explicit Tiles(const cv::Mat& brightness) {
    const std::array<cv::Mat, kFeatures> maps = {without_slope(brightness),
                                                 roughness_of(brightness, 0.7),
                                                 roughness_of(brightness, 1.4),
                                                 roughness_of(brightness, 2.8)};
    for (int row = 0; row < kTiles; ++row) {
      Sums line;
      for (int column = 0; column < kTiles; ++column) {
        Features x;
        for (int k = 0; k < kFeatures; ++k)
          x[k] = double(maps[std::size_t(k)].at<float>(row, column));
        line.count += 1.0;
        line.first += x;
        line.second += x * x.transpose();
        Sums& here = at(row + 1, column + 1);
        here = at(row, column + 1);
        here.count += line.count;
        here.first += line.first;
        here.second += line.second;
      }
    }
  }

  /// Of the rectangle from (top, left) to before (bottom, right).
  [[nodiscard]] Sums over(int top, int left, int bottom, int right) const {
    Sums sum = at(bottom, right);
    for (const auto& [row, column, sign] : {std::tuple(top, right, -1.0),
                                            std::tuple(bottom, left, -1.0),
                                            std::tuple(top, left, 1.0)}) {
      sum.count += sign * at(row, column).count;
      sum.first += sign * at(row, column).first;
      sum.second += sign * at(row, column).second;
    }
    return sum;
  }

 private:
  [[nodiscard]] const Sums& at(int row, int column) const {
    return sums_[std::size_t(row) * std::size_t(kTiles + 1) + std::size_t(column)];
  }
  [[nodiscard]] Sums& at(int row, int column) {
    return sums_[std::size_t(row) * std::size_t(kTiles + 1) + std::size_t(column)];
  }
  std::vector<Sums> sums_ =
      std::vector<Sums>(std::size_t(kTiles + 1) * std::size_t(kTiles + 1));
};

Scatter scatter_of(const Sums& sum) {
  return sum.second - sum.first * sum.first.transpose() / sum.count;
}

/// A rectangle of tiles and by how much it explains them better than one kind alone.
struct Try {
  int top = 0, left = 0, bottom = 0, right = 0;
  double gain = 0.0;
};

/// From and to, in tiles, of every stretch about the middle that leaves a rim on both sides.
std::vector<std::pair<int, int>> stretches() {
  constexpr int kLeast = 3;  // tiles, of the flat part's sides
  constexpr int kMiddle = kTiles / 2;
  std::vector<std::pair<int, int>> all;
  for (int from = 1; from < kMiddle; ++from) {
    for (int to = std::max(kMiddle, from + kLeast); to < kTiles; ++to)
      all.emplace_back(from, to);
  }
  return all;
}

std::vector<Try> all_tries(const Tiles& tiles) {
  const Sums all = tiles.over(0, 0, kTiles, kTiles);
  const Scatter little = 1e-6 * Scatter::Identity();
  const double one_kind = std::log((scatter_of(all) + little).determinant());
  std::vector<Try> tries;
  for (const auto& [top, bottom] : stretches()) {
    for (const auto& [left, right] : stretches()) {
      const Sums inside = tiles.over(top, left, bottom, right);
      Sums rim = all;
      rim.count -= inside.count;
      rim.first -= inside.first;
      rim.second -= inside.second;
      const Scatter within = scatter_of(inside) + scatter_of(rim) + little;
      const double gain =
          0.5 * kIndependent * all.count * (one_kind - std::log(within.determinant()));
      tries.push_back({top, left, bottom, right, gain});
    }
  }
  return tries;
}

/// Where the borders of tiles are upon the whole face. A rim of one tile may be any narrower
/// one, down to none: it is taken for half as wide.
struct Scale {
  double inset = 0.0;
  [[nodiscard]] double rim() const { return inset + (1.0 - 2.0 * inset) / kTiles; }
  [[nodiscard]] double place(int tile) const {
    if (tile == 1) return 0.5 * rim();
    if (tile == kTiles - 1) return 1.0 - 0.5 * rim();
    return inset + (1.0 - 2.0 * inset) * tile / kTiles;
  }
  [[nodiscard]] double share_of(const Try& one) const {
    return (place(one.bottom) - place(one.top)) * (place(one.right) - place(one.left));
  }
};

/// Doubt of the share from narrow rims and from the border, which is ragged and no rectangle.
double u_of_borders(const Try& best, const Scale& scale) {
  const double narrow = scale.rim() / std::sqrt(12.0);
  const auto u_of = [&](int tile) {
    return tile == 1 || tile == kTiles - 1 ? std::hypot(narrow, kBorder) : kBorder;
  };
  const double across = scale.place(best.right) - scale.place(best.left);
  const double down = scale.place(best.bottom) - scale.place(best.top);
  return std::hypot(down * std::hypot(u_of(best.left), u_of(best.right)),
                    across * std::hypot(u_of(best.top), u_of(best.bottom)));
}

}  // namespace

Result<FlatPart> find_flat_part(const FacePatch& patch, double inset) {
  if (patch.source_px < kFewest_px) {
    return Failure{"flat-part-not-told",
                   "the face is too small on the photograph for its texture",
                   "Go nearer: the broken part wants to be " + std::to_string(int(kFewest_px)) +
                       " pixels wide at least. Or mark the flat part yourself (--flat)."};
  }
  const std::vector<Try> tries = all_tries(Tiles(patch.brightness));
  const Try& best = *std::max_element(
      tries.begin(), tries.end(), [](const Try& a, const Try& b) { return a.gain < b.gain; });
  if (best.gain < kClear) {
    return Failure{"flat-part-not-told",
                   "no border between a flat part and a rim can be told on this face; it may "
                   "be all torn, all flat, or lit so that both look alike",
                   "Mark the flat part yourself (--flat), or measure A and B (--shear-a, "
                   "--shear-b)."};
  }
  const Scale scale{inset};
  double weights = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (const Try& one : tries) {
    const double weight = std::exp(one.gain - best.gain);
    weights += weight;
    first += weight * scale.share_of(one);
    second += weight * std::pow(scale.share_of(one), 2);
  }
  FlatPart part;
  part.left = scale.place(best.left);
  part.right = scale.place(best.right);
  part.top = scale.place(best.top);
  part.bottom = scale.place(best.bottom);
  part.share = first / weights;
  const double scatter = std::sqrt(std::max(0.0, second / weights - part.share * part.share));
  part.u_share = std::hypot(scatter, u_of_borders(best, scale));
  return part;
}

}  // namespace swingloss
