// SPDX-License-Identifier: Apache-2.0
/// \file standard_model_text.h
/// The record calibration/appearance/model.json, built into the program. Internal to series.
#pragma once

namespace swingloss {

/// Text of the file as it was when the program was built.
[[nodiscard]] const char* standard_model_text();

}  // namespace swingloss
