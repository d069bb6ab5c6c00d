// SPDX-License-Identifier: Apache-2.0
#include "tracking/learn_row.h"

#include "core/median.h"

#include <algorithm>
#include <utility>

#include <Eigen/Core>

namespace swingloss {
namespace {

/// One value a column; in single precision, four are worked out at a time.
using Row = Eigen::ArrayXf;

Eigen::Map<const Row> row_of(const cv::Mat& picture, int row) {
  return {picture.ptr<float>(row), picture.cols};
}

Eigen::Map<Row> row_of(cv::Mat& picture, int row) {
  return {picture.ptr<float>(row), picture.cols};
}

/// Weighted sums over the frames. The background is taken from that of the first frame, so that
/// one that never varies loses no digits.
struct RowSums {
  Row w, b, bb, d, bd, moved;

  explicit RowSums(Eigen::Index columns)
      : w(Row::Zero(columns)),
        b(Row::Zero(columns)),
        bb(Row::Zero(columns)),
        d(Row::Zero(columns)),
        bd(Row::Zero(columns)),
        moved(Row::Zero(columns)) {}

  /// \param part  weight of the frame \param behind  background \param differs  seen less it
  void add(const Row& part, const Row& behind, const Row& differs) {
    constexpr float kSurely = 12.0F;  // so different from the background, it is covered
    const Row part_b = part * behind;
    w += part;
    b += part_b;
    bb += part_b * behind;
    d += part * differs;
    bd += part_b * differs;
    moved += part * (differs.abs() * (1.0F / kSurely)).min(1.0F);
  }
};

/// The row as it is known so far.
struct RowLook {
  Row ink, cover, opaque, scale;

  explicit RowLook(Eigen::Index columns)
      : ink(Row::Zero(columns)),
        cover(Row::Zero(columns)),
        opaque(Row::Zero(columns)),
        scale(Row::Constant(columns, 40.0F)) {}

  void solve(const RowSums& sums, const Row& first_background) {
    // Where the background never varies behind this pixel, cover cannot be told from ink and
    // does not matter; a mild pull toward "covered as far as it differs" settles it.
    constexpr float kPull = 25.0F;
    const Row per_w = 1.0F / sums.w.max(1e-6F);
    const Row mean_b = sums.b * per_w, mean_d = sums.d * per_w;
    const Row spread = sums.bb * per_w - mean_b * mean_b;
    const Row joint = sums.bd * per_w - mean_b * mean_d;
    cover =
        ((kPull * sums.moved * per_w - joint) / (spread + kPull)).max(0.0F).min(1.0F).eval();
    ink = mean_d + cover * (first_background + mean_b);
    opaque = mean_d + first_background + mean_b;
  }
};

/// Misfits of the frames that show a column: their median says what is an outlier.
class RowMisfits {
 public:
  RowMisfits(Eigen::Index columns, std::size_t frames)
      : of_column_(static_cast<std::size_t>(columns)) {
    for (std::vector<float>& misfits : of_column_) misfits.reserve(frames);
  }
  void add(const Row& believed, const Row& misfit) {
    for (Eigen::Index i = 0; i < misfit.size(); ++i) {
      if (believed[i] > 0.0F)
        of_column_[static_cast<std::size_t>(i)].push_back(std::abs(misfit[i]));
    }
  }
  void set_scale(Row& scale) {
    constexpr float kLeast = 4.0F, kTimes = 3.0F;
    for (Eigen::Index i = 0; i < scale.size(); ++i) {
      scale[i] = std::max(
          kLeast, kTimes * median_of(std::move(of_column_[static_cast<std::size_t>(i)])));
    }
  }

 private:
  std::vector<std::vector<float>> of_column_;
};

/// One round over the frames.
/// \param weigh  whether what is known already says which of them are outliers here
/// \param misfits  get what it leaves of each
RowSums sums_of(const std::vector<AlignedFrame>& frames,
                int row,
                const RowLook& now,
                bool weigh,
                RowMisfits& misfits) {
  const Row first = row_of(frames.front().background, row);
  RowSums sums(first.size());
  for (const AlignedFrame& frame : frames) {
    const Eigen::Map<const Row> believed = row_of(frame.weight, row);
    const Row behind = row_of(frame.background, row) - first;
    const Row differs = row_of(frame.seen, row) - first - behind;
    Row part = believed;
    if (weigh) {
      const Row misfit = differs - now.ink + now.cover * (behind + first);
      part /= 1.0F + (misfit / now.scale).square();
      misfits.add(believed, misfit);
    }
    sums.add(part, behind, differs);
  }
  return sums;
}

/// Where `shown`, what is learnt takes the place of what was there.
void put(const Eigen::Array<bool, Eigen::Dynamic, 1>& shown,
         const Row& learnt,
         int row,
         cv::Mat& plane) {
  row_of(plane, row) = shown.select(learnt, row_of(plane, row));
}

}  // namespace

void learn_row(const std::vector<AlignedFrame>& frames, int row, const LearntLook& look) {
  constexpr int kRounds = 4;
  constexpr float kSeen = 1e-6F;
  const Eigen::Index columns = look.ink.cols;
  const Row first = row_of(frames.front().background, row);
  RowLook now(columns);
  Row seen;
  for (int round = 0; round < kRounds; ++round) {
    RowMisfits misfits(columns, frames.size());
    RowSums sums = sums_of(frames, row, now, round > 0, misfits);
    now.solve(sums, first);
    if (round > 0) misfits.set_scale(now.scale);
    seen = std::move(sums.w);
  }
  const Eigen::Array<bool, Eigen::Dynamic, 1> shown = seen >= kSeen;
  put(shown, now.ink, row, look.ink);
  put(shown, now.cover, row, look.cover);
  put(shown, now.opaque, row, look.opaque);
}

}  // namespace swingloss
