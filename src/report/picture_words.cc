// SPDX-License-Identifier: Apache-2.0
#include "report/picture_words.h"

#include "report/escape.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;
constexpr double kCapitalAtScaleOne_px = 21.0;  ///< of this font
constexpr char kDegree = '\x01', kPlusMinus = '\x02';

/// One byte a character: ASCII, and the two signs that the font lacks.
std::string drawable(const std::string& words) {
  static const std::array<std::pair<const char*, char>, 6> kKnown = {{{"°", kDegree},
                                                                      {"±", kPlusMinus},
                                                                      {"\u2212", '-'},
                                                                      {"\u00A0", ' '},
                                                                      {"\u202F", ' '},
                                                                      {"\u2009", ' '}}};
  const std::string clean = clean_text(words);
  std::string text;
  std::size_t at = 0;
  while (at < clean.size()) {
    if (static_cast<unsigned char>(clean[at]) < 0x80U) {
      text += clean[at++];
      continue;
    }
    std::size_t end = at + 1;
    while (end < clean.size() && (static_cast<unsigned char>(clean[end]) & 0xC0U) == 0x80U)
      ++end;
    const std::string sign = clean.substr(at, end - at);
    const auto known = std::find_if(
        kKnown.begin(), kKnown.end(), [&](const auto& pair) { return sign == pair.first; });
    text += known == kKnown.end() ? '?' : known->second;
    at = end;
  }
  return text;
}

/// Lays out signs and runs of letters, and draws them where there is a picture to draw on.
class Line {
 public:
  Line(cv::Mat* bgr, cv::Point start, double capital_px, const cv::Scalar& colour)
      : bgr_(bgr),
        at_(start),
        scale_(capital_px / kCapitalAtScaleOne_px),
        capital_px_(static_cast<int>(std::lround(capital_px))),
        thin_px_(std::max(1, static_cast<int>(std::lround(capital_px / 12.0)))),
        colour_(colour) {}

  /// \return x of the right end
  int write(const std::string& text) {
    std::string run;
    for (const char letter : text) {
      if (letter != kDegree && letter != kPlusMinus) {
        run += letter;
        continue;
      }
      letters(std::exchange(run, {}));
      if (letter == kDegree) degree();
      if (letter == kPlusMinus) plus_minus();
    }
    letters(run);
    return at_.x;
  }

 private:
  void letters(const std::string& run) {
    if (run.empty()) return;
    int below = 0;
    const cv::Size size = cv::getTextSize(run, kFont, scale_, thin_px_, &below);
    if (bgr_ != nullptr)
      cv::putText(*bgr_, run, at_, kFont, scale_, colour_, thin_px_, cv::LINE_AA);
    at_.x += size.width;
  }
  void degree() {
    const int radius = std::max(2, capital_px_ / 5);
    const cv::Point centre(at_.x + 2 * radius, at_.y - capital_px_ + radius);
    if (bgr_ != nullptr) cv::circle(*bgr_, centre, radius, colour_, thin_px_, cv::LINE_AA);
    at_.x += 4 * radius;
  }
  void plus_minus() {
    const int half = std::max(3, capital_px_ * 2 / 5);
    const cv::Point middle(at_.x + half, at_.y - capital_px_ * 11 / 20);
    const auto stroke = [&](const cv::Point& from, const cv::Point& to) {
      if (bgr_ != nullptr) cv::line(*bgr_, from, to, colour_, thin_px_, cv::LINE_AA);
    };
    stroke({middle.x - half, middle.y}, {middle.x + half, middle.y});
    stroke({middle.x, middle.y - half}, {middle.x, middle.y + half});
    stroke({middle.x - half, at_.y}, {middle.x + half, at_.y});
    at_.x += 2 * half + thin_px_;
  }

  cv::Mat* bgr_;
  cv::Point at_;
  double scale_;
  int capital_px_, thin_px_;
  cv::Scalar colour_;
};

}  // namespace

void draw_words(cv::Mat& bgr,
                const std::string& words,
                const cv::Point_<int>& start,
                double capital_px,
                const cv::Scalar_<double>& colour) {
  Line(&bgr, start, capital_px, colour).write(drawable(words));
}

int words_width_px(const std::string& words, double capital_px) {
  return Line(nullptr, {0, 0}, capital_px, {}).write(drawable(words));
}

}  // namespace swingloss
