// SPDX-License-Identifier: Apache-2.0
#include "render/design.h"

#include <array>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr std::uint64_t kPaletteStream = 11;
constexpr std::uint64_t kLampStream = 12;
constexpr std::uint64_t kClutterStream = 13;

/// Least difference in displayed lightness (0 to 1) between the arm and what is behind it.
constexpr float kLeastContrast = 0.16F;

template <std::size_t N>
Colour pick(const std::array<Colour, N>& choice, RandomStream* random) {
  return choice[static_cast<std::size_t>(random->below(static_cast<int>(N)))];
}

float lightness(const Colour& c) { return std::cbrt(brightness(c)); }

Palette draw_palette(RandomStream* random) {
  static const std::array<Colour, 7> walls{colour(222, 216, 202),
                                           colour(186, 202, 188),
                                           colour(104, 118, 126),
                                           colour(208, 186, 152),
                                           colour(202, 212, 220),
                                           colour(176, 142, 102),
                                           colour(150, 160, 172)};
  static const std::array<Colour, 7> arms{colour(176, 180, 184),
                                          colour(50, 52, 58),
                                          colour(178, 146, 82),
                                          colour(146, 54, 44),
                                          colour(74, 96, 60),
                                          colour(228, 222, 204),
                                          colour(40, 78, 112)};
  static const std::array<Colour, 6> benches{colour(150, 108, 68),
                                             colour(104, 84, 62),
                                             colour(92, 100, 92),
                                             colour(178, 152, 116),
                                             colour(70, 74, 80),
                                             colour(134, 128, 118)};
  static const std::array<Colour, 6> uprights{colour(66, 108, 104),
                                              colour(196, 138, 44),
                                              colour(78, 82, 92),
                                              colour(126, 66, 92),
                                              colour(206, 204, 198),
                                              colour(92, 116, 70)};
  static const std::array<Colour, 5> vices{colour(52, 92, 70),
                                           colour(120, 42, 38),
                                           colour(88, 90, 96),
                                           colour(60, 72, 128),
                                           colour(160, 112, 40)};
  static const std::array<Colour, 5> bars{colour(236, 230, 214),
                                          colour(44, 44, 46),
                                          colour(208, 92, 40),
                                          colour(110, 168, 186),
                                          colour(220, 190, 60)};
  static const std::array<Colour, 3> gloves{
      colour(70, 96, 150), colour(206, 150, 118), colour(210, 196, 150)};
  Palette p;
  p.wall = pick(walls, random);
  p.bench = pick(benches, random);
  p.upright = pick(uprights, random);
  p.vice = pick(vices, random);
  p.bar = pick(bars, random);
  p.glove = pick(gloves, random);
  const auto far_from_wall = [&p](const Colour& c) {
    return std::abs(lightness(c) - lightness(p.wall)) > kLeastContrast;
  };
  do p.arm = pick(arms, random);
  while (!far_from_wall(p.arm) || std::abs(lightness(p.arm) - lightness(p.upright)) < 0.08F);
  do p.hammer = pick(arms, random);
  while (!far_from_wall(p.hammer));
  do p.trim = pick(arms, random);
  while (std::abs(lightness(p.trim) - lightness(p.hammer)) < kLeastContrast);
  return p;
}

Lamp draw_lamp(double size_ratio, RandomStream* random) {
  Lamp lamp;
  const double side = random->chance(0.5) ? 1.0 : -1.0;
  lamp.centre_m = std::max(1.0, size_ratio) * cv::Vec3d(side * random->uniform(0.15, 0.8),
                                                        random->uniform(0.85, 1.3),
                                                        random->uniform(1.3, 2.2));
  lamp.radius_m = random->uniform(0.03, 0.12);
  const float warm = static_cast<float>(random->uniform(-0.06, 0.10));
  const float share = static_cast<float>(random->uniform(0.50, 0.72));
  lamp.power = 1.15F * share * Colour(1.0F - warm, 1.0F, 1.0F + warm);
  lamp.sky = (0.95F - share) * Colour(1.03F, 1.0F, 0.97F);
  return lamp;
}

}  // namespace

Design make_design(const RenderScene& scene) {
  const std::uint64_t seed = scene.design_seed.value_or(scene.seed);
  RandomStream for_palette(seed, kPaletteStream);
  RandomStream for_lamp(seed, kLampStream);
  RandomStream for_clutter(seed, kClutterStream);
  Palette palette = draw_palette(&for_palette);
  if (scene.faults.upright_like_arm) palette.upright = palette.arm;

  Design design;
  const double length_m = scene.rig.reduced_length_m;
  design.strike_radius_m = length_m;
  design.vice_m = -length_m - 0.022;  // a bar is struck 22 mm above the vice [ISO180]
  design.bench_m = design.vice_m - 0.085;
  design.lamp = draw_lamp(length_m / 0.33, &for_lamp);
  add_fixed_bodies(scene, palette, &design);
  add_clutter(palette, &for_clutter, &design);
  add_moving_bodies(scene, palette, &design);
  return design;
}

}  // namespace swingloss::render
