// SPDX-License-Identifier: Apache-2.0
/// \file rig_checks_json.h
/// A rig and its checks as JSON.
#pragma once

#include "rig/check_rig.h"

#include <string>
#include <vector>

namespace swingloss {

/// Format "swingloss/rig-checks/1": the rig as rig.json has it (rig_text(), friction included),
/// and each check with its value, limits, verdict and note. What is not known is null.
[[nodiscard]] std::string rig_checks_json(const Rig& rig, const std::vector<RigCheck>& checks);

}  // namespace swingloss
