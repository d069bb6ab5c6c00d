// SPDX-License-Identifier: Apache-2.0
#include "report/inline_svg.h"

#include "core/expects.h"
#include "report/escape.h"
#include "report/palette.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdio>
#include <map>

namespace swingloss {
namespace {

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

/// Takes out every `<name ...>...</name>`.
void remove_elements(std::string& text, const std::string& name) {
  const std::string close = "</" + name + ">";
  for (std::size_t at = text.find("<" + name); at != std::string::npos;
       at = text.find("<" + name, at)) {
    const std::size_t end = text.find(close, at);
    expects(end != std::string::npos, "an element of a chart is not closed");
    text.erase(at, end + close.size() - at);
  }
}

/// "rgb( 11, 110, 110)" as gnuplot spells a colour, to "#0b6e6e"; empty when it is not one.
std::string hex_of(std::string_view colour) {
  std::array<unsigned, 3> part{};
  std::size_t at = 4;
  for (unsigned& value : part) {
    at = colour.find_first_of("0123456789", at);
    if (at == std::string_view::npos) return {};
    const auto [end, fault] =
        std::from_chars(colour.data() + at, colour.data() + colour.size(), value);
    if (fault != std::errc() || value > 255U) return {};
    at = static_cast<std::size_t>(end - colour.data());
  }
  std::array<char, 8> text{};
  std::snprintf(text.data(), text.size(), "#%02x%02x%02x", part[0], part[1], part[2]);
  return text.data();
}

void recolour(std::string& tag) {
  static const std::map<std::string, std::string> kVariableOfHex = [] {
    std::map<std::string, std::string> variables;
    for (const Swatch& swatch : all_swatches()) variables[swatch.light] = variable_of(swatch);
    return variables;
  }();
  for (std::size_t at = tag.find("rgb("); at != std::string::npos;
       at = tag.find("rgb(", at + 1)) {
    const std::size_t end = tag.find(')', at);
    if (end == std::string::npos) return;
    const auto known = kVariableOfHex.find(hex_of(std::string_view(tag).substr(at, end - at)));
    if (known != kVariableOfHex.end()) tag.replace(at, end + 1 - at, known->second);
  }
  replace_all(tag, "\"black\"", "\"" + variable_of(kInk) + "\"");
  replace_all(tag, "'black'", "'" + variable_of(kInk) + "'");
}

void mend_tag(std::string& tag) {
  replace_all(tag,
              " font-family=\"sans-serif:Bold\"",
              " font-family=\"sans-serif\" font-weight=\"bold\"");
}

void adapt_tag(std::string& tag, const std::string& prefix) {
  replace_all(tag, "xlink:href='#", "href='#" + prefix + "-");
  replace_all(tag, " id='", " id='" + prefix + "-");
  replace_all(tag, " id=\"", " id=\"" + prefix + "-");
  mend_tag(tag);
  replace_all(tag, " font-family=\"sans-serif\"", "");
  recolour(tag);
}

/// Changes tags only: a material may be called "black" or "id='x'", and stays so. gnuplot
/// writes every < of a text as a reference, so each one here opens a tag.
template <typename Change>
std::string with_tags_changed(const std::string& body, Change change) {
  std::string result;
  std::size_t at = 0;
  while (at < body.size()) {
    const std::size_t open = std::min(body.find('<', at), body.size());
    const std::size_t close = open == body.size() ? open : body.find('>', open) + 1;
    expects(close != 0, "a tag of a chart is not closed");
    std::string tag = body.substr(open, close - open);
    change(tag);
    result += body.substr(at, open - at) + tag;
    at = close;
  }
  return result;
}

}  // namespace

std::string mended_svg(const std::string& file) { return with_tags_changed(file, mend_tag); }

std::string inline_svg(const std::string& file,
                       const std::string& prefix,
                       const std::string& description) {
  const std::size_t start = file.find("<g id=\"gnuplot_canvas\">");
  const std::size_t view_box = file.find("viewBox=\"");
  const std::size_t end = file.rfind("</svg>");
  expects(
      start != std::string::npos && view_box != std::string::npos && end != std::string::npos,
      "not an SVG file of gnuplot's");
  const std::string box = file.substr(view_box, file.find('"', view_box + 9) + 1 - view_box);
  std::string body = file.substr(start, end - start);
  remove_elements(body, "title");
  remove_elements(body, "filter");
  return "<svg " + box + " role=\"img\" aria-label=\"" + html_text(description) + "\">\n" +
         with_tags_changed(body, [&](std::string& tag) { adapt_tag(tag, prefix); }) +
         "</svg>\n";
}

}  // namespace swingloss
