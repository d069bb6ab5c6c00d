// SPDX-License-Identifier: Apache-2.0
#include "rig/cautions.h"

#include <array>

namespace swingloss {
namespace {

constexpr std::array<const char*, 7> kCautions = {
    "A raised hammer can crush a hand or a head: while it is up, one person works at the rig "
    "and nobody stands in the plane of the swing, on either side.",
    "Block the hammer (pin, wooden block) while a bar is put in or taken out; inspect the "
    "latch for wear before the first swing.",
    "Keep the guard shut, or everybody behind a shield, until the hammer hangs still: broken "
    "pieces fly, also backward. Wear safety glasses and closed shoes.",
    "Never stop a swinging hammer by hand. Brake it, or let it run down.",
    "Fasten camera and lamps outside the plane of the swing and behind the shield; start the "
    "recording before the hammer is lifted.",
    "Fibre-filled plastics splinter: gloves for broken bars, extraction and a fitted mask "
    "for notching, wipe wet or vacuum, never compressed air. Carbon dust conducts "
    "electricity.",
    "Bars from a freezer or an oven burn: tongs and gloves.",
};

}  // namespace

std::vector<std::string> safety_cautions() {
  return std::vector<std::string>(kCautions.begin(), kCautions.end());
}

}  // namespace swingloss
