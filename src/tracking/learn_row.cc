// SPDX-License-Identifier: Apache-2.0
#include "tracking/learn_row.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>
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
  Row first_background;  ///< of the first frame, see RowSums
  Row ink, cover, opaque, scale;

  explicit RowLook(const Row& first)
      : first_background(first),
        ink(Row::Zero(first.size())),
        cover(Row::Zero(first.size())),
        opaque(Row::Zero(first.size())),
        scale(Row::Constant(first.size(), 40.0F)) {}

  void solve(const RowSums& sums) {
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
/// \param misfits  get what it leaves of each; nullptr: not wanted
RowSums sums_of(const std::vector<AlignedFrame>& frames,
                int row,
                const RowLook& now,
                bool weigh,
                RowMisfits* misfits) {
  RowSums sums(now.first_background.size());
  for (const AlignedFrame& frame : frames) {
    const Eigen::Map<const Row> believed = row_of(frame.weight, row);
    const Row behind = row_of(frame.background, row) - now.first_background;
    const Row differs = row_of(frame.seen, row) - now.first_background - behind;
    Row part = believed;
    if (weigh) {
      const Row misfit = differs - now.ink + now.cover * (behind + now.first_background);
      part /= 1.0F + (misfit / now.scale).square();
      if (misfits != nullptr) misfits->add(believed, misfit);
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
  constexpr int kRescaledRounds = 2;
  constexpr float kSeen = 1e-6F;
  RowLook now(row_of(frames.front().background, row));
  now.solve(sums_of(frames, row, now, false, nullptr));
  for (int round = 0; round < kRescaledRounds; ++round) {
    RowMisfits misfits(look.ink.cols, frames.size());
    now.solve(sums_of(frames, row, now, true, &misfits));
    misfits.set_scale(now.scale);
  }
  const RowSums last = sums_of(frames, row, now, true, nullptr);
  now.solve(last);
  const Eigen::Array<bool, Eigen::Dynamic, 1> shown = last.w >= kSeen;
  put(shown, now.ink, row, look.ink);
  put(shown, now.cover, row, look.cover);
  put(shown, now.opaque, row, look.opaque);
}

}  // namespace swingloss
