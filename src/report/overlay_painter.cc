// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_painter.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "report/drawing.h"
#include "report/picture_words.h"
#include "report/words.h"
#include "series/arm_in_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr double kTrail_s = 0.35;    ///< true time that the trail looks back
constexpr double kInTouch_s = 0.03;  ///< true time about the blow when the law knows nothing
constexpr double kFlash_s = 0.10;    ///< true time that the blow is marked
constexpr double kCapital = 0.52;    ///< of a line's height
constexpr double kNames = 4.6;       ///< width of the names' column, in lines

const cv::Scalar kTrailColour(235, 190, 90);  // blue, green, red
const cv::Scalar kFlashColour(70, 110, 255);
const cv::Scalar kLight(245, 248, 250);
const cv::Scalar kFaint(190, 198, 204);
const cv::Scalar kGround(34, 28, 22);

/// Ground that the picture still shines through.
void shade(cv::Mat& bgr, const cv::Rect& place) {
  const cv::Rect part = place & cv::Rect(0, 0, bgr.cols, bgr.rows);
  if (part.empty()) return;
  cv::Mat area = bgr(part);
  constexpr double kThrough = 0.28;
  cv::addWeighted(
      area, kThrough, cv::Mat(area.size(), CV_8UC3, kGround), 1.0 - kThrough, 0.0, area);
}

/// Words in lines of at most `width_px`; what goes beyond `most` lines ends in dots.
std::vector<std::string> wrapped(const std::string& words,
                                 double capital_px,
                                 int width_px,
                                 std::size_t most) {
  std::vector<std::string> lines;
  std::istringstream stream(words);
  for (std::string word; stream >> word;) {
    const bool fits =
        !lines.empty() && words_width_px(lines.back() + " " + word, capital_px) <= width_px;
    if (fits) {
      lines.back() += " " + word;
    } else if (lines.size() == most) {
      lines.back() += " ...";
      break;
    } else {
      lines.push_back(word);
    }
  }
  return lines;
}

/// Size of type that suits both a phone held upright and a television.
double row_height_px(const cv::Size& size) {
  constexpr double kPart = 0.047;
  return std::clamp(kPart * std::min(size.width, size.height), 13.0, 90.0);
}

}  // namespace

OverlayPainter::OverlayPainter(const SwingRecord& record,
                               const OverlayOptions& options,
                               int width_px,
                               int height_px,
                               double scale)
    : record_(record),
      title_(options.title),
      lines_(read_outs(record, options.rig_given)),
      scale_(scale),
      row_px_(row_height_px({width_px, height_px})),
      thin_px_(std::max(1, static_cast<int>(std::lround(row_px_ / 18.0)))) {
  const int room_px = width_px - static_cast<int>(2.0 * row_px_);
  foot_ = wrapped(cause_words(record, options.rig_given), kCapital * row_px_, room_px, 3);
  for (const std::string& line : wrapped(options.stamp, kCapital * row_px_, room_px, 2))
    foot_.push_back(line);
  choose_corner(width_px, height_px);
}

Eigen::Vector2d OverlayPainter::on_picture(const Eigen::Vector2d& clip_px) const {
  const Eigen::Vector2d half = Eigen::Vector2d::Constant(0.5);
  return scale_ * (clip_px + half) - half;
}

bool OverlayPainter::near_blow(double t_s, double within_s) const {
  const std::optional<double>& blow_s = record_.measurement.events.blow_s;
  const double in_clip_s = within_s * std::max(1.0, record_.measurement.capture_rate_ratio);
  return blow_s && std::abs(t_s - *blow_s) <= in_clip_s;
}

/// The read-outs stand where the arm's end comes by least often.
void OverlayPainter::choose_corner(int width_px, int height_px) {
  const double capital_px = kCapital * row_px_;
  int widest_px = words_width_px("-180.0°", capital_px);
  for (const ReadOut& line : lines_)
    widest_px = std::max(widest_px, words_width_px(line.words, capital_px));
  const int title_px = words_width_px(title_, capital_px);
  const int inner_px = std::max(title_px, static_cast<int>(kNames * row_px_) + widest_px);
  const int rows = static_cast<int>(lines_.size()) + 2 + (title_.empty() ? 0 : 1);
  const int edge_px = static_cast<int>(0.5 * row_px_);
  const cv::Size box(inner_px + static_cast<int>(row_px_),
                     static_cast<int>((rows + 0.6) * row_px_));
  const int right = width_px - box.width - edge_px;
  const int foot_px = static_cast<int>((static_cast<double>(foot_.size()) + 0.6) * row_px_);
  const int low = height_px - box.height - edge_px - (foot_.empty() ? 0 : foot_px);
  const std::array<cv::Point, 4> corners = {
      {{edge_px, edge_px}, {right, edge_px}, {edge_px, low}, {right, low}}};
  std::size_t fewest = record_.arm.angles.samples.size() + 1;
  for (const cv::Point& corner : corners) {
    const cv::Rect place(corner, box);
    std::size_t visits = 0;
    for (const AngleSample& sample : record_.arm.angles.samples) {
      const auto end_px = arm_in_picture(record_, sample.frame, sample.t_s, false).end_px;
      if (!end_px) continue;
      const Eigen::Vector2d at = on_picture(*end_px);
      if (place.contains(cv::Point(cvRound(at.x()), cvRound(at.y())))) ++visits;
    }
    if (visits >= fewest) continue;
    fewest = visits;
    panel_x_px_ = place.x;
    panel_y_px_ = place.y;
    panel_width_px_ = place.width;
    panel_height_px_ = place.height;
  }
}

