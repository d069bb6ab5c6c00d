// SPDX-License-Identifier: Apache-2.0
#include "report/face_words.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("a face of one brightness is not said to be light by nothing", "[report]") {
  Appearance look;
  CHECK(face_words::lighter_part(look) == "no lighter part apart: light all over, or nowhere");
  look.light_share = 0.31;
  look.light_step = 0.3784;  // ln 1.46
  look.chroma_drop = 0.3;
  CHECK(face_words::lighter_part(look) == "lighter part 31 %, by 46 %, colour off by 0.30");
}
