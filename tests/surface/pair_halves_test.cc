// SPDX-License-Identifier: Apache-2.0
#include "surface/pair_halves.h"

#include "support/test.h"
#include "surface/face_photos.h"
#include "surface/measure_surface.h"
#include "surface/suggest_break.h"

#include <algorithm>

using namespace swingloss;
using namespace swingloss::render;

namespace {

/// Halves of two bars: which look lies at which of four places from left to right.
FaceScene four_halves(std::uint64_t seed,
                      const std::array<int, 4>& bar_at,
                      const std::array<double, 4>& x_mm) {
  FaceScene scene = test::scene_with_one();
  scene.seed = seed;
  scene.faces.clear();
  std::array<bool, 2> seen{};
  for (std::size_t k = 0; k < 4; ++k) {
    const int bar = bar_at[k];
    PlacedFace face;
    face.look = random_face(bar == 0 ? FaceKind::Brittle : FaceKind::Ductile,
                            2 * seed + std::uint64_t(bar));
    face.look.thickness_m = bar == 0 ? 4.0e-3 : 4.6e-3;
    face.look.width_m = bar == 0 ? 10.0e-3 : 10.6e-3;
    face.look.albedo = bar == 0 ? colour(180, 60, 40) : colour(190, 190, 180);
    face.look.other_half = seen[std::size_t(bar)];
    seen[std::size_t(bar)] = true;
    face.middle_m = {1e-3 * x_mm[k], 0.038};
    face.turn_rad = 0.03 * double(k);
    scene.faces.push_back(face);
  }
  return scene;
}

constexpr std::array<double, 4> kEven_mm = {32.0, 45.0, 58.0, 71.0};

SurfaceMeasurement measured(const FaceScene& scene, std::optional<int> bars = {}) {
  SurfaceOptions options;
  options.ruler_m = 80e-3;
  options.bars = bars;
  auto surface = measure_surface(photograph(scene), "photo", test::blank_model(), options);
  REQUIRE(surface.ok());
  return surface.value();
}

bool refused(const SurfaceMeasurement& surface) {
  return std::any_of(surface.remarks.begin(), surface.remarks.end(), [](const Remark& r) {
    return r.code == "halves-unpaired";
  });
}

}  // namespace

TEST_CASE("halves that lie side by side and look alike are paired", "[surface][synthetic]") {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    CAPTURE(seed);
    const SurfaceMeasurement surface = measured(four_halves(seed, {0, 0, 1, 1}, kEven_mm));
    REQUIRE(surface.faces.size() == 4);
    for (const Remark& remark : surface.remarks) UNSCOPED_INFO(remark.text);
    REQUIRE(surface.pairs.size() == 2);
    for (const HalfPair& pair : surface.pairs) {
      CHECK(pair.second == pair.first + 1);
      CHECK(pair.unlikeness < 1.0);
    }
  }
}

TEST_CASE("halves of two bars that lie mixed are not paired, and that is said",
          "[surface][synthetic]") {
  for (const std::array<int, 4>& order :
       {std::array<int, 4>{0, 1, 0, 1}, std::array<int, 4>{0, 1, 1, 0}}) {
    const SurfaceMeasurement surface = measured(four_halves(4, order, kEven_mm));
    CHECK(surface.pairs.empty());
    CHECK(refused(surface));
  }
}

TEST_CASE("two lone halves of unlike bars are not taken for one bar", "[surface][synthetic]") {
  FaceScene scene = four_halves(5, {0, 1, 0, 1}, kEven_mm);
  scene.faces.resize(2);
  const SurfaceMeasurement surface = measured(scene);
  CHECK(surface.pairs.empty());
  CHECK(refused(surface));
  // Told that two bars lie there, one half of each is meant.
  CHECK_FALSE(refused(measured(scene, 2)));
}

TEST_CASE("an odd number of halves is not paired", "[surface][synthetic]") {
  FaceScene scene = four_halves(6, {0, 0, 1, 1}, kEven_mm);
  scene.faces.pop_back();
  CHECK(refused(measured(scene)));
  CHECK_FALSE(refused(measured(scene, 3)));
  CHECK(refused(measured(scene, 2)));
}

