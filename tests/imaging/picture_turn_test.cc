// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_turn.h"

#include "support/test.h"

#include <vector>

using namespace swingloss;

namespace {

/// Two rows, three columns: no two turns look alike.
cv::Mat letters() { return (cv::Mat_<unsigned char>(2, 3) << 'a', 'b', 'c', 'd', 'e', 'f'); }

std::string text_of(const cv::Mat& picture) {
  std::string text;
  for (int row = 0; row < picture.rows; ++row) {
    for (int x = 0; x < picture.cols; ++x) {
      text += static_cast<char>(picture.at<unsigned char>(row, x));
    }
    text += '/';
  }
  return text;
}

std::vector<PictureTurn> all_turns() {
  std::vector<PictureTurn> turns;
  for (int i = 0; i < 8; ++i) turns.push_back({(i & 1) != 0, (i & 2) != 0, (i & 4) != 0});
  return turns;
}

}  // namespace

TEST_CASE("turned follows the EXIF table", "[imaging][truth]") {
  // What is row 0 and column 0 of the stored picture, by value of the tag: JEITA CP-3451 (EXIF
  // 2.2) section 4.6.4, tag 0x0112. The pictures below were turned by hand from that table.
  const std::vector<std::string> upright = {"abc/def/",
                                            "cba/fed/",
                                            "fed/cba/",
                                            "def/abc/",
                                            "ad/be/cf/",
                                            "da/eb/fc/",
                                            "fc/eb/da/",
                                            "cf/be/ad/"};
  for (int tag = 1; tag <= 8; ++tag) {
    CAPTURE(tag);
    CHECK(text_of(turned(letters(), turn_from_exif(tag))) ==
          upright[static_cast<unsigned>(tag) - 1]);
  }
  CHECK(turn_from_exif(0).none());
  CHECK(turn_from_exif(9).none());
}

TEST_CASE("turn_from_rotation is the clockwise turn", "[imaging]") {
  CHECK(text_of(turned(letters(), turn_from_rotation(0))) == "abc/def/");
  CHECK(text_of(turned(letters(), turn_from_rotation(90))) == "da/eb/fc/");
  CHECK(text_of(turned(letters(), turn_from_rotation(180))) == "fed/cba/");
  CHECK(text_of(turned(letters(), turn_from_rotation(270))) == "cf/be/ad/");
  CHECK_THROWS_AS(turn_from_rotation(45), std::logic_error);
}

TEST_CASE("every turn is its own mirroring followed by its own rotation", "[imaging]") {
  for (const PictureTurn& turn : all_turns()) {
    CAPTURE(turn.transpose, turn.flip_x, turn.flip_y);
    cv::Mat by_parts = letters();
    if (turn.mirrored()) cv::flip(letters(), by_parts, 1);
    by_parts = turned(by_parts, turn_from_rotation(turn.rotation_deg()));
    CHECK(text_of(by_parts) == text_of(turned(letters(), turn)));
  }
}

TEST_CASE("a display matrix moves points as the container's standard says",
          "[imaging][truth]") {
  // ISO/IEC 14496-12, 6.2.2: (p, q) is shown at (a p + c q + x, b p + d q + y). The corners of
  // the stored picture must land where turned() puts them, up to the shift.
  for (const PictureTurn& turn : all_turns()) {
    CAPTURE(turn.transpose, turn.flip_x, turn.flip_y);
    const auto m = matrix_from_turn(turn);
    const cv::Mat shown = turned(letters(), turn);
    const auto sign = [](std::int32_t value) { return value > 0 ? 1 : (value < 0 ? -1 : 0); };
    // Where 'a' lies in the shown picture, and the steps from 'a' to 'b' and from 'a' to 'd'.
    cv::Point a, b, d;
    for (int y = 0; y < shown.rows; ++y) {
      for (int x = 0; x < shown.cols; ++x) {
        const char letter = static_cast<char>(shown.at<unsigned char>(y, x));
        if (letter == 'a') a = {x, y};
        if (letter == 'b') b = {x, y};
        if (letter == 'd') d = {x, y};
      }
    }
    CHECK(b - a == cv::Point(sign(m[0]), sign(m[1])));
    CHECK(d - a == cv::Point(sign(m[3]), sign(m[4])));
    CHECK(turn_from_matrix(m) == turn);
  }
}

TEST_CASE("turn_from_matrix refuses what is no multiple of a right angle", "[imaging]") {
  const std::int32_t half = 46341;  // 65536 / sqrt(2): 45 degrees
  CHECK_FALSE(turn_from_matrix({half, half, 0, -half, half, 0, 0, 0, 1 << 30}));
  CHECK_FALSE(turn_from_matrix({0, 0, 0, 0, 0, 0, 0, 0, 1 << 30}));
  // Scale and shift do not matter.
  CHECK(turn_from_matrix({0, 131072, 0, -131072, 0, 0, 777, 0, 1 << 30}) ==
        turn_from_rotation(90));
}
