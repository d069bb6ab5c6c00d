// SPDX-License-Identifier: Apache-2.0
#include "report/contact_sheet.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/drawing.h"
#include "report/words.h"
#include "series/look_at_faces.h"
#include "series/series_plan.h"
#include "surface/judge.h"

#include <algorithm>
#include <limits>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kColumns = 5, kCell_px = 384, kPicture_px = 273, kCaption_px = 92;
constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;

Quantity quantity_of(const SeriesResult& series) {
  return series.ranking ? series.ranking->quantity : Quantity::Energy_J;
}

double value_of(const SeriesResult& series, std::size_t i) {
  const BarResult& bar = series.bars[i];
  const auto& value = quantity_of(bar.bar, quantity_of(series));
  return value && !bar.problem ? value->value() : std::numeric_limits<double>::infinity();
}

std::vector<FacePhoto> photos_of(const SeriesResult& series, std::size_t index) {
  std::vector<FacePhoto> photos;
  const BarResult& bar = series.bars[index];
  if (!bar.surface) return photos;
  for (const SurfaceMeasurement& photo : bar.surface->photos) {
    try {
      photos.push_back(
          {photo, read_still(path_in_series(series.folder, photo.photo, "photos"))});
    } catch (const InputError&) {
      continue;  // moved away since it was measured: its numbers stand, its picture is gone
    }
  }
  return photos;
}

/// ASCII for the drawing font; other letters become question marks.
std::string ascii(const std::string& text) {
  std::string out;
  for (const char letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    if (byte < 128) out += letter;
    if (byte >= 0xC0) out += '?';
  }
  return out;
}

std::string value_words(const SeriesResult& series, std::size_t index) {
  const BarResult& bar = series.bars[index];
  const auto& value = quantity_of(bar.bar, quantity_of(series));
  if (!value || bar.problem) return "no energy";
  const std::string unit = quantity_of(series) == Quantity::Energy_J ? " J" : " kJ/m2";
  const std::string sign = limit_sign(bar.bar.limit);
  return sign + (sign.empty() ? "" : " ") + significant_text(value->value(), 3) + unit;
}

void draw_cell(cv::Mat& sheet,
               const cv::Point& at,
               const cv::Mat& face,
               const std::vector<std::string>& lines) {
  cv::Mat small;
  cv::resize(face, small, {kCell_px - 12, kPicture_px}, 0, 0, cv::INTER_AREA);
  small.copyTo(sheet(cv::Rect(at.x + 6, at.y, small.cols, small.rows)));
  int y = at.y + kPicture_px + 28;
  for (const std::string& line : lines) {
    cv::putText(sheet,
                line,
                {at.x + 8, y},
                kFont,
                0.65,
                colour_of(y < at.y + kPicture_px + 30 ? kInk : kMuted),
                1,
                cv::LINE_AA);
    y += 27;
  }
}

}  // namespace

std::vector<std::size_t> bars_by_energy(const SeriesResult& series) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    const auto& surface = series.bars[i].surface;
    const bool has_face =
        surface && std::any_of(surface->photos.begin(),
                               surface->photos.end(),
                               [](const auto& p) { return !p.faces.empty(); });
    if (has_face) order.push_back(i);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return value_of(series, a) < value_of(series, b);
  });
  return order;
}

FacePlate draw_bar_faces(const SeriesResult& series, std::size_t index) {
  const std::vector<FacePhoto> photos = photos_of(series, index);
  FacePlateOptions options;
  options.title = ascii(series.bars[index].specimen.id);
  options.stamp = demonstration_stamp(series);
  options.orientation = ascii(series.bars[index].specimen.orientation);
  return draw_face_plate(photos, options);
}

FacePlate draw_contact_sheet(const SeriesResult& series) {
  struct Cell {
    cv::Mat face;
    std::vector<std::string> lines;
  };
  std::vector<Cell> cells;
  for (const std::size_t i : bars_by_energy(series)) {
    const std::vector<FacePhoto> photos = photos_of(series, i);
    const auto photo = std::find_if(photos.begin(), photos.end(), [](const FacePhoto& p) {
      return !p.measured.faces.empty();
    });
    if (photo == photos.end()) continue;
    const FaceMeasures* speaking = speaking_face(*series.bars[i].surface);
    const std::string look =
        speaking == nullptr ? "look: cannot tell"
                            : std::string("looks ") + name_of(*speaking->judgement.verdict);
    cells.push_back({draw_face(*photo, photo->measured.faces.front()).bgr,
                     {ascii(series.bars[i].specimen.id) + "   " + value_words(series, i),
                      look,
                      ascii(series.bars[i].specimen.material)}});
  }
  if (cells.empty()) return {};
  const int rows = (int(cells.size()) + kColumns - 1) / kColumns;
  const int head_px = 64;
  Still sheet;
  sheet.bgr = cv::Mat(head_px + rows * (kPicture_px + kCaption_px + 10),
                      kColumns * kCell_px,
                      CV_8UC3,
                      colour_of(kPaper));
  cv::putText(
      sheet.bgr,
      "From the bar that took least to the one that took most   " + demonstration_stamp(series),
      {14, 42},
      kFont,
      0.9,
      colour_of(kInk),
      1,
      cv::LINE_AA);
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const cv::Point at(int(k) % kColumns * kCell_px,
                       head_px + int(k) / kColumns * (kPicture_px + kCaption_px + 10));
    draw_cell(sheet.bgr, at, cells[k].face, cells[k].lines);
  }
  return encoded_plate(sheet);
}

}  // namespace swingloss
