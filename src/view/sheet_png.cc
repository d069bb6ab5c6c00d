// SPDX-License-Identifier: Apache-2.0
#include "core/expects.h"
#include "view/sheet.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kLines = 16;  // to a pixel, of the area rule

/// Where a shape's contours cross a horizontal line, sorted.
std::vector<double> crossings(const SheetShape& shape, double y_m) {
  std::vector<double> xs;
  for (const auto& contour : shape.contours_m) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      const Eigen::Vector2d& a = contour[i];
      const Eigen::Vector2d& b = contour[(i + 1) % contour.size()];
      if ((a.y() <= y_m) == (b.y() <= y_m)) continue;
      xs.push_back(a.x() + (y_m - a.y()) / (b.y() - a.y()) * (b.x() - a.x()));
    }
  }
  std::sort(xs.begin(), xs.end());
  return xs;
}

/// Adds the covered share of each pixel between two places of one line.
void cover(std::vector<float>& row, double from_px, double to_px) {
  from_px = std::max(0.0, from_px);
  to_px = std::min(double(row.size()), to_px);
  if (to_px <= from_px) return;
  const auto first = std::size_t(from_px);
  const auto last = std::min(row.size() - 1, std::size_t(to_px));
  for (std::size_t i = first; i <= last; ++i) {
    const double part = std::min(to_px, double(i) + 1.0) - std::max(from_px, double(i));
    row[i] += float(std::max(0.0, part) / kLines);
  }
}

/// Adds what the shape covers of each pixel of a row. \param covered  0 before
void cover_row(const SheetShape& shape, double px_per_m, int row, std::vector<float>& covered) {
  for (int line = 0; line < kLines; ++line) {
    const auto xs = crossings(shape, (row + (line + 0.5) / kLines) / px_per_m);
    for (std::size_t i = 0; i + 1 < xs.size(); i += 2)
      cover(covered, xs[i] * px_per_m, xs[i + 1] * px_per_m);
  }
}

void paint(const SheetShape& shape, double px_per_m, cv::Mat& picture) {
  double low = 1e9;
  double high = -1e9;
  for (const auto& contour : shape.contours_m) {
    for (const Eigen::Vector2d& point : contour) {
      low = std::min(low, point.y());
      high = std::max(high, point.y());
    }
  }
  const int first = std::max(0, int(std::floor(low * px_per_m)));
  const int last = std::min(picture.rows - 1, int(std::floor(high * px_per_m)));
  std::vector<float> covered(std::size_t(picture.cols));
  for (int row = first; row <= last; ++row) {
    std::fill(covered.begin(), covered.end(), 0.0F);
    cover_row(shape, px_per_m, row, covered);
    for (int column = 0; column < picture.cols; ++column) {
      const float share = std::min(1.0F, covered[std::size_t(column)]);
      auto& level = picture.at<unsigned char>(row, column);
      level = cv::saturate_cast<unsigned char>(float(level) * (1.0F - share) +
                                               255.0F * float(shape.grey) * share);
    }
  }
}

void append_big_endian(std::string& bytes, std::uint32_t number) {
  for (int shift = 24; shift >= 0; shift -= 8) bytes += char((number >> shift) & 255U);
}

/// The check sum of PNG chunks [PNG 5.5, annex D].
std::uint32_t crc_of(const std::string& bytes) {
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char byte : bytes) {
    crc ^= std::uint32_t(static_cast<unsigned char>(byte));
    for (int bit = 0; bit < 8; ++bit) crc = (crc & 1U) ? 0xEDB88320U ^ (crc >> 1) : crc >> 1;
  }
  return crc ^ 0xFFFFFFFFU;
}

/// The chunk that says how many pixels make a metre [PNG 11.3.4.3].
std::string resolution_chunk(double px_per_m) {
  std::string body = "pHYs";
  const auto rounded = std::uint32_t(std::lround(px_per_m));
  append_big_endian(body, rounded);
  append_big_endian(body, rounded);
  body += char(1);
  std::string chunk;
  append_big_endian(chunk, std::uint32_t(body.size() - 4));
  chunk += body;
  append_big_endian(chunk, crc_of(body));
  return chunk;
}

}  // namespace

cv::Mat sheet_picture(const SheetPage& page, double px_per_m) {
  expects(px_per_m > 0.0, "sheet_picture: a resolution above 0");
  cv::Mat picture(int(std::lround(page.size_m.y() * px_per_m)),
                  int(std::lround(page.size_m.x() * px_per_m)),
                  CV_8UC1,
                  cv::Scalar(255));
  for (const SheetShape& shape : page.shapes) paint(shape, px_per_m, picture);
  for (const SheetText& text : page.texts) {
    // The drawing font's capitals are 21 units high at scale 1; ours are 0.7 of a line.
    const double scale = 0.7 * text.size_m * px_per_m / 21.0;
    const cv::Point place(int(std::lround(text.place_m.x() * px_per_m)),
                          int(std::lround(text.place_m.y() * px_per_m)));
    const int thickness = std::max(1, int(std::lround(0.1 * text.size_m * px_per_m)));
    cv::putText(picture,
                text.text,
                place,
                cv::FONT_HERSHEY_SIMPLEX,
                scale,
                cv::Scalar(0),
                thickness,
                cv::LINE_AA);
  }
  return picture;
}

std::string sheet_png(const SheetPage& page) {
  std::vector<unsigned char> coded;
  expects(cv::imencode(".png", sheet_picture(page, kSheetPng_px_per_m), coded),
          "sheet_png: the encoder failed");
  std::string bytes(coded.begin(), coded.end());
  constexpr std::size_t kAfterHeader = 8 + 25;  // signature and IHDR
  bytes.insert(kAfterHeader, resolution_chunk(kSheetPng_px_per_m));
  return bytes;
}

}  // namespace swingloss
