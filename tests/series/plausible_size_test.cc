// SPDX-License-Identifier: Apache-2.0
#include "series/plausible_size.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("size_doubt sees through metres, micrometres and inches", "[series]") {
  const PlausibleSize& length = plausible_length_mm();
  CHECK(size_doubt(0.008, length) == "Did you mean 8 mm (0.008 metres)?");
  CHECK(size_doubt(8000, length) == "Did you mean 8 mm (8000 micrometres)?");
  CHECK(size_doubt(0.315, length) == "Did you mean 8.001 mm (0.315 inches)?");
  CHECK(size_doubt(3e6, length) == "Check the value and its unit.");
}

TEST_CASE("size_doubt lets the bars of the standards pass", "[series]") {
  // Thickness and width left under the notch of common bars: 4 and 8 mm (ISO 179-1 type 1,
  // notch A), 3.2 and 10.16 mm (ASTM D256), 10 and 8 mm (ASTM E23); common practice, as in the
  // standards' figures.
  for (const double mm : {2.5, 3.2, 4.0, 8.0, 10.0, 10.16, 12.7}) {
    CAPTURE(mm);
    CHECK_FALSE(size_doubt(mm, plausible_length_mm()).has_value());
  }
  for (const double J : {0.01, 0.5, 2.75, 50.0, 300.0}) {
    CAPTURE(J);
    CHECK_FALSE(size_doubt(J, plausible_energy_J()).has_value());
  }
}

TEST_CASE("size_doubt sees millijoules and kilojoules, kilograms and milligrams", "[series]") {
  CHECK(size_doubt(2500, plausible_energy_J()) == "Did you mean 2.5 J (2500 millijoules)?");
  CHECK(size_doubt(2e-4, plausible_energy_J()) == "Did you mean 0.2 J (0.0002 kilojoules)?");
  CHECK(size_doubt(0.004, plausible_mass_g()) == "Did you mean 4 g (0.004 kilograms)?");
  CHECK(size_doubt(8000, plausible_mass_g()) == "Did you mean 8 g (8000 milligrams)?");
}
