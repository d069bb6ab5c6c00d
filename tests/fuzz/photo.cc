// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "imaging/still.h"
#include "view/card_tags.h"
#include "view/card_view.h"

#include <opencv2/imgproc.hpp>

namespace swingloss::test {

void fuzz_photo(const std::string& bytes) {
  const ScratchFile file(bytes);
  read_or_refuse<InputError>([&] {
    const Still still = read_still(file.path());
    if (still.bgr.total() > 1'000'000) return;  // slow under a sanitizer, and nothing new
    cv::Mat grey;
    cv::cvtColor(still.bgr, grey, cv::COLOR_BGR2GRAY);
    (void)look_of_edges(grey, read_card_tags(grey));
    CardViewOptions options;
    options.focal_35mm = still.focal_35mm;
    options.fewest_px_per_m = 500.0;  // the corpus is small
    (void)find_card(still.bgr, options);
  });
}

}  // namespace swingloss::test
