// SPDX-License-Identifier: Apache-2.0
/// \file has_remark.h
#pragma once

#include "core/remark.h"

#include <algorithm>
#include <string>

namespace swingloss::test {

[[nodiscard]] inline bool has_remark(const Remarks& remarks, const std::string& code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& remark) {
    return remark.code == code;
  });
}

}  // namespace swingloss::test
