// SPDX-License-Identifier: Apache-2.0
#include "report/palette.h"

#include "report/contrast.h"
#include "support/test.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace swingloss {
namespace {

using test::contrast;
using test::linear_rgb;
using test::Triple;
using Matrix = std::array<Triple, 3>;

Triple times(const Matrix& matrix, const Triple& x) {
  Triple y{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t k = 0; k < 3; ++k) y[i] += matrix[i][k] * x[k];
    y[i] = std::clamp(y[i], 0.0, 1.0);
  }
  return y;
}

/// CIELAB for D65; matrix and curve from memory of CIE 15.
Triple lab(const Triple& rgb) {
  const Matrix xyz_from_rgb = {
      {{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}};
  const Triple white = {0.9505, 1.0, 1.089};
  Triple f = times(xyz_from_rgb, rgb);
  for (std::size_t i = 0; i < 3; ++i) {
    const double ratio = f[i] / white[i];
    f[i] = ratio > 0.008856 ? std::cbrt(ratio) : 7.787 * ratio + 16.0 / 116.0;
  }
  return {116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])};
}

double distance(const Triple& a, const Triple& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/// Full vision and the three two-cone ones: [Machado2009] table 1, severity 1.0, values from
/// memory.
const std::vector<Matrix> kVisions = {{{{1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}, {0.0, 0.0, 1.0}}},
                                      {{{0.152286, 1.052583, -0.204868},
                                        {0.114503, 0.786281, 0.099216},
                                        {-0.003882, -0.048116, 1.051998}}},
                                      {{{0.367322, 0.860646, -0.227968},
                                        {0.280085, 0.672501, 0.047413},
                                        {-0.011820, 0.042940, 0.968881}}},
                                      {{{1.255528, -0.076749, -0.178779},
                                        {-0.078411, 0.930809, 0.147602},
                                        {0.004733, 0.691367, 0.303900}}}};

double smallest_distance(const char* Swatch::*ground) {
  double smallest = 1e9;
  for (const Matrix& vision : kVisions) {
    for (std::size_t i = 0; i < kMaterials.size(); ++i) {
      for (std::size_t k = i + 1; k < kMaterials.size(); ++k) {
        const Triple one = lab(times(vision, linear_rgb(kMaterials[i].*ground)));
        const Triple other = lab(times(vision, linear_rgb(kMaterials[k].*ground)));
        smallest = std::min(smallest, distance(one, other));
      }
    }
  }
  return smallest;
}

}  // namespace

// A difference of 2.3 in CIELAB is just noticeable side by side; ten times that for small
// points apart. Common practice, no source.
TEST_CASE("material colours stay apart for full and for two-cone vision", "[report]") {
  CHECK(smallest_distance(&Swatch::light) > 23.0);
  CHECK(smallest_distance(&Swatch::dark) > 23.0);
}

// 4.5:1 for text, 3:1 for shapes: WCAG 2.1, 1.4.3 and 1.4.11.
TEST_CASE("text and marks are legible on both grounds", "[report]") {
  for (const Swatch& text : {kInk, kMuted, kAccent, kWarm, kAlarm}) {
    CAPTURE(text.name);
    for (const Swatch& ground : {kPaper, kPanel}) {
      CHECK(contrast(text.light, ground.light) >= 4.5);
      CHECK(contrast(text.dark, ground.dark) >= 4.5);
    }
  }
  for (const Swatch& mark : kMaterials) {
    CAPTURE(mark.name);
    CHECK(contrast(mark.light, kPaper.light) >= 3.0);
    CHECK(contrast(mark.dark, kPaper.dark) >= 3.0);
  }
}

TEST_CASE("no two parts share a colour, so that a chart can be recoloured by colour alone",
          "[report]") {
  std::vector<std::string> colours;
  for (const Swatch& swatch : all_swatches()) colours.emplace_back(swatch.light);
  std::sort(colours.begin(), colours.end());
  CHECK(std::adjacent_find(colours.begin(), colours.end()) == colours.end());
}

}  // namespace swingloss
