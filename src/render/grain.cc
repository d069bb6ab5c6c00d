// SPDX-License-Identifier: Apache-2.0
#include "render/grain.h"

#include <cmath>
#include <cstdint>

namespace swingloss::render {
namespace {

float hashed(int x, int y, unsigned seed) {
  std::uint32_t h = static_cast<std::uint32_t>(x) * 0x8da6b343U +
                    static_cast<std::uint32_t>(y) * 0xd8163841U + seed * 0xcb1ab31fU;
  h = (h ^ (h >> 15U)) * 0x2c1b3c6dU;
  h = (h ^ (h >> 12U)) * 0x297a2d39U;
  h ^= h >> 15U;
  return static_cast<float>(h >> 8U) * (2.0F / 16777216.0F) - 1.0F;
}

float layered(float x, float y, unsigned seed) {
  return 0.55F * value_noise(x, y, seed) + 0.30F * value_noise(2.1F * x, 2.1F * y, seed + 1) +
         0.15F * value_noise(4.3F * x, 4.3F * y, seed + 2);
}

/// Distance to the nearest line of a lattice, in units of its pitch.
float to_line(float x) { return std::abs(x - std::round(x)); }

float wood(float along, float across, const Material& m) {
  const float bend = layered(0.6F * along, 0.8F * across, m.seed);
  const float rings = std::sin(9.0F * (across + 0.7F * bend));
  const float fibres = value_noise(3.0F * along, 60.0F * across, m.seed + 7);
  return 1.0F + m.strength * (0.6F * rings + 0.5F * fibres);
}

float tiles(float u, float v, const Material& m) {
  const int column = static_cast<int>(std::floor(u + 0.5F));
  const float shifted = v;
  const int row = static_cast<int>(std::floor(shifted + 0.5F));
  const float grout = 0.0016F / m.size_m;
  const bool in_grout = to_line(u + 0.5F) < grout || to_line(shifted + 0.5F) < grout;
  if (in_grout) return 1.0F - 2.0F * m.strength;
  return 1.0F +
         m.strength * (0.3F * hashed(column, row, m.seed) + 0.2F * layered(u, v, m.seed));
}

float planks(float u, float v, const Material& m) {
  const int board = static_cast<int>(std::floor(u));
  const float gap = 0.0012F / m.size_m;
  if (to_line(u) < gap) return 0.45F;
  const float tone = 0.5F * hashed(board, 3, m.seed);
  Material own = m;
  own.seed = m.seed + static_cast<unsigned>(board & 255) * 31U;
  return (1.0F + m.strength * tone) * wood(v, u, own);
}

float pegboard(float u, float v, const Material& m) {
  const float du = to_line(u);
  const float dv = to_line(v);
  const float hole = 0.0028F / m.size_m;
  if (du * du + dv * dv < hole * hole) return 0.15F;
  return 1.0F + 0.3F * m.strength * layered(0.3F * u, 0.3F * v, m.seed);
}

}  // namespace

float value_noise(float x, float y, unsigned seed) {
  const float fx = std::floor(x);
  const float fy = std::floor(y);
  const int ix = static_cast<int>(fx);
  const int iy = static_cast<int>(fy);
  const float tx = x - fx;
  const float ty = y - fy;
  const float sx = tx * tx * (3.0F - 2.0F * tx);
  const float sy = ty * ty * (3.0F - 2.0F * ty);
  const float top = hashed(ix, iy, seed) * (1.0F - sx) + hashed(ix + 1, iy, seed) * sx;
  const float low = hashed(ix, iy + 1, seed) * (1.0F - sx) + hashed(ix + 1, iy + 1, seed) * sx;
  return top * (1.0F - sy) + low * sy;
}

float grain_at(const Material& material, const cv::Vec3f& place_m, const cv::Vec3f& normal) {
  if (material.grain == Grain::Plain) return 1.0F;
  // The two room axes that run in the face.
  const bool level = std::abs(normal[1]) > 0.7F;
  const bool sideways = std::abs(normal[0]) > 0.7F;
  const float u = (sideways ? place_m[2] : place_m[0]) / material.size_m;
  const float v = (level ? place_m[2] : place_m[1]) / material.size_m;
  switch (material.grain) {
    case Grain::Plaster:
      return 1.0F + material.strength * layered(u, v, material.seed);
    case Grain::Wood:
      return wood(0.3F * u, v, material);
    case Grain::Tiles:
      return tiles(u, v, material);
    case Grain::Planks:
      return planks(u, v, material);
    case Grain::Pegboard:
      return pegboard(u, v, material);
    case Grain::Brushed:
      return 1.0F + material.strength * value_noise(2.0F * u, 90.0F * v, 5);
    case Grain::Plain:
      break;
  }
  return 1.0F;
}

}  // namespace swingloss::render
