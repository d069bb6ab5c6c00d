// SPDX-License-Identifier: Apache-2.0
/// \file web_files.h
/// The pages themselves, carried by the program as text.
#pragma once

#include <string>

namespace swingloss {

struct WebFile {
  std::string type;  ///< media type
  std::string text;
};

/// The file at an address ("/", "/bar", "/desk.css", ...); null where there is none.
[[nodiscard]] const WebFile* find_web_file(const std::string& path);

namespace web {
/// As they stand in src/desk/web.
extern const char* const kShell;
extern const char* const kStyle;
extern const char* const kCommon;
extern const char* const kSeries;
extern const char* const kBar;
extern const char* const kBarForms;
extern const char* const kPicture;
extern const char* const kRanking;
extern const char* const kPlan;
}  // namespace web

}  // namespace swingloss
