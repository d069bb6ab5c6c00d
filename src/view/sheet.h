// SPDX-License-Identifier: Apache-2.0
/// \file sheet.h
/// Pages to be printed, as shapes true to size; and the same as SVG, PDF and PNG.
#pragma once

#include "view/scale_card.h"

#include <string>
#include <vector>

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// One filled area; a place is inside when it lies in an odd number of the contours, so that a
/// tag with its white cells is one shape without seams.
struct SheetShape {
  std::vector<std::vector<Eigen::Vector2d>> contours_m;
  double grey = 0.0;  ///< 0 black to 1 white
};

/// One line of text, ASCII, standing on `place_m`.
struct SheetText {
  Eigen::Vector2d place_m;
  double size_m = 3e-3;  ///< height of a line; capitals are 0.7 of it
  std::string text;
};

/// A page; later shapes lie over earlier ones, texts over all. Origin top left, y down.
struct SheetPage {
  std::string name;  ///< stem of its files
  Eigen::Vector2d size_m;
  std::vector<SheetShape> shapes;
  std::vector<SheetText> texts;
};

enum class Paper { A4, Letter };

/// Paper upright: A4 210 x 297 mm, Letter 8.5 x 11 inches.
[[nodiscard]] Eigen::Vector2d size_of(Paper paper);

/// One card alone, on a page of its own size.
[[nodiscard]] SheetPage card_page(const ScaleCard& card);

/// All that `swingloss sheet` prints: a page of scale cards, and one of stickers for the
/// pendulum's arm (tags of 16 to 40 mm with their white border, and pairs of round dots, dark
/// on light and light on dark). Every card and page names the true length of its ruler.
[[nodiscard]] std::vector<SheetPage> sheets_for(Paper paper);

/// Resolution of the PNG files: 600 dots an inch.
inline constexpr double kSheetPng_px_per_m = 600.0 / 0.0254;

/// The page with millimetres as its unit and its size in millimetres.
[[nodiscard]] std::string sheet_svg(const SheetPage& page);
/// A PDF of one page, vectors only, its text in the Helvetica that every reader has.
[[nodiscard]] std::string sheet_pdf(const SheetPage& page);
/// A PNG of 600 dots an inch that says so.
[[nodiscard]] std::string sheet_png(const SheetPage& page);

/// The page as grey levels, CV_8UC1: each pixel the mean over its area (exact across, 16 lines
/// down). \param px_per_m  > 0
[[nodiscard]] cv::Mat sheet_picture(const SheetPage& page, double px_per_m);

}  // namespace swingloss
