// SPDX-License-Identifier: Apache-2.0
/// \file page_style.h
/// How the report looks.
#pragma once

#include <string>

namespace swingloss {

/// The style sheet, complete: light and dark by the reader's own setting, narrow screens,
/// print. Fonts are those of the reader's machine; nothing is fetched.
[[nodiscard]] std::string page_style();

}  // namespace swingloss
