// SPDX-License-Identifier: Apache-2.0
#include "render/design.h"

#include <array>

namespace swingloss::render {
namespace {

constexpr std::uint64_t kRoomStream = 31;

struct Room {
  const Palette& palette;
  RandomStream* random;
  Design* design;

  void box(cv::Point2d low,
           cv::Point2d high,
           double back_m,
           double front_m,
           const Material& m) const {
    design->room.push_back({box_outline(low, high), back_m, front_m, m, {}});
  }
  [[nodiscard]] Material material(const Colour& c,
                                  Grain grain,
                                  float strength,
                                  float size_m) const {
    return {c, grain, strength, size_m, static_cast<unsigned>(random->below(1 << 20))};
  }
};

Material wall_material(const Room& room) {
  const std::array<Material, 4> kinds{
      room.material(room.palette.wall, Grain::Plaster, 0.10F, 0.09F),
      room.material(room.palette.wall, Grain::Tiles, 0.12F, 0.15F),
      room.material(room.palette.wall, Grain::Planks, 0.10F, 0.12F),
      room.material(room.palette.wall, Grain::Pegboard, 0.12F, 0.04F)};
  return kinds[static_cast<std::size_t>(room.random->below(4))];
}

void add_wall_and_bench(const Room& room) {
  const double wall_m = -room.random->uniform(0.13, 0.24);
  const double front_m = room.random->uniform(0.12, 0.17);
  const double bench_m = room.design->bench_m;
  room.box({-6.0, -6.0}, {6.0, 6.0}, wall_m - 0.1, wall_m, wall_material(room));
  const Grain grain = room.random->chance(0.6) ? Grain::Wood : Grain::Plaster;
  const Material top = room.material(room.palette.bench, grain, 0.16F, 0.035F);
  room.box({-4.0, bench_m - 0.05}, {4.0, bench_m}, wall_m, front_m, top);
}

/// One broad column or two slender ones, with a bearing block; all behind the arm.
void add_upright(const Room& room) {
  const double bench_m = room.design->bench_m;
  const bool twin = room.random->chance(0.4);
  const double half = twin ? 0.011 : room.random->uniform(0.018, 0.034);
  const double head_m = room.random->uniform(0.03, 0.06);
  Material m = room.material(room.palette.upright, Grain::Brushed, 0.06F, 0.02F);
  for (const double x : twin ? std::vector<double>{-0.04, 0.04} : std::vector<double>{0.0}) {
    room.box({x - half, bench_m + 0.022}, {x + half, head_m}, -0.075, -0.045, m);
  }
  if (twin) {
    room.box({-0.051, -0.015}, {0.051, 0.025}, -0.045, -0.040, m);
    room.box({-0.051, -0.26}, {0.051, -0.24}, -0.045, -0.040, m);
  }
  Material block = m;
  block.albedo = room.palette.upright * 0.75F;
  room.box({-0.032, -0.028}, {0.032, 0.028}, -0.040, -0.012, block);
  Prism& bearing = room.design->room.back();
  for (const double x : {-0.024, 0.024}) {
    for (const double y : {-0.020, 0.020}) {
      bearing.decals.push_back({round_outline({x, y}, 0.0035, 6), Colour(0.08F, 0.08F, 0.08F)});
    }
  }
}

void add_base(const Room& room) {
  const double bench_m = room.design->bench_m;
  const double reach = room.random->uniform(0.17, 0.26);
  const Colour c =
      room.random->chance(0.5) ? room.palette.bench * 1.35F : room.palette.upright * 0.6F;
  const Material board = room.material(c, Grain::Wood, 0.10F, 0.02F);
  room.box({-reach, bench_m}, {reach, bench_m + 0.022}, -0.10, 0.075, board);
  for (const double x : {-reach + 0.02, reach - 0.02}) {
    room.design->room.back().decals.push_back(
        {round_outline({x, bench_m + 0.011}, 0.004, 6), Colour(0.05F, 0.05F, 0.05F)});
  }
}

/// Two jaws on a body, a screw to the right and a bar through its head; the gap holds the bar.
void add_vice(const Room& room) {
  const double jaws_m = room.design->vice_m;
  const double foot_m = room.design->bench_m + 0.022;
  const Material paint = room.material(room.palette.vice, Grain::Plaster, 0.06F, 0.01F);
  const Material steel = room.material(colour(150, 152, 156), Grain::Brushed, 0.06F, 0.01F);
  room.box({-0.056, foot_m}, {0.040, jaws_m - 0.022}, -0.030, 0.030, paint);
  room.box({-0.048, jaws_m - 0.022}, {-0.0102, jaws_m - 0.004}, -0.024, 0.024, paint);
  room.box({-0.030, jaws_m - 0.004}, {-0.0102, jaws_m}, -0.024, 0.024, steel);
  room.box({0.0002, jaws_m - 0.022}, {0.032, jaws_m - 0.004}, -0.024, 0.024, paint);
  room.box({0.0002, jaws_m - 0.004}, {0.020, jaws_m}, -0.024, 0.024, steel);
  const double screw_m = jaws_m - 0.036;
  room.box({0.040, screw_m - 0.006}, {0.082, screw_m + 0.006}, -0.006, 0.006, steel);
  const double slant = room.random->uniform(-0.014, 0.014);
  const cv::Point2d middle(0.076, screw_m);
  const cv::Point2d arm(slant, 0.026);
  room.design->room.push_back(
      {capsule_outline(middle - arm, middle + arm, 0.0032), 0.006, 0.0125, steel, {}});
  for (const cv::Point2d& knob : {middle - arm, middle + arm}) {
    room.design->room.push_back({round_outline(knob, 0.0062, 20), 0.004, 0.0145, steel, {}});
  }
}

}  // namespace

void add_fixed_bodies(const RenderScene& scene, const Palette& palette, Design* design) {
  RandomStream random(scene.design_seed.value_or(scene.seed), kRoomStream);
  const Room room{palette, &random, design};
  add_wall_and_bench(room);
  add_upright(room);
  add_base(room);
  add_vice(room);
}

}  // namespace swingloss::render
