// SPDX-License-Identifier: Apache-2.0
/// \file inline_svg.h
/// A drawn SVG file made part of an HTML page.
#pragma once

#include <string>

namespace swingloss {

/// `file` with bold type marked as SVG has it: gnuplot's svg terminal writes the weight into
/// the family's name, which no reader knows.
[[nodiscard]] std::string mended_svg(const std::string& file);

/// The <svg> element of `file` for use inside HTML: no XML head, no fixed size, ids begin with
/// `prefix` so that two charts of one page do not share any, fonts those of the page, and each
/// colour of palette.h replaced by its style-sheet variable, so that it follows light and dark.
/// \param file         what gnuplot's svg terminal wrote
/// \param prefix       letters, digits, hyphens
/// \param description  any text, for people who cannot see the picture
[[nodiscard]] std::string inline_svg(const std::string& file,
                                     const std::string& prefix,
                                     const std::string& description);

}  // namespace swingloss
