// SPDX-License-Identifier: Apache-2.0
#include "tracking/kept_pictures.h"

#include "support/test.h"

using namespace swingloss;

namespace {

constexpr std::size_t kBytes = 100;  // of a picture

cv::Mat picture() { return {10, 10, CV_8UC1, cv::Scalar(0)}; }

}  // namespace

TEST_CASE("every picture is kept while there is room", "[tracking]") {
  KeptPictures kept(100 * kBytes);
  for (int frame = 0; frame < 100; ++frame) kept.add(frame, picture());
  CHECK(kept.frames().size() == 100);
  CHECK(kept.pictures().size() == 100);
}

TEST_CASE("without room, runs of frames are kept, evenly", "[tracking]") {
  KeptPictures kept(100 * kBytes);
  for (int frame = 0; frame < 512; ++frame) kept.add(frame, picture());
  REQUIRE(kept.frames().size() == 64);
  REQUIRE(kept.pictures().size() == 64);
  CHECK(kept.frames()[0] == 0);
  CHECK(kept.frames()[31] == 31);
  CHECK(kept.frames()[32] == 256);
  CHECK(kept.frames()[63] == 287);
}

TEST_CASE("pictures that share their pixels take room once", "[tracking]") {
  KeptPictures kept(2 * kBytes);
  const cv::Mat still = picture();
  for (int frame = 0; frame < 512; ++frame) kept.add(frame, still);
  CHECK(kept.frames().size() == 512);
}

TEST_CASE("one run stays, however large its pictures", "[tracking]") {
  KeptPictures kept(1);
  for (int frame = 0; frame < 100; ++frame) kept.add(frame, picture());
  CHECK(kept.frames().size() == 32);
}