TEST_CASE("bars of one kind are paired by their places, if those are clear", "[surface]") {
  // Four faces without a feature between them; places in pixels.
  const auto pairs_at = [](const std::array<double, 4>& x_px, std::optional<int> bars) {
    std::vector<FaceMeasures> faces(4);
    std::vector<HalfTraits> traits(4);
    for (std::size_t i = 0; i < 4; ++i) traits[i].middle_px = {x_px[i], 100.0};
    return pair_halves(faces, traits, bars);
  };
  CHECK(pairs_at({100, 160, 300, 360}, {}).ok());
  CHECK_FALSE(pairs_at({100, 200, 300, 400}, {}).ok());
  CHECK(pairs_at({100, 200, 300, 400}, 2).ok());
  CHECK(pairs_at({100, 200, 300, 400}, 4).value().empty());
}

TEST_CASE("break types: apart is C, hanging together is H, a lip leaves it open",
          "[surface][synthetic]") {
  FaceScene scene = four_halves(7, {0, 0, 1, 1}, kEven_mm);
  scene.faces.resize(2);
  for (PlacedFace& face : scene.faces) face.turn_rad = 0.0;
  const auto guess = [&] {
    const SurfaceMeasurement surface = measured(scene);
    std::vector<const FaceMeasures*> faces;
    for (const FaceMeasures& face : surface.faces) faces.push_back(&face);
    return suggest_break(faces, !surface.pairs.empty());
  };
  CHECK(guess().letter == "C");

  scene.faces.front().look.lip_m = 0.9e-3;
  const BreakGuess lip = guess();
  CAPTURE(lip.reason);
  CHECK(lip.letter.empty());
  CHECK(lip.reason.find("lip") != std::string::npos);

  // Opened flat: far side against far side.
  scene.faces.front().look.lip_m = 0.0;
  scene.faces[0].middle_m = {0.053, 0.0329};
  scene.faces[1].middle_m = {0.053, 0.0428};
  scene.faces[1].turn_rad = CV_PI;
  const BreakGuess joined = guess();
  CAPTURE(joined.reason);
  CHECK(joined.letter == "H");

  CHECK(suggest_break({}, false).letter.empty());
  FaceMeasures lone;
  CHECK(suggest_break({&lone}, false).letter.empty());
}

TEST_CASE("a lip is measured, and none is invented", "[surface][synthetic]") {
  FaceScene scene = test::scene_with_one(0.9);
  const SurfaceMeasurement plain = measured(scene);
  REQUIRE(plain.faces.front().notch_found);
  CHECK(plain.faces.front().parting.lip == 0.0);
  scene.faces.front().look.lip_m = 0.8e-3;
  const SurfaceMeasurement with_lip = measured(scene);
  REQUIRE(with_lip.faces.front().notch_found);
  // 0.8 of 10 mm; its edge is ragged by a quarter, and the mask is smoothed over 0.6 mm.
  CHECK_THAT(with_lip.faces.front().parting.lip, test::to_truncation(0.08, 0.03));
  CHECK(with_lip.faces.front().marks.lip_px.size() > 3);
}

TEST_CASE("with a lip b_N is taken beside it, and its uncertainty says so",
          "[surface][synthetic]") {
  double squares = 0.0;
  int seen = 0;
  for (int k = 0; k < 8; ++k) {
    FaceScene scene = test::scene_with_one(0.9);
    FaceLook& look = scene.faces.front().look;
    look.seed = 11U + unsigned(k);
    const auto plain = measured(scene).faces.front();
    look.lip_m = 0.4e-3 + 0.1e-3 * k;
    look.lip_share = k % 2 == 0 ? 0.35 : 0.6;
    const auto with_lip = measured(scene).faces.front();
    CAPTURE(k, look.lip_m, look.lip_share, with_lip.parting.lip);
    if (!plain.section || !with_lip.section || with_lip.parting.lip == 0.0) continue;
    ++seen;
    const Uncertain& b = with_lip.section->width_m;
    CHECK_THAT(b.value(), test::to_uncertainty(8e-3, b.u()));
    CHECK(b.u() > 1.5 * plain.section->width_m.u());
    // A line that the lip drew wholly to its end leaves the lip's length over the root of
    // three.
    CHECK(b.u() < 0.6 * look.lip_m);
    squares += std::pow((b.value() - 8e-3) / b.u(), 2);
  }
  REQUIRE(seen >= 5);
  // A rectangle's end is taken for its doubt, so that scores stay below 1; not far below.
  CHECK(squares / seen < 1.0 + 3.0 * std::sqrt(2.0 / seen));
  CHECK(squares / seen > 0.05);
}
