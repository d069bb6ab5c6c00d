// SPDX-License-Identifier: Apache-2.0
// Sizes and looks of rendered broken faces against their truth, for the README's tables.
//   face_accuracy [BARS] [FIRST SEED]
// One half a photograph, brittle, mixed, ductile in turn, on a card, by another renderer than
// the measurement assumes; 16 pixels a millimetre, each with its own lamp, tilt, colour and
// noise.
#include "render/face_photo.h"
#include "render/random_stream.h"
#include "series/appearance_model.h"
#include "surface/measure_surface.h"
#include "view/sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

using namespace swingloss;
using namespace swingloss::render;

namespace {

struct Errors {
  std::vector<double> off_mm;
  double squared_scores = 0.0;
  void add(const Uncertain& measured, double true_m) {
    off_mm.push_back(1e3 * (measured.value() - true_m));
    squared_scores += std::pow((measured.value() - true_m) / measured.u(), 2);
  }
  void print(const char* name) const {
    if (off_mm.empty()) return;
    std::vector<double> size;
    for (const double off : off_mm) size.push_back(std::abs(off));
    std::sort(size.begin(), size.end());
    const auto within = std::upper_bound(size.begin(), size.end(), 0.05) - size.begin();
    std::printf("%-6s %5zu   %8.3f   %8.3f   %8.3f   %5.0f %%   %6.2f\n",
                name,
                size.size(),
                size[size.size() / 2],
                size[size.size() * 9 / 10],
                size.back(),
                100.0 * double(within) / double(size.size()),
                std::sqrt(squared_scores / double(size.size())));
  }
};

/// Wilson's interval, 95 % [Wilson1927].
void print_share(const char* what, int right, int of) {
  const double z = 1.959963984540054;
  const double n = of;
  const double p = right / n;
  const double middle = (p + z * z / (2.0 * n)) / (1.0 + z * z / n);
  const double half =
      z / (1.0 + z * z / n) * std::sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
  std::printf("%-34s %d of %d: %.0f %% (%.0f to %.0f %%)\n",
              what,
              right,
              of,
              100.0 * p,
              100.0 * (middle - half),
              100.0 * (middle + half));
}

FaceScene scene_of(std::uint64_t seed, const cv::Mat& card) {
  RandomStream random(seed, 6);
  FaceScene scene;
  scene.seed = seed;
  scene.card = card;
  scene.width_px = 2600;
  scene.height_px = 1950;
  scene.distance_m = random.uniform(0.122, 0.128);
  scene.tilt_rad = random.uniform(0.0, 0.1);
  scene.tilt_toward_rad = random.uniform(0.0, 6.28);
  scene.roll_rad = random.uniform(-0.1, 0.1);
  const double round = random.uniform(0.0, 6.28);
  const double up = random.uniform(0.4, 1.2);
  scene.light.direction = {
      std::cos(round) * std::cos(up), std::sin(round) * std::cos(up), std::sin(up)};
  scene.light.sky = float(random.uniform(0.2, 0.45));
  scene.exposure = float(random.uniform(0.8, 1.05));
  scene.blur_px = random.uniform(0.5, 1.2);
  scene.noise_levels = random.uniform(1.0, 2.5);
  return scene;
}

}  // namespace

int main(int count, char** words) {
  const int bars = count > 1 ? std::atoi(words[1]) : 60;
  const std::uint64_t first = count > 2 ? std::strtoull(words[2], nullptr, 10) : 20001;
  const std::array<cv::Mat, 2> cards = {sheet_picture(card_page(scale_cards()[0]), 20000.0),
                                        sheet_picture(card_page(scale_cards()[1]), 20000.0)};
  Errors h;
  Errors b;
  std::array<std::array<int, 4>, 3> judged{};  // rows: truth; columns: verdicts, cannot tell
  int refused = 0;
  int rootless = 0;
  for (int i = 0; i < bars; ++i) {
    const std::uint64_t seed = first + std::uint64_t(i);
    const FaceLook look = random_face(static_cast<FaceKind>(i % 3), seed);
    const float tone = (look.albedo[0] + look.albedo[1] + look.albedo[2]) / 3.0F;
    FaceScene scene = scene_of(seed, cards[tone < 0.15F ? 1 : 0]);
    scene.faces = {{look, {0.053, 0.038}, 0.1, 0.0}};
    SurfaceOptions options;
    options.ruler_m = 80e-3;
    const auto surface =
        measure_surface(photograph(scene, 2), "photo", standard_model(), options);
    if (!surface.ok() || surface.value().faces.size() != 1) {
      ++refused;
      continue;
    }
    const FaceMeasures& face = surface.value().faces.front();
    const auto verdict = face.judgement.verdict;
    ++judged[std::size_t(i % 3)][verdict ? std::size_t(*verdict) : 3];
    if (!face.section || !face.notch_found) {
      ++rootless;
      continue;
    }
    h.add(face.section->thickness_m, look.thickness_m);
    b.add(face.section->width_m, look.width_m - look.notch_depth_m);
  }
  std::printf("Sizes, mm\n       faces   median off  9 in 10    worst   <= 0.05   rms off/u\n");
  h.print("h");
  b.print("b_N");
  std::printf("%d refused, %d without a root of the notch\n\n", refused, rootless);
  std::printf("truth      brittle  mixed  ductile  cannot tell\n");
  int right = 0;
  int said = 0;
  int all = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    std::printf("%-9s", name_of(static_cast<FractureLook>(k)));
    for (const int n : judged[k]) std::printf(" %8d", n);
    std::printf("\n");
    right += judged[k][k];
    for (std::size_t j = 0; j < 4; ++j) {
      all += judged[k][j];
      said += j < 3 ? judged[k][j] : 0;
    }
  }
  if (said > 0) print_share("right where a verdict was given", right, said);
  if (all > 0) print_share("a verdict was given", said, all);
  return 0;
}
