// SPDX-License-Identifier: Apache-2.0
/// \file exposure.h
/// What the moving bodies do to a picture during one exposure.
#pragma once

#include "render/actors.h"
#include "render/spans.h"
#include "render/stage.h"

#include <cstdint>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// When rows of a frame see light.
struct Shutter {
  double middle_s = 0.0;  ///< middle of the exposure, of the picture's middle row
  double exposure_s = 0.0;
  double readout_s = 0.0;  ///< bottom row later than top row by this

  /// Middle of the exposure of a row, or of a band of rows by its middle.
  /// \param row  from 0 \param rows  of the picture
  [[nodiscard]] double row_s(double row, int rows) const {
    return middle_s + (row - 0.5 * (rows - 1)) / rows * readout_s;
  }
};

/// Light of moving bodies over one exposure, added up at a number of instants spread evenly and
/// symmetrically about its middle: at least 8, and one for every pixel that the arm's end
/// moves. At each instant the bodies are drawn with depth at 4 point samples to the pixel and
/// their shadows with 4 points of the lamp; samples and lamp points differ from instant to
/// instant, so that a frame has at least 32 of each.
class Exposure {
 public:
  Exposure(const Design& design, const Actors& actors, bool shadow);

  /// Draws one exposure before a stage. Keeps its buffers from frame to frame.
  void take(const Stage& stage, const Shutter& shutter);

  /// Columns of a row that differ from the stage: begin >= end when none.
  struct Extent {
    int begin = 1 << 30, end = 0;
    void include(int first, int last);
  };
  [[nodiscard]] const Extent& touched(int row) const {
    return touched_[static_cast<std::size_t>(row)];
  }
  /// Linear light of a touched pixel.
  [[nodiscard]] Colour light(const Stage& stage, int row, int column) const;

 private:
  static constexpr int kSide = 2;        ///< samples along either side of a pixel
  static constexpr int kLampPoints = 4;  ///< at each instant
  struct Paint {
    Colour fixed, lit;
    float base = 0.0F, by_x = 0.0F, by_y = 0.0F;  ///< lamp factor over the picture
  };
  struct Run {
    int row = 0, begin = 0, end = 0;  ///< samples
    double depth_at_left = 0.0, depth_by_column = 0.0;
  };
  struct LampPoint {
    cv::Vec3d place_m;
    int mark = 1;  ///< its number among those of the instant, from 1
  };
  struct Sum {
    Colour light{0.0F, 0.0F, 0.0F};
    float covered = 0.0F, shadowed = 0.0F;
  };

  void fit_to(const Pinhole& camera);
  void draw_instant(const Stage& stage, const Shutter& shutter, int instant, cv::Vec2i rows);
  [[nodiscard]] double time_at(const Shutter& shutter, int instant, cv::Vec2i rows) const;
  [[nodiscard]] bool may_reach(const Pinhole& camera, const Posed& posed, cv::Vec2i rows) const;
  void draw_body(const Pinhole& camera, const Posed& posed);
  void fill_run(const Run& run, std::uint16_t paint);
  void draw_shadows(const Stage& stage,
                    const std::vector<Posed>& bodies,
                    int instant,
                    cv::Vec2i rows);
  void draw_shadow(const Stage& stage,
                   const Posed& body,
                   const LampPoint& lamp,
                   const SampleGrid& grid);
  void shade_run(const Run& run,
                 const std::uint8_t* receiver,
                 std::uint8_t wanted,
                 std::uint8_t mark);
  void shade_pixel(int row, int column, std::uint8_t mark);
  void gather(cv::Vec2i rows);
  void gather_pixel(int row, int column);
  [[nodiscard]] Paint paint_of(const Pinhole& camera, const Face& face) const;
  [[nodiscard]] std::size_t pixel_at(int row, int column) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(width_px_) +
           static_cast<std::size_t>(column);
  }

  const Design& design_;
  const Actors& actors_;
  bool shadow_ = true;
  std::vector<cv::Vec3d> lamp_points_;
  int width_px_ = 0, height_px_ = 0;
  SampleGrid grid_;           ///< of the instant being drawn
  std::vector<float> depth_;  ///< of samples
  std::vector<std::uint16_t> paint_index_;
  std::vector<std::uint8_t> shadow_count_, shadow_stamp_;  ///< of pixels
  std::vector<Paint> paints_;
  std::vector<Extent> instant_;  ///< of rows of pixels, at one instant
  std::vector<Extent> touched_;
  std::vector<Sum> sums_;
  float instants_ = 1.0F;
};

}  // namespace swingloss::render
