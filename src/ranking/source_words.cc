// SPDX-License-Identifier: Apache-2.0
#include "ranking/source_words.h"

#include <algorithm>
#include <map>

namespace swingloss {
namespace {

constexpr const char* kDigits = "0123456789";

std::string stem_of(const std::string& source) {
  std::string stem = source.substr(0, source.find(':'));
  if (!stem.empty() && stem.back() == ']') stem.erase(std::min(stem.rfind('['), stem.size()));
  const std::size_t last = stem.find_last_not_of(kDigits);
  if (last != std::string::npos && stem[last] == '-' && last + 1 < stem.size()) {
    stem.erase(last);
  }
  return stem.empty() ? source : stem;
}

}  // namespace

std::string source_words(const std::string& source) {
  static const std::map<std::string, std::string> kWords = {
      {"bar to bar", "from bar to bar"},
      {"blow.place", "place of the blow"},
      {"rig.capacity", "stated capacity"},
      {"rig.com", "centre of mass of the arm"},
      {"rig.friction", "bearing and air"},
      {"rig.gravity", "gravity"},
      {"rig.mass", "mass of arm and hammer"},
      {"rig.moment", "moment of the arm"},
      {"rig.period", "period of small swings"},
      {"rig.period-amplitude", "amplitude of the timed swings"},
      {"rig.reduced-length", "reduced length"},
      {"rig.release-angle", "release angle of the latch"},
      {"rig.scale-radius", "radius at which the arm was weighed"},
      {"rig.scale-reading", "reading of the scale"},
      {"rig.strike-radius", "striking radius"},
      {"section.thickness", "thickness of the bar"},
      {"section.width", "width under the notch"},
      {"tracking", "following the arm"},
      {"tracking.hold", "the arm held before release"},
      {"typed.energy", "the energy as typed"},
      {"view.geometry", "camera and axle"},
      {"view.look", "look of the arm as it turns"},
      {"view.place-release", "place in the picture, at release"},
      {"view.place-rise", "place in the picture, at the turn"},
      {"view.readout-x", "picture read out line by line, sideways"},
      {"view.readout-y", "picture read out line by line, up and down"}};
  const std::string stem = stem_of(source);
  const auto known = kWords.find(stem);
  return known == kWords.end() ? stem : known->second;
}

}  // namespace swingloss
