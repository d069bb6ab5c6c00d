// SPDX-License-Identifier: Apache-2.0
#include "surface/appearance.h"

#include "support/test.h"
#include "surface/face_photos.h"
#include "surface/judge.h"

#include <cmath>
#include <random>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;

namespace {

FacePatch patch_of(const cv::Mat& photo) {
  const PlanePicture plane = without_scale(photo);
  const double right = plane.bgr.cols - 1.0;
  const double low = plane.bgr.rows - 1.0;
  return cut_patch(plane, {{{0, 0}, {right, 0}, {right, low}, {0, low}}}, 0.0);
}

/// Only surface, filling the picture.
cv::Mat face_photo(FaceKind kind, std::uint64_t seed) {
  FaceLook look = random_face(kind, seed);
  look.notch_depth_m = 0.0;
  const FacePicture face = picture_of(look, FaceLight(), 40000.0);
  cv::Mat photo(face.light.size(), CV_8UC3);
  for (int row = 0; row < photo.rows; ++row) {
    for (int column = 0; column < photo.cols; ++column) {
      for (int k = 0; k < 3; ++k) {
        const float linear = 0.8F * face.light.at<cv::Vec3f>(row, column)[k];
        const float level = linear <= 0.0031308F
                                ? 12.92F * linear
                                : 1.055F * std::pow(linear, 1.0F / 2.4F) - 0.055F;
        photo.at<cv::Vec3b>(row, column)[k] = cv::saturate_cast<unsigned char>(255.0F * level);
      }
    }
  }
  const int margin = photo.cols / 4;
  return photo(cv::Rect(margin, margin, photo.cols - 2 * margin, photo.rows - 2 * margin))
      .clone();
}

/// Light times a gain a channel, through the display curve.
cv::Mat with_gains(const cv::Mat& photo, double blue, double green, double red) {
  cv::Mat linear = linear_light(photo);
  cv::multiply(linear, cv::Scalar(blue, green, red), linear);
  cv::Mat out(photo.size(), CV_8UC3);
  for (int row = 0; row < out.rows; ++row) {
    for (int column = 0; column < out.cols; ++column) {
      for (int k = 0; k < 3; ++k) {
        const float x = linear.at<cv::Vec3f>(row, column)[k];
        const float level =
            x <= 0.0031308F ? 12.92F * x : 1.055F * std::pow(x, 1.0F / 2.4F) - 0.055F;
        out.at<cv::Vec3b>(row, column)[k] = cv::saturate_cast<unsigned char>(255.0F * level);
      }
    }
  }
  return out;
}

/// How far features moved, in the units of how they differ from face to face.
double moved(const Appearance& a, const Appearance& b, const Eigen::VectorXd& scale) {
  const auto x = features_of(a);
  const auto y = features_of(b);
  double sum = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double off = x[i].value_or(0.0) - y[i].value_or(0.0);
    sum += std::pow(off / scale[Eigen::Index(i)], 2) / double(x.size());
  }
  return std::sqrt(sum);
}

Eigen::VectorXd usual_scatter() {
  std::vector<Features> all;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    all.push_back(
        features_of(look_of(patch_of(face_photo(static_cast<FaceKind>(seed % 3), seed)))));
  }
  Eigen::VectorXd scale(Eigen::Index(all.front().size()));
  for (Eigen::Index j = 0; j < scale.size(); ++j) {
    double mean = 0.0;
    double square = 0.0;
    for (const auto& f : all) mean += f[std::size_t(j)].value_or(0.0) / double(all.size());
    for (const auto& f : all)
      square += std::pow(f[std::size_t(j)].value_or(0.0) - mean, 2) / double(all.size());
    scale[j] = std::max(0.02, std::sqrt(square));
  }
  return scale;
}

cv::Mat stripes(double pitch_px, double angle_rad, int side = 180) {
  cv::Mat out(side, side, CV_32FC1);
  for (int row = 0; row < side; ++row) {
    for (int column = 0; column < side; ++column) {
      const double s = column * std::cos(angle_rad) + row * std::sin(angle_rad);
      out.at<float>(row, column) = float(0.2 * std::sin(2.0 * CV_PI * s / pitch_px));
    }
  }
  return out;
}

}  // namespace

TEST_CASE("exposure, white balance, turn, scale and mild blur leave the look alone",
          "[surface]") {
  const Eigen::VectorXd scale = usual_scatter();
  for (const FaceKind kind : {FaceKind::Brittle, FaceKind::Mixed, FaceKind::Ductile}) {
    const cv::Mat photo = face_photo(kind, 40 + std::uint64_t(kind));
    const Appearance look = look_of(patch_of(photo));
    CAPTURE(int(kind));
    // Half a usual scatter between faces, root mean square over the features, would begin to
    // matter to a verdict; rounding to 8 bits and resampling make a part of that.
    CHECK(moved(look, look_of(patch_of(with_gains(photo, 0.6, 0.6, 0.6))), scale) < 0.25);
    CHECK(moved(look, look_of(patch_of(with_gains(photo, 0.7, 0.9, 1.05))), scale) < 0.35);
    cv::Mat turned;
    cv::rotate(photo, turned, cv::ROTATE_180);
    CHECK(moved(look, look_of(patch_of(turned)), scale) < 0.2);
    cv::Mat smaller;
    cv::resize(photo, smaller, {}, 0.7, 0.7, cv::INTER_AREA);
    CHECK(moved(look, look_of(patch_of(smaller)), scale) < 0.35);
    cv::Mat blurred;
    cv::GaussianBlur(photo, blurred, {}, 0.8);
    CHECK(moved(look, look_of(patch_of(blurred)), scale) < 0.35);
  }
}

