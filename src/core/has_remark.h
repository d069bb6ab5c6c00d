// SPDX-License-Identifier: Apache-2.0
/// \file has_remark.h
/// Whether something was remarked.
#pragma once

#include "core/remark.h"

#include <algorithm>
#include <string_view>

namespace swingloss {

[[nodiscard]] inline bool has_remark(const Remarks& remarks, std::string_view code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& remark) {
    return remark.code == code;
  });
}

}  // namespace swingloss
