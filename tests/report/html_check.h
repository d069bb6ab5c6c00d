// SPDX-License-Identifier: Apache-2.0
/// \file html_check.h
/// A page read back strictly, by rules of HTML that browsers would forgive.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace swingloss::test {

/// One start tag with its attributes as written (references not decoded).
struct HtmlTag {
  std::string name;
  std::map<std::string, std::string> attributes;
};

/// What a page holds.
struct HtmlPage {
  std::vector<HtmlTag> tags;        ///< in order
  std::vector<std::string> faults;  ///< not closed, closed twice, an attribute without quotes
  [[nodiscard]] std::vector<std::string> values_of(const std::string& attribute) const;
  [[nodiscard]] std::size_t count_of(const std::string& tag) const;
};

/// Every element but the void ones must be closed, in order; attribute values are in double or
/// single quotes; an & begins a character reference. The content of <style> is passed over.
[[nodiscard]] HtmlPage read_html(std::string_view html);

/// How often `part` is in `text`.
[[nodiscard]] std::size_t times_in(const std::string& text, const std::string& part);

}  // namespace swingloss::test
