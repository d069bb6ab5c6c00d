// SPDX-License-Identifier: Apache-2.0
#include "view/sheet.h"

#include "support/test.h"

#include <set>
#include <sstream>

#include <opencv2/aruco.hpp>
#include <opencv2/imgcodecs.hpp>

using namespace swingloss;

namespace {

constexpr double kMm = 1e-3;

struct ReadTags {
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> ids;
};

ReadTags read_tags(const cv::Mat& picture) {
  ReadTags read;
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  const auto settings = cv::aruco::DetectorParameters::create();
  settings->cornerRefinementMethod = cv::aruco::CORNER_REFINE_SUBPIX;
  cv::aruco::detectMarkers(picture, dictionary, read.corners, read.ids, settings);
  return read;
}

const SheetPage& page_named(const std::vector<SheetPage>& pages, const std::string& name) {
  for (const SheetPage& page : pages) {
    if (page.name == name) return page;
  }
  FAIL("no page " << name);
  return pages.front();
}

/// The numbers after `before` in a text.
std::vector<double> numbers_after(const std::string& text,
                                  const std::string& before,
                                  int count) {
  const auto place = text.find(before);
  REQUIRE(place != std::string::npos);
  std::istringstream in(text.substr(place + before.size()));
  std::vector<double> numbers(static_cast<std::size_t>(count));
  for (double& number : numbers) in >> number;
  return numbers;
}

}  // namespace

TEST_CASE("a printed card's tags are read where the card says they are", "[view][truth]") {
  // The reader is OpenCV's, which shares nothing with the drawing but the dictionary.
  const double px_per_m = 10.0 / kMm;
  for (const ScaleCard& card : scale_cards()) {
    CAPTURE(card.name);
    const ReadTags read = read_tags(sheet_picture(card_page(card), px_per_m));
    REQUIRE(read.ids.size() == card.tags.size());
    for (std::size_t i = 0; i < read.ids.size(); ++i) {
      const auto tag = std::find_if(card.tags.begin(), card.tags.end(), [&](const CardTag& t) {
        return t.id == read.ids[i];
      });
      REQUIRE(tag != card.tags.end());
      for (std::size_t j = 0; j < 4; ++j) {
        // A place x on paper is at column x - 1/2; the reader is good to a tenth of a pixel.
        const Eigen::Vector2d px = tag->corners_m[j] * px_per_m;
        CHECK_THAT(double(read.corners[i][j].x), test::to_truncation(px.x() - 0.5, 0.1));
        CHECK_THAT(double(read.corners[i][j].y), test::to_truncation(px.y() - 0.5, 0.1));
      }
    }
  }
}

TEST_CASE("no two cards and no sticker share a tag's number", "[view]") {
  std::set<int> seen;
  for (const ScaleCard& card : scale_cards()) {
    for (const CardTag& tag : card.tags) {
      CHECK(tag.id >= kStickerTags);
      CHECK(seen.insert(tag.id).second);
    }
  }
  CHECK(seen.size() == 24);
}

TEST_CASE("the stickers' tags are read with the rig's dictionary", "[view]") {
  const auto pages = sheets_for(Paper::A4);
  const ReadTags read =
      read_tags(sheet_picture(page_named(pages, "rig-stickers-a4"), 4.0 / kMm));
  const std::set<int> ids(read.ids.begin(), read.ids.end());
  CHECK(ids == std::set<int>{0, 1, 2, 3, 4});
}

TEST_CASE("every page has the size of its paper in each format", "[view][truth]") {
  for (const Paper paper : {Paper::A4, Paper::Letter}) {
    // ISO 216: 210 x 297 mm; Letter by definition 8.5 x 11 inches of 25.4 mm.
    const double width_mm = paper == Paper::A4 ? 210.0 : 8.5 * 25.4;
    const double height_mm = paper == Paper::A4 ? 297.0 : 11.0 * 25.4;
    for (const SheetPage& page : sheets_for(paper)) {
      CAPTURE(page.name);
      const auto box = numbers_after(sheet_svg(page), "viewBox=\"", 4);
      CHECK_THAT(box[2], test::to_rounding(width_mm, 2));
      CHECK_THAT(box[3], test::to_rounding(height_mm, 2));
      const auto media = numbers_after(sheet_pdf(page), "/MediaBox [", 4);
      // Six decimals are written.
      CHECK_THAT(media[2], test::to_printed_decimals(width_mm / 25.4 * 72.0, 6));
      CHECK_THAT(media[3], test::to_printed_decimals(height_mm / 25.4 * 72.0, 6));
    }
  }
}

