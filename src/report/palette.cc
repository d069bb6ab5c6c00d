// SPDX-License-Identifier: Apache-2.0
#include "report/palette.h"

namespace swingloss {

std::array<Swatch, 14> all_swatches() {
  return {kPaper,
          kPanel,
          kInk,
          kMuted,
          kRule,
          kAccent,
          kWarm,
          kAlarm,
          kMaterials[0],
          kMaterials[1],
          kMaterials[2],
          kMaterials[3],
          kMaterials[4],
          kMaterials[5]};
}

std::string variable_of(const Swatch& swatch) {
  return std::string("var(--") + swatch.name + ")";
}

}  // namespace swingloss
