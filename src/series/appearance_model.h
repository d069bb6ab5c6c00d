// SPDX-License-Identifier: Apache-2.0
/// \file appearance_model.h
/// The appearance model as a file that people can read.
#pragma once

#include "surface/judge.h"

#include <string>

namespace swingloss {

/// The model that comes with the program (calibration/appearance/model.json).
[[nodiscard]] const AppearanceModel& standard_model();

/// Reads a model, format "swingloss/appearance-model/1".
/// \throws InputError  not JSON; another format; features that are not this program's
[[nodiscard]] AppearanceModel parse_model(const std::string& text, const std::string& file);
[[nodiscard]] std::string model_json(const AppearanceModel& model);

/// What a reader should know of a model: its training, its accuracy with interval, and the
/// confusion table.
[[nodiscard]] std::string account_of(const AppearanceModel& model);

}  // namespace swingloss
