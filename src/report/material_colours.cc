// SPDX-License-Identifier: Apache-2.0
#include "report/material_colours.h"

namespace swingloss {

std::map<std::string, Swatch> material_colours(const SeriesResult& series) {
  std::map<std::string, Swatch> colours;
  for (const BarResult& bar : series.bars) {
    const std::size_t next = colours.size() % kMaterials.size();
    colours.emplace(bar.bar.material, kMaterials[next]);
  }
  return colours;
}

}  // namespace swingloss
