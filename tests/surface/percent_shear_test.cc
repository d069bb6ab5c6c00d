// SPDX-License-Identifier: Apache-2.0
#include "surface/percent_shear.h"

#include "support/test.h"

#include <array>
#include <cmath>

using namespace swingloss;

namespace {

constexpr std::array<double, 19> kA_mm = {1.0,
                                          1.5,
                                          2.0,
                                          2.5,
                                          3.0,
                                          3.5,
                                          4.0,
                                          4.5,
                                          5.0,
                                          5.5,
                                          6.0,
                                          6.5,
                                          7.0,
                                          7.5,
                                          8.0,
                                          8.5,
                                          9.0,
                                          9.5,
                                          10.0};
// ASTM E23-18, table A4.1 (millimetres), as printed: rows by B from 1.0 to 8.0 in halves.
constexpr std::array<std::array<int, 19>, 15> kPrinted = {{
    {99, 98, 98, 97, 96, 96, 95, 94, 94, 93, 92, 92, 91, 91, 90, 89, 89, 88, 88},
    {98, 97, 96, 95, 94, 93, 92, 92, 91, 90, 89, 88, 87, 86, 85, 84, 83, 82, 81},
    {98, 96, 95, 94, 92, 91, 90, 89, 88, 86, 85, 84, 82, 81, 80, 79, 77, 76, 75},
    {97, 95, 94, 92, 91, 89, 88, 86, 84, 83, 81, 80, 78, 77, 75, 73, 72, 70, 69},
    {96, 94, 92, 91, 89, 87, 85, 83, 81, 79, 77, 76, 74, 72, 70, 68, 66, 64, 62},
    {96, 93, 91, 89, 87, 85, 82, 80, 78, 76, 74, 72, 69, 67, 65, 63, 61, 58, 56},
    {95, 92, 90, 88, 85, 82, 80, 77, 75, 72, 70, 67, 65, 62, 60, 57, 55, 52, 50},
    {94, 92, 89, 86, 83, 80, 77, 75, 72, 69, 66, 63, 61, 58, 55, 52, 49, 46, 44},
    {94, 91, 88, 85, 81, 78, 75, 72, 69, 66, 62, 59, 56, 53, 50, 47, 44, 41, 37},
    {93, 90, 86, 83, 79, 76, 72, 69, 66, 62, 59, 55, 52, 48, 45, 42, 38, 35, 31},
    {92, 89, 85, 81, 77, 74, 70, 66, 62, 59, 55, 51, 47, 44, 40, 36, 33, 29, 25},
    {92, 88, 84, 80, 76, 72, 67, 63, 59, 55, 51, 47, 43, 39, 35, 31, 27, 23, 19},
    {91, 87, 82, 78, 74, 69, 65, 61, 56, 52, 47, 43, 39, 34, 30, 26, 21, 17, 12},
    {91, 86, 81, 77, 72, 67, 62, 58, 53, 48, 44, 39, 34, 30, 25, 20, 16, 11, 6},
    {90, 85, 80, 75, 70, 65, 60, 55, 50, 45, 40, 35, 30, 25, 20, 15, 10, 5, 0},
}};

/// A face of which only the broken part matters here: 200 x 160 px, turned by 0.3 rad.
FaceMeasures plain_face() {
  FaceMeasures face;
  const double c = std::cos(0.3);
  const double s = std::sin(0.3);
  for (const auto& [x, y] : {std::pair{0, 0}, {200, 0}, {200, 160}, {0, 160}})
    face.broken_px.emplace_back(300 + c * x - s * y, 200 + s * x + c * y);
  return face;
}

Eigen::Vector2d on_face(const FaceMeasures& face, double across, double down) {
  const auto& q = face.broken_px;
  return q[0] + across * (q[1] - q[0]) + down * (q[3] - q[0]);
}

}  // namespace

TEST_CASE("percent shear is that of the printed table", "[surface][truth]") {
  for (std::size_t row = 0; row < kPrinted.size(); ++row) {
    for (std::size_t column = 0; column < kA_mm.size(); ++column) {
      const double b_mm = 1.0 + 0.5 * double(row);
      CAPTURE(kA_mm[column], b_mm);
      // Whole percent, halves mostly cut off; two cells of the print are 0.6 off the formula
      // that it rests on (A 9.5, B 4.5 and A 2.5, B 5.0).
      CHECK_THAT(percent_shear(1e-3 * kA_mm[column], 1e-3 * b_mm),
                 test::to_truncation(double(kPrinted[row][column]), 0.7));
    }
  }
  CHECK(percent_shear(0.0, 5e-3) == 100.0);
  CHECK(percent_shear(12e-3, 9e-3) == 0.0);
}

TEST_CASE("an outline of the flat part gives its share of the section, however it lies",
          "[surface][truth]") {
  FaceMeasures face = plain_face();
  const Polygon flat = {on_face(face, 0.25, 0.2),
                        on_face(face, 0.75, 0.2),
                        on_face(face, 0.75, 0.7),
                        on_face(face, 0.25, 0.7)};
  const auto shear = shear_from_outline(face, flat);
  REQUIRE(shear.ok());
  // Half the thickness times half the way; pixels are single precision.
  CHECK_THAT(shear.value().percent, test::to_truncation(75.0, 1e-3));
  CHECK_FALSE(shear.value().a_m);

  face.section = SectionSize();
  face.section->thickness_m = Uncertain::exact(10e-3);
  face.section->width_m = Uncertain::exact(8e-3);
  face.section->area_m2 = Uncertain::exact(80e-6);
  const auto sized = shear_from_outline(face, flat);
  REQUIRE(sized.ok());
  CHECK_THAT(*sized.value().a_m, test::to_truncation(5e-3, 1e-6));
  CHECK_THAT(*sized.value().b_m, test::to_truncation(4e-3, 1e-6));
  // The same A and B typed say the same.
  CHECK_THAT(shear_from_sizes(face, 5e-3, 4e-3).percent, test::to_truncation(75.0, 1e-6));
}

TEST_CASE("corners off the face are refused", "[surface]") {
  const FaceMeasures face = plain_face();
  const auto off =
      shear_from_outline(face, {{0.0, 0.0}, on_face(face, 0.5, 0.5), on_face(face, 0.1, 0.9)});
  REQUIRE_FALSE(off.ok());
  CHECK(off.failure().code == "flat-part-outside");
}

TEST_CASE("without a photographed section A and B are held against the usual one",
          "[surface]") {
  const ShearReading shear = shear_from_sizes(plain_face(), 5.5e-3, 5.5e-3);
  // ASTM E23-18, table A4.1: 62.
  CHECK_THAT(shear.percent, test::to_truncation(62.0, 0.7));
  CHECK(shear.basis.find("usual") != std::string::npos);
}
