// SPDX-License-Identifier: Apache-2.0
/// \file palette.h
/// The colours of everything that is drawn, by the part they play.
#pragma once

#include <array>
#include <cstddef>
#include <string>

namespace swingloss {

/// One part with its colour on light and on dark ground, both "#rrggbb".
struct Swatch {
  const char* name;
  const char* light;
  const char* dark;
};

/// Parts of a page or chart.
inline constexpr Swatch kPaper{"paper", "#fcfbf8", "#12181e"};    ///< ground
inline constexpr Swatch kPanel{"panel", "#f3f0e8", "#1a222a"};    ///< raised ground
inline constexpr Swatch kInk{"ink", "#17212b", "#e9e6de"};        ///< text
inline constexpr Swatch kMuted{"muted", "#566069", "#9fabb5"};    ///< second text
inline constexpr Swatch kRule{"rule", "#dcd7ca", "#323d47"};      ///< lines that part things
inline constexpr Swatch kAccent{"accent", "#00626b", "#63c7c4"};  ///< links, the fitted law
inline constexpr Swatch kWarm{"warm", "#9a4d00", "#f0a94a"};      ///< warnings, the blow
inline constexpr Swatch kAlarm{"alarm", "#a3213a", "#ff8a8f"};    ///< refusals

/// Colours of materials, in order of their first appearance. Any two stay apart for people with
/// full and with two-cone vision (tests/report/palette_test.cc), and each keeps a contrast of
/// 3:1 to the ground [WCAG2 1.4.11]. A seventh material starts over: rows are labelled, so that
/// colour is never the only sign.
inline constexpr std::array<Swatch, 6> kMaterials = {{{"m1", "#349cc1", "#bfe3f2"},
                                                      {"m2", "#b88710", "#dba522"},
                                                      {"m3", "#6b1c3f", "#e8475b"},
                                                      {"m4", "#973ced", "#ad6cf0"},
                                                      {"m5", "#0c307c", "#378fa6"},
                                                      {"m6", "#066e25", "#58e6a3"}}};

/// All of the above, for style sheets and for recolouring.
[[nodiscard]] std::array<Swatch, 14> all_swatches();

/// "var(--ink)": the style-sheet variable of a part.
[[nodiscard]] std::string variable_of(const Swatch& swatch);

}  // namespace swingloss