TEST_CASE("a sheet's PNG has 600 dots an inch and says so", "[view][truth]") {
  SheetPage page = card_page(scale_cards().front());
  const std::string png = sheet_png(page);
  // 23622 pixels a metre are 600 dots an inch (25.4 mm) to 2 in a million; chunk after IHDR.
  const std::string wanted("\0\0\0\x09pHYs\0\0\x5c\x46\0\0\x5c\x46\x01", 17);
  CHECK(png.substr(33, 17) == wanted);
  const std::vector<unsigned char> bytes(png.begin(), png.end());
  const cv::Mat read = cv::imdecode(bytes, cv::IMREAD_UNCHANGED);
  CHECK(read.cols == 2504);  // 106 mm
  CHECK(read.rows == 2173);  // 92 mm
}

TEST_CASE("a ruler is as long as it says, in the picture and in the PDF", "[view]") {
  for (const ScaleCard& card : scale_cards()) {
    const double px_per_m = 20.0 / kMm;
    const cv::Mat picture = sheet_picture(card_page(card), px_per_m);
    // Through the ticks' upper ends: only first, tenth, ... and last are as high.
    const int row = int((card.ruler_from_m.y() - 3.5 * kMm) * px_per_m);
    double dark_from = 1e9;
    double dark_to = 0.0;
    for (int column = 100; column < picture.cols - 100; ++column) {
      if (picture.at<unsigned char>(row, column) > 127) continue;
      dark_from = std::min(dark_from, double(column));
      dark_to = std::max(dark_to, column + 1.0);
    }
    // One pixel is 0.05 mm.
    CHECK_THAT((dark_to - dark_from) / px_per_m / kMm,
               test::to_truncation(card.ruler_m / kMm, 0.051));
    const std::string words = "From end to end 80.00 mm";
    CHECK(sheet_pdf(card_page(card)).find(words) != std::string::npos);
    CHECK(sheet_svg(card_page(card)).find(words) != std::string::npos);
  }
}

TEST_CASE("a PDF's table of objects points at its objects", "[view]") {
  for (const SheetPage& page : sheets_for(Paper::Letter)) {
    const std::string pdf = sheet_pdf(page);
    const auto start = static_cast<std::size_t>(numbers_after(pdf, "startxref\n", 1)[0]);
    REQUIRE(pdf.substr(start, 4) == "xref");
    std::istringstream in(pdf.substr(start + 9));
    std::string line;
    std::getline(in, line);  // of the free entry
    for (int object = 1; object <= 5; ++object) {
      std::getline(in, line);
      const auto place = static_cast<std::size_t>(std::stoul(line.substr(0, 10)));
      const std::string head = std::to_string(object) + " 0 obj";
      CHECK(pdf.substr(place, head.size()) == head);
    }
  }
}

TEST_CASE("nothing of a sheet reaches beyond its paper", "[view]") {
  for (const Paper paper : {Paper::A4, Paper::Letter}) {
    for (const SheetPage& page : sheets_for(paper)) {
      for (const SheetShape& shape : page.shapes) {
        for (const auto& contour : shape.contours_m) {
          for (const Eigen::Vector2d& point : contour) {
            // Printers leave some 5 mm blank at every side.
            CHECK(point.x() >= 5.0 * kMm);
            CHECK(point.y() >= 5.0 * kMm);
            CHECK(point.x() <= page.size_m.x() - 5.0 * kMm);
            CHECK(point.y() <= page.size_m.y() - 5.0 * kMm);
          }
        }
      }
    }
  }
}
