// SPDX-License-Identifier: Apache-2.0
#include "render/face_look.h"

#include "render/grain.h"
#include "render/random_stream.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss::render {
namespace {

constexpr double kFine_m = 60e-6;

unsigned seed_of(const FaceLook& look, unsigned purpose) {
  return unsigned(look.seed * 2654435761U) ^ (purpose * 40503U + 17U);
}

float octaves(double u, double v, double size_m, unsigned seed) {
  float sum = 0.0F;
  float weight = 1.0F;
  for (unsigned k = 0; k < 3; ++k) {
    sum += weight * value_noise(float(u / size_m), float(v / size_m), seed + k);
    size_m /= 2.1;
    weight *= 0.55F;
  }
  return sum;
}

/// How far inside the torn zone a place is: above 0 torn, with a ragged border.
double torn_depth(const FaceLook& look, double u, double v) {
  const double half_h = look.thickness_m / 2.0;
  const double root = -look.width_m / 2.0 + look.notch_depth_m;
  const double from_side = 1.0 - std::abs(u) / half_h;                    // 0 at the side
  const double along = (v - root) / (look.width_m - look.notch_depth_m);  // 0 at the root
  // The flat middle shrinks toward its centre as more of the face tears.
  const double from_edge = std::min({from_side, 1.6 * along, 2.2 * (1.0 - along)});
  const double ragged = 0.12 * double(octaves(u, v, 0.9e-3, seed_of(look, 1)));
  const double share = look.torn;
  const double depth = 1.0 - std::sqrt(std::max(0.0, 1.0 - share));
  return (depth * 1.02 - 0.01 - from_edge) + (share > 0.02 && share < 0.98 ? ragged : 0.0);
}

/// Nearest of scattered points: its number, for the tilt of a facet.
struct Cell {
  double tilt_u = 0.0, tilt_v = 0.0, du = 0.0, dv = 0.0;
};

Cell facet_at(const FaceLook& look, double u, double v) {
  const double x = u / look.facet_m;
  const double y = v / look.facet_m;
  const int cx = int(std::floor(x));
  const int cy = int(std::floor(y));
  double nearest = 1e9;
  Cell cell;
  for (int j = cy - 1; j <= cy + 1; ++j) {
    for (int i = cx - 1; i <= cx + 1; ++i) {
      RandomStream random(look.seed, std::uint64_t(i + 4096) * 8192U + std::uint64_t(j + 4096));
      const double px = i + random.uniform(0.0, 1.0);
      const double py = j + random.uniform(0.0, 1.0);
      const double off = (x - px) * (x - px) + (y - py) * (y - py);
      if (off >= nearest) continue;
      nearest = off;
      cell = {random.normal(), random.normal(), x - px, y - py};
    }
  }
  return cell;
}

/// Slopes of what split: facets, and steps radiating from the notch root.
cv::Vec2d split_slope(const FaceLook& look, double u, double v) {
  const Cell cell = facet_at(look, u, v);
  const double root = -look.width_m / 2.0 + look.notch_depth_m;
  const double away = std::max(0.2e-3, v - root);
  const double bearing = std::atan2(u, away + 2e-3);
  const double hackle =
      look.hackle_rad * std::min(1.0, away / look.width_m) *
      double(value_noise(float(bearing * 60.0), float(away / 2e-3), seed_of(look, 2)));
  return {look.facet_tilt_rad * cell.tilt_u + hackle, look.facet_tilt_rad * cell.tilt_v};
}

/// Slopes of what tore: cups with sharp rims, longer along v.
cv::Vec2d torn_slope(const FaceLook& look, double u, double v) {
  const unsigned seed = seed_of(look, 3);
  const double step = look.dimple_m * 0.1;
  const auto height = [&](double a, double b) {
    const double n = double(octaves(a, 0.7 * b, look.dimple_m, seed));
    return -std::abs(n) * look.dimple_m;  // rims where the noise crosses zero
  };
  return {look.dimple_slope * (height(u + step, v) - height(u - step, v)) / (2.0 * step),
          look.dimple_slope * (height(u, v + step) - height(u, v - step)) / (2.0 * step)};
}

struct Spot {
  cv::Vec2d slope;
  Colour albedo;
  double gloss = 0.0;
};

Colour whitened(const Colour& albedo, float share) {
  const float white = 0.82F;
  return albedo * (1.0F - share) + Colour(white, white, white) * share;
}

void add_layers(const FaceLook& look, double u, double v, Spot& spot) {
  if (look.layer_m <= 0.0) return;
  const double across = u * std::cos(look.layer_turn_rad) + v * std::sin(look.layer_turn_rad);
  const double phase =
      across / look.layer_m +
      0.08 * double(value_noise(float(u / 2e-3), float(v / 2e-3), seed_of(look, 6)));
  const double wave = std::sin(2.0 * CV_PI * phase);
  spot.slope += look.layer_slope * wave *
                cv::Vec2d(std::cos(look.layer_turn_rad), std::sin(look.layer_turn_rad));
}

void add_fibres(const FaceLook& look, double u, double v, Spot& spot) {
  if (look.fibres_per_mm2 <= 0.0) return;
  const double pitch = 1e-3 / std::sqrt(look.fibres_per_mm2);
  const int i = int(std::floor(u / pitch));
  const int j = int(std::floor(v / pitch));
  RandomStream random(look.seed + 7, std::uint64_t(i + 4096) * 8192U + std::uint64_t(j + 4096));
  const double fu = (i + random.uniform(0.2, 0.8)) * pitch;
  const double fv = (j + random.uniform(0.2, 0.8)) * pitch;
  if (std::hypot(u - fu, v - fv) > look.fibre_m * random.uniform(0.8, 2.0)) return;
  const bool hole = random.chance(0.4);
  spot.albedo = hole ? spot.albedo * 0.25F : whitened(spot.albedo, 0.7F);
}

/// The cut of the notch: smooth, its flank leaning away from the face at 22.5 degrees, with the
/// marks of the cutter along u.
Spot notch_spot(const FaceLook& look, double u, double v) {
  const double marks =
      0.03 * double(value_noise(float(u / 8e-3), float(v / 0.05e-3), seed_of(look, 4)));
  return {{0.0, 0.4 + marks}, look.albedo, look.gloss};
}

/// A place of the first half.
Spot first_half_spot(const FaceLook& look, double u, double v) {
  const double root = -look.width_m / 2.0 + look.notch_depth_m;
  if (v < root) return notch_spot(look, u, v);
  const double depth = torn_depth(look, u, v);
  const float torn = float(std::clamp(0.5 + depth / 0.06, 0.0, 1.0));
  Spot spot;
  spot.slope =
      double(1.0F - torn) * split_slope(look, u, v) + double(torn) * torn_slope(look, u, v);
  const float mottle = 1.0F + 0.25F * octaves(u, v, 0.5e-3, seed_of(look, 8));
  const float white = float(look.whitening) * torn * std::clamp(mottle, 0.0F, 1.3F);
  spot.albedo = whitened(look.albedo, std::min(0.95F, white));
  spot.gloss = look.gloss * double(1.0F - 0.85F * torn);
  spot.slope +=
      look.fine_slope *
      cv::Vec2d(double(value_noise(float(u / kFine_m), float(v / kFine_m), seed_of(look, 9))),
                double(value_noise(float(u / kFine_m), float(v / kFine_m), seed_of(look, 10))));
  add_layers(look, u, v, spot);
  add_fibres(look, u, v, spot);
  return spot;
}

/// The other half's surface is z'(u, v) = -z(-u, v) where the two part cleanly; its notch and
/// its torn parts are mirror pictures with hills for hills.
Spot spot_at(const FaceLook& look, double u, double v) {
  if (!look.other_half) return first_half_spot(look, u, v);
  Spot spot = first_half_spot(look, -u, v);
  const double root = -look.width_m / 2.0 + look.notch_depth_m;
  const bool like = v < root || torn_depth(look, -u, v) > 0.0;
  spot.slope = like ? cv::Vec2d(-spot.slope[0], spot.slope[1])
                    : cv::Vec2d(spot.slope[0], -spot.slope[1]);
  return spot;
}

Colour shade(const Spot& spot, const FaceLook& look, const FaceLight& light) {
  const cv::Vec3d normal = cv::normalize(cv::Vec3d(-spot.slope[0], -spot.slope[1], 1.0));
  const cv::Vec3d lamp = cv::normalize(light.direction);
  const cv::Vec3d half = cv::normalize(lamp + cv::Vec3d(0.0, 0.0, 1.0));
  const float diffuse = light.lamp * float(std::max(0.0, normal.dot(lamp))) +
                        light.sky * float(0.5 + 0.5 * normal[2]);
  const double mirror = std::pow(std::max(0.0, normal.dot(half)), look.gloss_exponent);
  const float shine = float(spot.gloss * mirror) * light.lamp * 3.0F;
  return spot.albedo * diffuse + Colour(shine, shine, shine);
}

}  // namespace

