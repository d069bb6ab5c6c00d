// SPDX-License-Identifier: Apache-2.0
#include "report/drawable_text.h"

#include "report/canvas.h"
#include "report/run_gnuplot.h"
#include "support/test.h"

using namespace swingloss;

namespace {

/// The last code point of a plane for private use, which no font has.
constexpr const char* kInNoFont = "\xF4\x8F\xBF\xBD";

std::string picture_of(const std::string& text) {
  const Canvas canvas = video_canvas();
  return run_gnuplot(script_head(canvas) +
                     script_label(canvas, text, {"screen 0.1", "screen 0.5"}, kStrong) +
                     "unset tics\nset xrange [0:1]\nset yrange [0:1]\nplot NaN notitle\n");
}

}  // namespace

TEST_CASE("signs that a font has stay, others become a square", "[report]") {
  CHECK(drawable_text("Küche & Ø, 5 → 6 J") == "Küche & Ø, 5 → 6 J");
  CHECK(drawable_text(std::string("a ") + kInNoFont + " b") == "a □ b");
  CHECK(drawable_text("\xFF").size() == 3);
  CHECK(drawable_text("").empty());
}

TEST_CASE("a sign that no font has does not spoil the picture", "[report]") {
  const std::string with = picture_of(std::string("A ") + kInNoFont + " B");
  CHECK((with == picture_of("A □ B")));
  CHECK((with != picture_of("A  B")));
}