void OverlayPainter::draw_trail(cv::Mat& bgr, double t_s) const {
  const auto& samples = record_.arm.angles.samples;
  const double back_s = kTrail_s * std::max(1.0, record_.measurement.capture_rate_ratio);
  auto sample = std::lower_bound(
      samples.begin(), samples.end(), t_s - back_s, [](const AngleSample& each, double from) {
        return each.t_s < from;
      });
  std::optional<cv::Point> before;
  for (; sample != samples.end() && sample->t_s <= t_s; ++sample) {
    const auto end_px =
        arm_in_picture(record_, sample->frame, sample->t_s, near_blow(sample->t_s, kInTouch_s))
            .end_px;
    if (!end_px) continue;
    const Eigen::Vector2d at = on_picture(*end_px);
    const cv::Point now(cvRound(at.x()), cvRound(at.y()));
    const double age = (t_s - sample->t_s) / back_s;
    const int width_px =
        std::max(1, static_cast<int>(std::lround(4.0 * thin_px_ * (1.0 - age))));
    if (before) cv::line(bgr, *before, now, kTrailColour, width_px, cv::LINE_AA);
    before = now;
  }
}

void OverlayPainter::draw_moving_arm(cv::Mat& bgr, int frame, double t_s) const {
  const ArmInPicture arm = arm_in_picture(record_, frame, t_s, near_blow(t_s, kInTouch_s));
  if (!arm.end_px) return;
  const Eigen::Vector2d end = on_picture(*arm.end_px);
  draw_arm(bgr, on_picture(record_.arm.view.axle_px), end, thin_px_);
  if (!near_blow(t_s, kFlash_s)) return;
  cv::circle(bgr,
             {cvRound(end.x()), cvRound(end.y())},
             18 * thin_px_,
             kFlashColour,
             3 * thin_px_,
             cv::LINE_AA);
}

/// From rest, positive on the release side; a dash where the arm was not followed.
std::string OverlayPainter::angle_now(int frame, double t_s) const {
  const ArmInPicture arm = arm_in_picture(record_, frame, t_s, near_blow(t_s, kInTouch_s));
  const auto& angle_rad = arm.fitted_rad ? arm.fitted_rad : arm.measured_rad;
  return angle_rad ? fixed_words(*angle_rad * 180.0 / kPi, 1) + "°" : "-";
}

void OverlayPainter::draw_panel(cv::Mat& bgr,
                                int frame,
                                double t_s,
                                const std::string& speed) const {
  shade(bgr, {panel_x_px_, panel_y_px_, panel_width_px_, panel_height_px_});
  const double capital_px = kCapital * row_px_;
  const int left = panel_x_px_ + static_cast<int>(0.5 * row_px_);
  double base_px = panel_y_px_ + 1.05 * row_px_;
  const auto line = [&](const std::string& name, const std::string& words) {
    const int y = cvRound(base_px);
    draw_words(bgr, name, {left, y}, capital_px, kFaint);
    draw_words(bgr, words, {left + static_cast<int>(kNames * row_px_), y}, capital_px, kLight);
    base_px += row_px_;
  };
  if (!title_.empty()) {
    draw_words(bgr, title_, {left, cvRound(base_px)}, capital_px, kLight);
    base_px += row_px_;
  }
  line(speed.empty() ? "time" : speed, fixed_text(t_s, 3) + " s");
  line("angle", angle_now(frame, t_s));
  for (const ReadOut& each : lines_) line(each.name, t_s >= each.from_s ? each.words : "-");
}

void OverlayPainter::draw_foot(cv::Mat& bgr) const {
  if (foot_.empty()) return;
  const auto lines = static_cast<double>(foot_.size());
  const int top = bgr.rows - static_cast<int>((lines + 0.6) * row_px_);
  shade(bgr, {0, top, bgr.cols, bgr.rows - top});
  double base_px = top + 1.0 * row_px_;
  for (const std::string& words : foot_) {
    draw_words(bgr, words, {cvRound(row_px_), cvRound(base_px)}, kCapital * row_px_, kLight);
    base_px += row_px_;
  }
}

void OverlayPainter::paint(cv::Mat& bgr,
                           int frame,
                           double t_s,
                           const std::string& speed) const {
  draw_trail(bgr, t_s);
  draw_moving_arm(bgr, frame, t_s);
  draw_panel(bgr, frame, t_s, speed);
  draw_foot(bgr);
}

}  // namespace swingloss