double lip_at(const FaceLook& look, double u_m) {
  if (look.lip_m <= 0.0) return 0.0;
  const double half = look.lip_share * look.thickness_m / 2.0;
  const double inside =
      std::clamp((half - std::abs(u_m)) / (0.15 * look.thickness_m), 0.0, 1.0);
  const double ragged =
      1.0 + 0.25 * double(value_noise(float(u_m / 0.4e-3), 0.5F, seed_of(look, 12)));
  return look.lip_m * inside * ragged;
}

double half_thickness_at(const FaceLook& look, double v_m) {
  const double root = -look.width_m / 2.0 + look.notch_depth_m;
  const double far = look.width_m / 2.0;
  const auto bump = [](double x) { return std::exp(-0.5 * x * x); };
  const double reach = 0.16 * look.width_m;
  return look.thickness_m / 2.0 *
         (1.0 - look.contraction * bump((v_m - root) / reach) +
          look.swelling * bump((v_m - far) / reach));
}

FacePicture picture_of(const FaceLook& look, const FaceLight& light, double px_per_m) {
  FacePicture face;
  face.px_per_m = px_per_m;
  const double margin_m = 0.25 * look.thickness_m;
  const int columns = int(std::lround((look.thickness_m + 2.0 * margin_m) * px_per_m)) | 1;
  const int rows = int(std::lround((look.width_m + 0.4e-3 + 3.0 * look.lip_m) * px_per_m)) | 1;
  face.light.create(rows, columns, CV_32FC3);
  face.inside.create(rows, columns, CV_32FC1);
  for (int row = 0; row < rows; ++row) {
    const double v = (row - (rows - 1) / 2.0) / px_per_m;
    const double half = half_thickness_at(look, v);
    for (int column = 0; column < columns; ++column) {
      const double u = (column - (columns - 1) / 2.0) / px_per_m;
      const double across = (half - std::abs(u)) * px_per_m + 0.5;
      const double reach = look.width_m / 2.0 + (v > 0.0 ? lip_at(look, u) : 0.0);
      const double down = (reach - std::abs(v)) * px_per_m + 0.5;
      face.inside.at<float>(row, column) =
          float(std::clamp(across, 0.0, 1.0) * std::clamp(down, 0.0, 1.0));
      face.light.at<Colour>(row, column) = shade(spot_at(look, u, v), look, light);
    }
  }
  return face;
}

