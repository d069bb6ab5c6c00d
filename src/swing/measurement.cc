// SPDX-License-Identifier: Apache-2.0
#include "swing/measurement.h"

namespace swingloss {

const char* name_of(Outcome outcome) {
  switch (outcome) {
    case Outcome::Broken:
      return "broken";
    case Outcome::NotBroken:
      return "not-broken";
    case Outcome::FreeSwing:
      return "free-swing";
    case Outcome::Unclear:
      return "unclear";
  }
  return "unclear";
}

}  // namespace swingloss
