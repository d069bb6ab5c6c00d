// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"
#include "view/sheet.h"

#include <vector>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr double kMm = 1e-3;
constexpr double kPoint_m = 0.0254 / 72.0;

/// A millionth of the unit is far below any printer.
std::string places(double number) {
  std::string text = fixed_text(number, 6);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string pair_of(const Vector2d& point_m, double unit_m) {
  return places(point_m.x() / unit_m) + " " + places(point_m.y() / unit_m);
}

std::string svg_text(const std::string& text) {
  std::string safe;
  for (const char letter : text) {
    if (letter == '&') {
      safe += "&amp;";
    } else if (letter == '<') {
      safe += "&lt;";
    } else {
      safe += letter;
    }
  }
  return safe;
}

std::string pdf_text(const std::string& text) {
  std::string safe;
  for (const char letter : text) {
    if (letter == '(' || letter == ')' || letter == '\\') safe += '\\';
    safe += letter;
  }
  return safe;
}

/// Coordinates from the page's lower left corner, y up.
Vector2d upward(const SheetPage& page, const Vector2d& point_m) {
  return {point_m.x(), page.size_m.y() - point_m.y()};
}

std::string pdf_contour(const SheetPage& page, const std::vector<Vector2d>& contour) {
  std::string content;
  const char* step = " m\n";
  for (const Vector2d& point : contour) {
    content += pair_of(upward(page, point), kPoint_m) + step;
    step = " l\n";
  }
  return content + "h\n";
}

std::string svg_contour(const std::vector<Vector2d>& contour) {
  std::string svg;
  const char* step = "M";
  for (const Vector2d& point : contour) {
    svg += step + pair_of(point, kMm);
    step = "L";
  }
  return svg + "Z";
}

std::string pdf_content(const SheetPage& page) {
  std::string content;
  for (const SheetShape& shape : page.shapes) {
    content += places(shape.grey) + " g\n";
    for (const auto& contour : shape.contours_m) content += pdf_contour(page, contour);
    content += "f*\n";
  }
  content += "0 g\n";
  for (const SheetText& text : page.texts) {
    content += "BT /F1 " + places(text.size_m / kPoint_m) + " Tf " +
               pair_of(upward(page, text.place_m), kPoint_m) + " Td (" + pdf_text(text.text) +
               ") Tj ET\n";
  }
  return content;
}

std::string ten_digits(std::size_t number) {
  const std::string text = std::to_string(number);
  return std::string(10 - text.size(), '0') + text;
}

}  // namespace

std::string sheet_svg(const SheetPage& page) {
  const std::string width = places(page.size_m.x() / kMm);
  const std::string height = places(page.size_m.y() / kMm);
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width +
                    "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " + width + " " + height +
                    "\">\n<rect width=\"" + width + "\" height=\"" + height +
                    "\" fill=\"#fff\"/>\n";
  for (const SheetShape& shape : page.shapes) {
    const std::string level = places(100.0 * shape.grey);
    svg += "<path fill-rule=\"evenodd\" fill=\"rgb(";
    svg.append(level).append("%,").append(level).append("%,").append(level);
    svg += "%)\" d=\"";
    for (const auto& contour : shape.contours_m) svg += svg_contour(contour);
    svg += "\"/>\n";
  }
  for (const SheetText& text : page.texts) {
    svg += "<text x=\"" + places(text.place_m.x() / kMm) + "\" y=\"" +
           places(text.place_m.y() / kMm) + "\" font-family=\"Helvetica,Arial,sans-serif\" " +
           "font-size=\"" + places(text.size_m / kMm) + "\">" + svg_text(text.text) +
           "</text>\n";
  }
  return svg + "</svg>\n";
}

std::string sheet_pdf(const SheetPage& page) {
  const std::string content = pdf_content(page);
  const std::vector<std::string> objects = {
      "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>",
      "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
      "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 " + pair_of(page.size_m, kPoint_m) +
          "] /Resources << /Font << /F1 4 0 R >> >> /Contents 5 0 R >>",
      "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
      "<< /Length " + std::to_string(content.size()) + " >>\nstream\n" + content + "endstream"};
  std::string pdf = "%PDF-1.4\n";
  std::string table = "0000000000 65535 f \n";
  for (std::size_t i = 0; i < objects.size(); ++i) {
    table += ten_digits(pdf.size()) + " 00000 n \n";
    pdf += std::to_string(i + 1) + " 0 obj\n" + objects[i] + "\nendobj\n";
  }
  const std::string count = std::to_string(objects.size() + 1);
  return pdf + "xref\n0 " + count + "\n" + table + "trailer\n<< /Size " + count +
         " /Root 1 0 R >>\nstartxref\n" + std::to_string(pdf.size()) + "\n%%EOF\n";
}

}  // namespace swingloss
