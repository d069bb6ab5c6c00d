// SPDX-License-Identifier: Apache-2.0
/// \file html.h
/// The few shapes of HTML that the page is built of. What is passed as *content* is HTML
/// already; what is passed as *text* is anything, and is escaped here.
#pragma once

#include "core/remark.h"

#include <string>
#include <vector>

namespace swingloss {

/// One column of a table.
struct HtmlColumn {
  std::string head;        ///< content
  bool is_number = false;  ///< set right, figures of one width
};

/// One row: a cell a column, content; the first cell is the row's head.
struct HtmlRow {
  std::vector<std::string> cells;
};

/// A table with caption, column and row heads with scope, in a frame that scrolls sideways by
/// touch or arrow keys where the screen is too narrow.
/// \param caption  text; also the name of the frame
[[nodiscard]] std::string html_table(const std::string& caption,
                                     const std::vector<HtmlColumn>& columns,
                                     const std::vector<HtmlRow>& rows);

/// <section> with a heading of the second level. \param id letters and hyphens
[[nodiscard]] std::string html_section(const std::string& id,
                                       const std::string& heading,
                                       const std::string& content);

/// Facts as a description list. Pairs of text and content.
[[nodiscard]] std::string html_facts(
    const std::vector<std::pair<std::string, std::string>>& facts);

enum class ChartWidth {
  Any,  ///< can be read at the width of a phone
  Wide  ///< scrolls sideways on a narrow screen, by touch or arrow keys
};

/// A drawn chart with its caption.
/// \param svg  content, with its own words for those who cannot see it; empty: nothing
[[nodiscard]] std::string html_chart(const std::string& svg,
                                     const std::string& caption,
                                     ChartWidth width = ChartWidth::Any,
                                     const std::string& css_class = {});

/// Remarks as a list: a sign and a word for the severity, and the text. Empty for none.
[[nodiscard]] std::string html_remarks(const Remarks& remarks);

/// "data:image/jpeg;base64,...".
[[nodiscard]] std::string data_uri(const std::string& media_type, const std::string& bytes);

}  // namespace swingloss