TEST_CASE("even_lines finds pitch and way of stripes, and none in noise", "[surface][truth]") {
  for (const double angle : {0.0, 0.6, 1.2, CV_PI / 2.0}) {
    CAPTURE(angle);
    const EvenLines lines = even_lines(stripes(12.0, angle));
    // A sine at its own pitch correlates fully; half a pixel and 5 degrees are the search's
    // steps.
    CHECK(lines.strength > 0.7);
    CHECK_THAT(lines.pitch_px, test::to_truncation(12.0, 0.8));
    CHECK_THAT(lines.angle_rad, test::to_truncation(angle, 0.09));
  }
  cv::Mat noise(180, 180, CV_32FC1);
  std::mt19937 random(3);
  std::normal_distribution<float> normal(0.0F, 0.2F);
  for (float& value : cv::Mat_<float>(noise)) value = normal(random);
  cv::GaussianBlur(noise, noise, {}, 2.0);
  CHECK(even_lines(noise).strength < 0.25);
}

TEST_CASE("a lighter part is found with its share and step, and not invented",
          "[surface][truth]") {
  FacePatch patch;
  patch.brightness = cv::Mat::zeros(180, 180, CV_32FC1);
  std::mt19937 random(5);
  std::normal_distribution<float> normal(0.0F, 0.05F);
  for (int row = 0; row < 180; ++row) {
    for (int column = 0; column < 180; ++column) {
      patch.brightness.at<float>(row, column) = normal(random) + (column < 54 ? 0.5F : 0.0F);
    }
  }
  patch.red_ratio = cv::Mat::zeros(180, 180, CV_32FC1);
  patch.blue_ratio = cv::Mat::zeros(180, 180, CV_32FC1);
  patch.red_ratio(cv::Rect(0, 0, 54, 180)).setTo(-0.3F);
  const LightPart part = light_part(patch);
  // The border is smoothed over a few pixels of 180.
  CHECK_THAT(part.share, test::to_truncation(0.3, 0.03));
  CHECK_THAT(part.step, test::to_truncation(0.5, 0.06));
  CHECK_THAT(part.chroma_drop, test::to_truncation(0.3, 0.03));
  for (int row = 0; row < 180; ++row) {
    for (int column = 0; column < 180; ++column) {
      patch.brightness.at<float>(row, column) = normal(random) + 0.003F * float(column);
    }
  }
  CHECK(light_part(patch).mask.empty());
}

TEST_CASE("band_roughness of a wave is what its spectrum says", "[surface][truth]") {
  // A wave of amplitude a and length L, blurred by s, keeps a exp(-2 pi^2 s^2 / L^2) (the
  // Fourier transform of a Gaussian); rms is amplitude / sqrt(2). Borders mirror, so a part of
  // the rim is off.
  const double length = 12.0;
  const double kept = std::exp(-2.0 * CV_PI * CV_PI * 1.0 / (length * length)) -
                      std::exp(-2.0 * CV_PI * CV_PI * 4.0 / (length * length));
  const double roughness = band_roughness(stripes(length, 0.0), 1.0, 2.0);
  CHECK_THAT(roughness, test::to_truncation(0.2 * kept / std::sqrt(2.0), 0.05 * 0.2 * kept));
}

TEST_CASE("sides that are drawn in say so, and sides that are anywhere say nothing",
          "[surface]") {
  // A bar 100 px wide and 200 px long, notch on top 40 px deep; 4 px narrower at the root.
  SectionShape shape;
  shape.notch_found = true;
  shape.notch_depth_px = 40.0;
  shape.sides[1] = {{100.0, 100.0}, {0.0, 1.0}, 0.1, {100.0, 0.0}, {100.0, 200.0}, {}};
  shape.sides[3] = {{0.0, 100.0}, {0.0, -1.0}, 0.1, {0.0, 200.0}, {0.0, 0.0}, {}};
  std::mt19937 random(3);
  std::normal_distribution<double> normal;
  const auto with_points = [&](double scatter_px) {
    for (const std::size_t side : {1U, 3U}) {
      shape.sides[side].points.clear();
      for (int y = 0; y < 200; ++y) {
        const bool at_root = y >= 40 && y < 60;
        const double along_px = side == 1 ? y - 100.0 : 100.0 - y;
        shape.sides[side].points.push_back(
            {along_px, (at_root ? -2.0 : 0.0) + scatter_px * normal(random)});
      }
    }
    return deformation_of(shape);
  };
  const OutlineDeformation drawn_in = with_points(0.5);
  REQUIRE(drawn_in.contraction);
  // Medians of some 20 points that scatter by 0.5 px, four of them: 0.3 px of 100.
  CHECK_THAT(*drawn_in.contraction, test::to_uncertainty(0.04, 0.003));
  // Likewise.
  CHECK_THAT(*drawn_in.swelling, test::to_uncertainty(0.0, 0.003));
  CHECK_FALSE(with_points(12.0).contraction);
}
