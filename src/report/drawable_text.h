// SPDX-License-Identifier: Apache-2.0
/// \file drawable_text.h
/// Names of any alphabet on pictures that are drawn with the fonts of this machine.
#pragma once

#include <string>

namespace swingloss {

/// `text` with a white square for every sign that no installed font has. gnuplot's drawing
/// library puts a box of its own there, and breaks down over it: the rest of the picture
/// becomes lines and areas of ink. Asks fontconfig's fc-list, once for each sign beyond the
/// Latin ones; where fc-list is not installed all of these count as missing.
/// \param text  any bytes; cleaned as by clean_text()
[[nodiscard]] std::string drawable_text(const std::string& text);

}  // namespace swingloss
