// SPDX-License-Identifier: Apache-2.0
#include "ranking/normal_tail.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

TEST_CASE("log_normal_cdf agrees with a 30-digit computation", "[truth]") {
  // mpmath 1.3, log(ncdf(x)) and npdf(x)/ncdf(x) with 40 digits.
  struct Row {
    double x, log_cdf, ratio;
  };
  for (const Row& row : {Row{-1000.0, -500007.8266948122, 1000.000999998},
                         Row{-60.0, -1805.013560680567, 60.01665742024112},
                         Row{-40.0, -804.6084420137538, 40.02496884720726},
                         Row{-30.0, -454.3212439563432, 30.03325966743368},
                         Row{-10.0001, -53.23229496478864, 10.09819228943366},
                         Row{-9.9999, -53.23027534614185, 10.09799417850923},
                         Row{-5.0, -15.06499839398873, 5.186503967125842},
                         Row{-1.0, -1.841021645009264, 1.525135276160981},
                         Row{0.0, -0.6931471805599453, 0.7978845608028654},
                         Row{0.5, -0.3689464152886564, 0.5091604338370335},
                         Row{3.0, -0.001350809964748194, 0.004437839042125664},
                         Row{6.0, -9.865876455243757e-10, 6.075882855817676e-9},
                         Row{9.0, -1.128588405953841e-19, 1.027977357166891e-18}}) {
    CAPTURE(row.x);
    CHECK_THAT(log_normal_cdf(row.x), test::to_printed_digits(row.log_cdf, 14));
    CHECK_THAT(tail_ratio(row.x), test::to_printed_digits(row.ratio, 14));
  }
}

TEST_CASE("tail_ratio is the slope of log_normal_cdf on both sides of the changeover") {
  for (const double x : {-45.0, -10.5, -9.5, -5.0, 0.0, 3.0}) {
    const double h = 1e-4;
    const double slope = (log_normal_cdf(x + h) - log_normal_cdf(x - h)) / (2.0 * h);
    // Central difference: h^2/6 times a third derivative below 0.3, and rounding of a value up
    // to 1000 over 2 h.
    CHECK_THAT(tail_ratio(x), test::to_truncation(slope, 0.05 * h * h + 1000.0 * 2.3e-16 / h));
  }
}
