// SPDX-License-Identifier: Apache-2.0
// Renders a photograph of one broken bar, 6 x 10 mm, on a scale card, for the scripts of tests:
//   small_photo FILE WIDTH_PX        WIDTH_PX 1400: 8 pixels a millimetre
#include "imaging/still.h"
#include "render/face_photo.h"
#include "view/sheet.h"

#include <cstdio>
#include <cstdlib>

using namespace swingloss;
using namespace swingloss::render;

int main(int count, char** words) {
  const int width_px = count == 3 ? std::atoi(words[2]) : 0;
  if (width_px < 100) {
    std::fputs("usage: small_photo FILE WIDTH_PX\n", stderr);
    return 2;
  }
  FaceScene scene;
  scene.card = sheet_picture(card_page(scale_cards()[0]), 20000.0);
  scene.width_px = width_px;
  scene.height_px = width_px * 3 / 4;
  scene.distance_m = 0.125;
  FaceLook look;
  look.seed = 11;
  look.thickness_m = 6e-3;
  look.albedo = colour(180, 60, 40);
  scene.faces = {{look, {0.053, 0.038}, 0.2, 0.0}};
  write_png(words[1], photograph(scene));
  return 0;
}
