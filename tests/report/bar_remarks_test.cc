// SPDX-License-Identifier: Apache-2.0
#include "report/bar_remarks.h"

#include "support/test.h"

namespace swingloss {

TEST_CASE("a note is said once, warnings with other words are all said", "[report]") {
  const Remarks remarks = {{"later", Severity::Note, "After 2.17 s the arm does not go on."},
                           {"dim", Severity::Warning, "Frame 3 is dark."},
                           {"later", Severity::Note, "After 2.17 s it does not (a hand?)."},
                           {"dim", Severity::Warning, "Frame 9 is dark."},
                           {"dim", Severity::Warning, "Frame 3 is dark."},
                           {"later", Severity::Warning, "After 2.17 s the arm does not go on."}};
  const Remarks kept = without_repeats(remarks);
  REQUIRE(kept.size() == 4);
  CHECK(kept[0].text == remarks[0].text);
  CHECK(kept[1].text == remarks[1].text);
  CHECK(kept[2].text == remarks[3].text);
  CHECK(kept[3].severity == Severity::Warning);
}

}  // namespace swingloss