namespace {

Colour random_albedo(RandomStream& random) {
  static constexpr std::array<std::array<int, 3>, 9> kColours = {{{236, 234, 226},
                                                                  {212, 200, 172},
                                                                  {60, 62, 66},
                                                                  {40, 78, 150},
                                                                  {178, 44, 40},
                                                                  {70, 130, 62},
                                                                  {222, 150, 40},
                                                                  {128, 130, 134},
                                                                  {150, 110, 160}}};
  const auto& c = kColours[std::size_t(random.below(int(kColours.size())))];
  const double tone = random.uniform(0.85, 1.05);
  const auto level = [&](int x) { return std::min(250, int(x * tone)); };
  return colour(level(c[0]), level(c[1]), level(c[2]));
}

}  // namespace

FaceLook random_face(FaceKind kind, std::uint64_t seed) {
  RandomStream random(seed, 31);
  FaceLook look;
  look.seed = seed;
  look.thickness_m = random.uniform(3.2e-3, 10e-3);
  look.width_m = std::max(look.thickness_m, random.uniform(9.8e-3, 12.8e-3));
  look.notch_depth_m = random.uniform(1.8e-3, 2.6e-3);
  look.albedo = random_albedo(random);
  const bool metal = random.chance(0.2);
  if (metal) look.albedo = colour(150, 150, 152);
  look.gloss = metal ? random.uniform(0.25, 0.5) : random.uniform(0.03, 0.2);
  look.gloss_exponent = random.uniform(15.0, 80.0);
  look.torn = kind == FaceKind::Brittle   ? random.uniform(0.0, 0.14)
              : kind == FaceKind::Ductile ? random.uniform(0.86, 1.0)
                                          : random.uniform(0.3, 0.7);
  look.facet_m = random.uniform(0.15e-3, 1.5e-3);
  look.facet_tilt_rad = random.uniform(0.04, 0.35);
  look.hackle_rad = random.uniform(0.0, 0.3);
  look.dimple_m = random.uniform(0.12e-3, 0.6e-3);
  look.dimple_slope = random.uniform(0.4, 1.4);
  look.whitening = metal ? 0.0 : random.uniform(0.1, 0.8);
  const double flow = look.torn * random.uniform(0.0, 1.0);
  look.contraction = 0.08 * flow;
  look.swelling = 0.12 * flow;
  look.fine_slope = random.uniform(0.02, 0.12);
  if (!metal && random.chance(0.45)) {
    look.layer_m = random.uniform(0.1e-3, 0.3e-3);
    look.layer_turn_rad = random.chance(0.5) ? 0.0 : CV_PI / 2.0;
    look.layer_slope = random.uniform(0.1, 0.5);
  }
  if (!metal && random.chance(0.25)) look.fibres_per_mm2 = random.uniform(20.0, 80.0);
  return look;
}

}  // namespace swingloss::render
