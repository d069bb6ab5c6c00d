// SPDX-License-Identifier: Apache-2.0
/// \file compare_faces.h
/// Photographed sections and looks beside what was rendered.
#pragma once

#include "compare_common.h"

namespace swingloss::demo {

/// Prints a row a photographed bar and what they say together; nothing where there is none.
/// \return whether every size is within kLimit_in_u of its own uncertainties
[[nodiscard]] bool compare_faces(const std::string& series);

}  // namespace swingloss::demo
