// SPDX-License-Identifier: Apache-2.0
#include "imaging/one_field.h"

#include <algorithm>

namespace swingloss {

cv::Mat one_field(const cv::Mat& woven) {
  cv::Mat out = woven.clone();
  const int last = (woven.rows - 1) / 2 * 2;  // line of the field
  const int count = woven.cols * woven.channels();
  for (int row = 1; row < woven.rows; row += 2) {
    const auto line = [&](int away) {
      return woven.ptr<uchar>(std::clamp(row + away, 0, last));
    };
    const uchar *far_above = line(-3), *above = line(-1), *below = line(1),
                *far_below = line(3);
    uchar* to = out.ptr<uchar>(row);
    for (int i = 0; i < count; ++i) {
      const int sum = 9 * (above[i] + below[i]) - far_above[i] - far_below[i];
      to[i] = cv::saturate_cast<uchar>((sum + 8) >> 4);
    }
  }
  return out;
}

}  // namespace swingloss
