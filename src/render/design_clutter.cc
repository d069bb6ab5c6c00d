// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "render/design.h"

#include <array>
#include <cmath>
#include <functional>

namespace swingloss::render {
namespace {

/// A place for one thing: its middle on the wall or bench.
struct Spot {
  RandomStream* random;
  std::vector<Prism>* room;
  double x_m, y_m;  ///< middle on the wall, or x and height of the bench
  double wall_m;    ///< z of the wall
  Colour accent;

  Prism& box(cv::Point2d low, cv::Point2d high, double deep_m, const Colour& c) {
    return solid(
        box_outline({x_m + low.x, y_m + low.y}, {x_m + high.x, y_m + high.y}), 0.0, deep_m, c);
  }
  Prism& solid(std::vector<cv::Point2d> outline, double from_m, double to_m, const Colour& c) {
    Material m;
    m.albedo = c;
    room->push_back({std::move(outline), wall_m + from_m, wall_m + to_m, m, {}});
    return room->back();
  }
  /// A muted colour of its own.
  [[nodiscard]] Colour any() const {
    const int grey = 60 + random->below(120);
    const auto level = [this, grey] { return grey + random->below(90) - 45; };
    const int red = level(), green = level(), blue = level();
    return colour(red, green, blue);
  }
};

void hang_chart(Spot s) {
  const double w = s.random->uniform(0.06, 0.10), h = s.random->uniform(0.09, 0.14);
  Prism& sheet = s.box({-w, -h}, {w, h}, 0.001, colour(236, 234, 224));
  const Colour ink = colour(60, 64, 80);
  const cv::Point2d corner(s.x_m - w, s.y_m - h);
  for (int i = 1; i < 8; ++i) {
    const double y = corner.y + 2.0 * h * i / 8.0;
    const double right = s.random->uniform(0.7, 1.8) * w;
    sheet.decals.push_back(
        {box_outline({corner.x + 0.012, y}, {corner.x + 0.012 + right * 0.9, y + 0.004}), ink});
  }
  sheet.decals.push_back({box_outline({corner.x + 0.01, corner.y + 1.82 * h},
                                      {corner.x + 1.9 * w, corner.y + 1.93 * h}),
                          s.accent});
}

void hang_clock(Spot s) {
  const double r = s.random->uniform(0.06, 0.085);
  s.solid(round_outline({s.x_m, s.y_m}, r, 40), 0.0, 0.03, s.accent);
  Prism& face =
      s.solid(round_outline({s.x_m, s.y_m}, 0.88 * r, 40), 0.03, 0.031, colour(240, 238, 230));
  const Colour ink = colour(30, 30, 34);
  const auto stroke = [&](double turn, double from, double to, double half) {
    const cv::Point2d d(std::sin(turn), std::cos(turn));
    const cv::Point2d n(d.y, -d.x);
    const cv::Point2d c(s.x_m, s.y_m);
    face.decals.push_back({{c + from * r * d - half * n,
                            c + from * r * d + half * n,
                            c + to * r * d + half * n,
                            c + to * r * d - half * n},
                           ink});
  };
  for (int hour = 0; hour < 12; ++hour) stroke(kPi * hour / 6.0, 0.72, 0.82, 0.0014);
  stroke(s.random->uniform(0.0, 2.0 * kPi), -0.1, 0.66, 0.0015);
  stroke(s.random->uniform(0.0, 2.0 * kPi), -0.1, 0.45, 0.0022);
}

void hang_spanners(Spot s) {
  s.box({-0.13, 0.075}, {0.13, 0.09}, 0.012, s.accent);
  for (int i = 0; i < 5; ++i) {
    const double x = s.x_m - 0.10 + 0.05 * i;
    const double tall = 0.085 + 0.018 * i;
    const Colour steel = colour(130, 132, 138);
    const cv::Point2d top(x, s.y_m + 0.065), foot(x, s.y_m + 0.065 - tall);
    s.solid(capsule_outline(top, foot, 0.0045), 0.012, 0.017, steel);
    s.solid(round_outline(foot, 0.011, 6), 0.011, 0.018, steel * 0.9F);
    s.solid(round_outline(top, 0.009, 16), 0.011, 0.018, steel * 0.9F);
  }
}

void hang_conduit(Spot s) {
  const Colour grey = colour(190, 192, 190);
  s.box({-0.009, -0.9}, {0.009, 0.9}, 0.018, grey);
  Prism& socket = s.box({-0.035, -0.045}, {0.035, 0.045}, 0.035, grey * 1.1F);
  for (const double x : {-0.011, 0.011}) {
    socket.decals.push_back({round_outline({s.x_m + x, s.y_m}, 0.004, 14), colour(40, 40, 40)});
  }
}

void hang_cabinet(Spot s) {
  Prism& front = s.box({-0.12, -0.07}, {0.12, 0.09}, 0.10, s.any());
  const Colour line = front.material.albedo * 0.5F;
  front.decals.push_back(
      {box_outline({s.x_m - 0.001, s.y_m - 0.07}, {s.x_m + 0.001, s.y_m + 0.09}), line});
  for (const double x : {-0.02, 0.014}) {
    front.decals.push_back(
        {box_outline({s.x_m + x, s.y_m - 0.01}, {s.x_m + x + 0.006, s.y_m + 0.03}), line});
  }
}

void stand_bins(Spot s) {
  for (int i = 0; i < 3; ++i) {
    const double x = -0.10 + 0.068 * i;
    Prism& bin = s.box({x, 0.0}, {x + 0.062, 0.045}, 0.11, s.any());
    bin.decals.push_back(
        {box_outline({s.x_m + x + 0.014, s.y_m + 0.012}, {s.x_m + x + 0.048, s.y_m + 0.026}),
         colour(240, 240, 236)});
  }
}

void stand_toolbox(Spot s) {
  Prism& chest = s.box({-0.11, 0.0}, {0.11, 0.085}, 0.12, s.accent);
  chest.decals.push_back(
      {box_outline({s.x_m - 0.11, s.y_m + 0.055}, {s.x_m + 0.11, s.y_m + 0.059}),
       s.accent * 0.4F});
  s.box({-0.05, 0.085}, {-0.042, 0.105}, 0.07, colour(60, 60, 60));
  s.box({0.042, 0.085}, {0.05, 0.105}, 0.07, colour(60, 60, 60));
  s.box({-0.05, 0.105}, {0.05, 0.113}, 0.07, colour(60, 60, 60));
}

void stand_bottles(Spot s) {
  for (int i = 0; i < 3; ++i) {
    const double x = -0.06 + 0.052 * i + s.random->uniform(-0.006, 0.006);
    const double tall = s.random->uniform(0.08, 0.14);
    Prism& b = s.box({x - 0.018, 0.0}, {x + 0.018, tall}, 0.06, s.any());
    b.decals.push_back({box_outline({s.x_m + x - 0.018, s.y_m + 0.3 * tall},
                                    {s.x_m + x + 0.018, s.y_m + 0.7 * tall}),
                        colour(230, 228, 220)});
    s.box({x - 0.008, tall}, {x + 0.008, tall + 0.022}, 0.05, colour(50, 52, 56));
  }
}

void stand_tape(Spot s) {
  s.solid(round_outline({s.x_m, s.y_m + 0.045}, 0.045, 40), 0.02, 0.06, s.accent);
  s.solid(round_outline({s.x_m, s.y_m + 0.045}, 0.024, 32), 0.06, 0.0605, colour(60, 50, 40));
}

using Thing = void (*)(Spot);

}  // namespace

void add_clutter(const Palette& palette, RandomStream* random, Design* design) {
  const double wall_m = design->room.front().front_m;
  static const std::array<Thing, 5> on_wall{
      hang_chart, hang_clock, hang_spanners, hang_conduit, hang_cabinet};
  static const std::array<Thing, 4> on_bench{
      stand_bins, stand_toolbox, stand_bottles, stand_tape};
  const std::array<double, 4> wall_x{-0.62, -0.36, 0.40, 0.66};
  int last = -1;
  for (const double x : wall_x) {
    if (random->chance(0.2)) continue;
    const int which = (last + 1 + random->below(4)) % 5;
    last = which;
    on_wall[static_cast<std::size_t>(which)]({random,
                                              &design->room,
                                              x + random->uniform(-0.05, 0.05),
                                              random->uniform(-0.08, 0.26),
                                              wall_m,
                                              palette.trim});
  }
  for (const double x : {-0.52, 0.52}) {
    if (random->chance(0.25)) continue;
    on_bench[static_cast<std::size_t>(random->below(4))]({random,
                                                          &design->room,
                                                          x + random->uniform(-0.08, 0.08),
                                                          design->bench_m,
                                                          wall_m,
                                                          palette.vice});
  }
}

}  // namespace swingloss::render
