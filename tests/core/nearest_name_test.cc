// SPDX-License-Identifier: Apache-2.0
#include "core/nearest_name.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("name_distance counts slips of the hand", "[core][truth]") {
  // Textbook distances (common practice, no source): kitten - sitting 3; a swap of
  // neighbours 1.
  CHECK(name_distance("kitten", "sitting") == 3);
  CHECK(name_distance("width", "widht") == 1);
  CHECK(name_distance("", "abc") == 3);
  CHECK(name_distance("abc", "") == 3);
  CHECK(name_distance("same", "same") == 0);
  CHECK(name_distance("Width-mm", "width_mm") == 0);
}

TEST_CASE("nearest_name proposes only what could have been meant", "[core]") {
  const std::vector<std::string> known = {"id", "material", "thickness_mm", "width_mm"};
  CHECK(nearest_name("widht_mm", known) == "width_mm");
  CHECK(nearest_name("Material", known) == "material");
  CHECK(nearest_name("thicknes", known) == "thickness_mm");
  CHECK_FALSE(nearest_name("operator", known).has_value());
  CHECK_FALSE(nearest_name("xy", known).has_value());
  CHECK_FALSE(nearest_name("x", {}).has_value());
}
