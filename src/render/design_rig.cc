// SPDX-License-Identifier: Apache-2.0
#include "render/design.h"

#include <algorithm>
#include <array>

#include <opencv2/aruco.hpp>

namespace swingloss::render {
namespace {

constexpr std::uint64_t kRigStream = 21;
constexpr int kTagNumber = 7;

/// Depths [m]: hub nut in front, then hammer, then pointer and hand in front of all.
constexpr double kArmHalf_m = 0.004;
constexpr double kHammerBack_m = -0.014, kHammerFront_m = 0.016;
constexpr double kHubFront_m = 0.010;

Material plain(const Colour& c) {
  Material m;
  m.albedo = c;
  return m;
}

Prism body(std::vector<cv::Point2d> outline, double back_m, double front_m, const Colour& c) {
  return {std::move(outline), back_m, front_m, plain(c), {}};
}

void add_wear(const Palette& palette, double length_m, RandomStream* random, Prism* arm) {
  const Colour lighter = palette.arm * 1.25F + Colour(0.03F, 0.03F, 0.03F);
  const Colour darker = palette.arm * 0.7F;
  for (int i = 0; i < 5; ++i) {
    const double y = -random->uniform(0.12, 0.62) * length_m;
    const double x = random->uniform(-0.005, 0.003);
    const double tall = random->uniform(0.004, 0.02);
    const Colour& c = random->chance(0.5) ? lighter : darker;
    arm->decals.push_back(
        {box_outline({x, y}, {x + random->uniform(0.001, 0.003), y + tall}), c});
  }
}

Prism make_arm(const Palette& palette, double length_m, RandomStream* random) {
  const double half = random->uniform(0.0075, 0.0105);
  const double taper = random->uniform(0.65, 1.0);
  const double tail = random->uniform(0.03, 0.075);
  Prism arm = body({{-half * taper, -0.9 * length_m},
                    {half * taper, -0.9 * length_m},
                    {half, tail},
                    {-half, tail}},
                   -kArmHalf_m,
                   kArmHalf_m,
                   palette.arm);
  add_wear(palette, length_m, random, &arm);
  return arm;
}

std::vector<cv::Point2d> half_moon(double top, double radius) {
  std::vector<cv::Point2d> points;
  for (const cv::Point2d& p : round_outline({0.0, top}, radius, 48)) {
    if (p.y <= top) points.push_back(p);
  }
  return hull_of(std::move(points));
}

/// The hammer above the bar's top: one of four shapes.
std::vector<cv::Point2d> hammer_outline(double top, double bottom, RandomStream* random) {
  const double half = 0.5 * (top - bottom);
  const double middle = 0.5 * (top + bottom);
  const double wide = random->uniform(0.9, 1.25) * half;
  switch (random->below(4)) {
    case 0: {  // block with cut corners
      const double cut = random->uniform(0.15, 0.4) * half;
      return hull_of({{-wide + cut, bottom},
                      {wide - cut, bottom},
                      {wide, bottom + cut},
                      {wide, top - cut},
                      {wide - cut, top},
                      {-wide + cut, top},
                      {-wide, top - cut},
                      {-wide, bottom + cut}});
    }
    case 1:
      return round_outline({0.0, middle}, half, 36);
    case 2:  // wedge
      return hull_of({{-1.05 * wide, bottom},
                      {1.05 * wide, bottom},
                      {0.5 * wide, top},
                      {-0.5 * wide, top}});
    default:
      return half_moon(top, 2.0 * half);
  }
}

void add_hammer_paint(
    const Palette& palette, double top, double bottom, RandomStream* random, Prism* hammer) {
  const double middle = 0.5 * (top + bottom);
  const double half = 0.5 * (top - bottom);
  const double y = middle + random->uniform(-0.3, 0.1) * half;
  const double tall = random->uniform(0.12, 0.3) * half;
  hammer->decals.push_back(
      {box_outline({-0.55 * half, y - tall}, {0.55 * half, y + tall}), palette.trim});
  const Colour bolt(0.10F, 0.10F, 0.10F);
  for (const double x : {-0.4 * half, 0.4 * half}) {
    hammer->decals.push_back({round_outline({x, middle + 0.55 * half}, 0.0038, 6), bolt});
  }
}

void add_dots(double length_m, std::vector<Prism>* arm) {
  const Colour white = colour(244, 244, 240);
  const Colour black = colour(18, 18, 18);
  for (const double share : {0.30, 0.62}) {
    const cv::Point2d at(0.0, -share * length_m);
    Prism dot = body(round_outline(at, 0.0115, 32), kArmHalf_m, kArmHalf_m + 0.0004, white);
    dot.decals.push_back({round_outline(at, 0.0055, 24), black});
    arm->push_back(std::move(dot));
  }
}

/// A square tag as printed: white margin, black border, white cells.
Prism make_tag(cv::Point2d middle, double side_m) {
  const Colour white = colour(244, 244, 240);
  const Colour black = colour(18, 18, 18);
  const cv::Ptr<cv::aruco::Dictionary> dictionary =
      cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  cv::Mat cells;  // 6 x 6, border included
  cv::aruco::drawMarker(dictionary, kTagNumber, 6, cells, 1);
  const double cell = side_m / 6.0;
  const double half = 0.5 * side_m;
  Prism tag = body(box_outline({middle.x - half - cell, middle.y - half - cell},
                               {middle.x + half + cell, middle.y + half + cell}),
                   kHammerFront_m,
                   kHammerFront_m + 0.0004,
                   white);
  tag.decals.push_back(
      {box_outline({middle.x - half, middle.y - half}, {middle.x + half, middle.y + half}),
       black});
  for (int row = 0; row < 6; ++row) {
    for (int column = 0; column < 6; ++column) {
      if (cells.at<unsigned char>(row, column) < 128) continue;
      const cv::Point2d low(middle.x - half + column * cell,
                            middle.y + half - (row + 1) * cell);
      tag.decals.push_back({box_outline(low, {low.x + cell, low.y + cell}), white});
    }
  }
  return tag;
}

void add_pointer(const Palette& palette,
                 double length_m,
                 RandomStream* random,
                 Design* design) {
  const Colour c = random->chance(0.5) ? colour(176, 38, 30) : palette.arm;
  const double reach = random->uniform(0.45, 0.7) * length_m;
  design->pointer.push_back(
      body(hull_of({{-0.003, 0.02}, {0.003, 0.02}, {0.0008, -reach}, {-0.0008, -reach}}),
           0.0185,
           0.0195,
           c));
  design->pointer.push_back(body(round_outline({0.0, 0.0}, 0.011, 24), 0.018, 0.020, c));
}

void add_hand(const Palette& palette, Design* design) {
  const Colour& c = palette.glove;
  const auto add = [&](cv::Point2d from, cv::Point2d to, double radius, double back) {
    design->hand.push_back(
        body(capsule_outline(from, to, radius), back, back + 1.4 * radius, c));
  };
  add({0.075, -0.012}, {0.050, 0.010}, 0.034, -0.012);  // palm beside the hammer
  add({0.60, -0.22}, {0.11, -0.03}, 0.036, -0.020);     // forearm
  const std::array<double, 4> heights{0.032, 0.014, -0.004, -0.021};
  for (const double y : heights) add({0.05, y}, {-0.008, y + 0.004}, 0.0092, 0.018);
  add({0.07, 0.03}, {0.022, 0.052}, 0.0105, 0.012);  // thumb
}

void add_bar(const Palette& palette, Design* design) {
  // The bar's edge faces the hammer; 10 mm wide, 4 mm thick, 40 mm above the vice [ISO180].
  Prism bar = body(box_outline({-0.010, 0.0}, {0.0, 0.040}), -0.002, 0.002, palette.bar);
  bar.decals.push_back({{{-0.0006, 0.0}, {0.0, 0.0}, {0.0, 0.0012}}, palette.bar * 0.4F});
  design->bar.push_back(std::move(bar));
  design->stub.push_back(
      body(box_outline({-0.010, design->vice_m - 0.022}, {0.0, design->vice_m}),
           -0.002,
           0.002,
           palette.bar));
}

}  // namespace

void add_moving_bodies(const RenderScene& scene, const Palette& palette, Design* design) {
  RandomStream random(scene.design_seed.value_or(scene.seed), kRigStream);
  const double length_m = scene.rig.reduced_length_m;
  const double top = -0.71 * length_m;
  const double bottom = -length_m + 0.021;  // clears the bar's top
  design->hammer_radius_m = -0.5 * (top + bottom);

  std::vector<Prism>& arm = design->arm;
  arm.push_back(make_arm(palette, length_m, &random));
  const double hub = random.uniform(0.017, 0.026);
  const Colour hub_colour = random.chance(0.5) ? palette.trim : palette.hammer;
  arm.push_back(body(round_outline({0, 0}, hub, 24), -0.010, kHubFront_m, hub_colour));
  arm.push_back(
      body(round_outline({0, 0}, 0.0085, 6), kHubFront_m, 0.0165, colour(120, 122, 126)));
  Prism hammer =
      body(hammer_outline(top, bottom, &random), kHammerBack_m, kHammerFront_m, palette.hammer);
  add_hammer_paint(palette, top, bottom, &random, &hammer);
  arm.push_back(std::move(hammer));
  // The nose behind the line of the blow; its leading face is the line through the axle.
  arm.push_back(body(hull_of({{0.0005, -length_m - 0.006},
                              {0.012, -length_m - 0.010},
                              {0.030, bottom + 0.002},
                              {0.0005, bottom + 0.002}}),
                     -0.010,
                     0.012,
                     colour(70, 72, 78)));
  if (scene.stickers) add_dots(length_m, &arm);
  if (scene.tag) arm.push_back(make_tag({0.0, -design->hammer_radius_m}, 0.036));
  if (scene.faults.drag_pointer) add_pointer(palette, length_m, &random, design);
  add_bar(palette, design);
  if (scene.faults.hand) add_hand(palette, design);
  if (!scene.faults.no_pendulum) return;
  design->arm.clear();
  design->pointer.clear();
  design->bar.clear();
  design->stub.clear();
  design->hand.clear();
}

}  // namespace swingloss::render
