// SPDX-License-Identifier: Apache-2.0
/// \file cautions.h
/// What everybody at the rig must know before it is lifted. The one place where it is written.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

/// One sentence or two each, in the order in which they matter.
[[nodiscard]] std::vector<std::string> safety_cautions();

}  // namespace swingloss
