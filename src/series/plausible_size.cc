// SPDX-License-Identifier: Apache-2.0
#include "series/plausible_size.h"

#include "core/number_text.h"

namespace swingloss {
namespace {

bool fits(double x, const PlausibleSize& plausible) {
  return x >= plausible.low && x <= plausible.high;
}

/// To four digits, without zeros at the end.
std::string short_text(double x) {
  std::string text = significant_text(x, 4);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace

const PlausibleSize& plausible_length_mm() {
  static const PlausibleSize size = {
      0.5, 60.0, "mm", {{"metres", 1e3}, {"micrometres", 1e-3}, {"inches", 25.4}}};
  return size;
}

const PlausibleSize& plausible_energy_J() {
  static const PlausibleSize size = {
      5e-4, 1e3, "J", {{"millijoules", 1e-3}, {"kilojoules", 1e3}}};
  return size;
}

const PlausibleSize& plausible_mass_g() {
  static const PlausibleSize size = {
      0.05, 5e3, "g", {{"kilograms", 1e3}, {"milligrams", 1e-3}}};
  return size;
}

std::optional<std::string> size_doubt(double x, const PlausibleSize& plausible) {
  if (fits(x, plausible)) return {};
  for (const SizeSlip& slip : plausible.slips) {
    if (!fits(x * slip.factor, plausible)) continue;
    return "Did you mean " + short_text(x * slip.factor) + " " + plausible.unit + " (" +
           short_text(x) + " " + slip.unit + ")?";
  }
  return "Check the value and its unit.";
}

std::string wanted_size(const PlausibleSize& plausible) {
  return "a number of " + plausible.unit + " from " + number_text(plausible.low) + " to " +
         number_text(plausible.high);
}

}  // namespace swingloss
