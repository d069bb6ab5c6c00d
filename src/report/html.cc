// SPDX-License-Identifier: Apache-2.0
#include "report/html.h"

#include "core/expects.h"
#include "report/escape.h"

#include <algorithm>
#include <cstdint>
#include <string_view>

namespace swingloss {
namespace {

std::string cell_of(const std::string& content, const HtmlColumn& column, bool is_row_head) {
  const std::string style = column.is_number ? " class=\"num\"" : "";
  const std::string tag = is_row_head ? "th" : "td";
  const std::string scope = is_row_head ? " scope=\"row\"" : "";
  return "<" + tag + scope + style + ">" + content + "</" + tag + ">";
}

const char* sign_of(Severity severity) {
  switch (severity) {
    case Severity::Note:
      return "i";
    case Severity::Warning:
      return "!";
    case Severity::Refusal:
      return "×";
  }
  return "i";
}

}  // namespace

std::string html_table(const std::string& caption,
                       const std::vector<HtmlColumn>& columns,
                       const std::vector<HtmlRow>& rows) {
  const std::string name = html_text(caption);
  std::string html = "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"" +
                     name + "\">\n<table>\n<caption>" + name + "</caption>\n<thead><tr>";
  for (const HtmlColumn& column : columns) {
    html += std::string("<th scope=\"col\"") + (column.is_number ? " class=\"num\">" : ">") +
            column.head + "</th>";
  }
  html += "</tr></thead>\n<tbody>\n";
  for (const HtmlRow& row : rows) {
    expects(row.cells.size() == columns.size(), "a table row of another length");
    html += "<tr>";
    for (std::size_t i = 0; i < columns.size(); ++i)
      html += cell_of(row.cells[i], columns[i], i == 0);
    html += "</tr>\n";
  }
  return html + "</tbody>\n</table>\n</div>\n";
}

std::string html_section(const std::string& id,
                         const std::string& heading,
                         const std::string& content) {
  return "<section id=\"" + id + "\" aria-labelledby=\"" + id + "-head\">\n<h2 id=\"" + id +
         "-head\">" + html_text(heading) + "</h2>\n" + content + "</section>\n";
}

std::string html_facts(const std::vector<std::pair<std::string, std::string>>& facts) {
  std::string html = "<dl class=\"facts\">\n";
  for (const auto& [name, content] : facts) {
    html += "<div><dt>" + html_text(name) + "</dt><dd>" + content + "</dd></div>\n";
  }
  return html + "</dl>\n";
}

std::string html_chart(const std::string& svg,
                       const std::string& caption,
                       ChartWidth width,
                       const std::string& css_class) {
  if (svg.empty()) return {};
  const std::string drawn =
      width == ChartWidth::Any
          ? svg
          : "<div class=\"pan\" tabindex=\"0\" role=\"region\" aria-label=\"Chart: " +
                html_text(caption.substr(0, caption.find_first_of(".;:"))) + "\">" + svg +
                "</div>\n";
  return "<figure class=\"chart" + (css_class.empty() ? "" : " " + css_class) + "\">" + drawn +
         "<figcaption>" + html_text(caption) + "</figcaption></figure>\n";
}

std::string html_remarks(const Remarks& remarks) {
  if (remarks.empty()) return {};
  std::string html = "<ul class=\"remarks\">\n";
  for (const Remark& remark : remarks) {
    const char* severity = name_of(remark.severity);
    html += std::string("<li class=\"") + severity +
            "\"><span class=\"sign\" aria-hidden=\"true\">" + sign_of(remark.severity) +
            "</span><span><strong>" + severity + "</strong> " + html_text(remark.text) +
            "</span></li>\n";
  }
  return html + "</ul>\n";
}

std::string data_uri(const std::string& media_type, const std::string& bytes) {
  constexpr std::string_view kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string uri = "data:" + media_type + ";base64,";
  uri.reserve(uri.size() + (bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      group = (group << 8U) | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      uri += k <= count ? kDigits[(group >> (18U - 6U * static_cast<unsigned>(k))) & 63U] : '=';
    }
  }
  return uri;
}

}  // namespace swingloss
