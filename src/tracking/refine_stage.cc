// SPDX-License-Identifier: Apache-2.0
#include "tracking/refine_stage.h"

#include "core/angle.h"
#include "core/median.h"
#include "tracking/all_cores.h"
#include "tracking/cell_registration.h"
#include "tracking/exposure_search.h"
#include "tracking/learn_template.h"
#include "tracking/restart_frames.h"
#include "tracking/round_dots.h"
#include "view/turned_view.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <Eigen/LU>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// No grid cell is better than this, however sharp: the arm's sides and the light are modelled
/// only so far. With the true directions of rendered clips held, edges were found off by 0.1 to
/// 0.4 px, each its own way along the swing. A dot has neither side nor shadow edge; by the
/// look alone it was found off by up to 0.5 px where the ground is bright on one side of the
/// swing.
constexpr double kCellModel_px = 0.25, kDotModel_px = 0.03, kDotLook_px = 0.15;
/// Beside two dots the grid only helps: its errors go one way in many cells.
constexpr double kCellBesideDots_px = 0.8;
/// A cell of which less than this part is believed shows something else as well (the arm's
/// side, a shadow's edge): its say falls with the square of that part.
constexpr double kBelieved = 0.4;
/// A tag's corner is read within this (blur, print, OpenCV's refinement). That is no better
/// than the grid's cells, so these keep their say beside it.
constexpr double kTagCorner_px = 0.15;

/// An edge beside which so much of the arm's side is seen may lie off by this part of it.
constexpr double kSideModel = 0.5;

/// A shadow that moves along behind an edge has soft borders, which pull the edge: by this
/// times the part of the light that it takes.
constexpr double kShadeModel_px = 3.0;

/// Cells nearer to the axle than this part of the arm say little about the angle, and the hub's
/// own parts, dial and close shadow lie there: they would pull the axle.
constexpr double kHub = 0.3;

std::vector<ArmCrop> softened(const std::vector<ArmCrop>& crops, double smooth_px) {
  std::vector<ArmCrop> out;
  out.reserve(crops.size());
  for (const ArmCrop& crop : crops) out.push_back(softened(crop, smooth_px));
  return out;
}

/// Information of a sighting whose covariance gets floor squared added in every direction.
Eigen::Matrix2d bounded(const Eigen::Matrix2d& information, double floor_px) {
  return (Eigen::Matrix2d::Identity() + floor_px * floor_px * information).inverse() *
         information;
}

/// How far a cell may be off beyond its pixels' noise.
double doubt_px(const BodyTemplate& body, const CellShift& c) {
  if (body.is_dot(c.cell)) return c.centred ? kDotModel_px : kDotLook_px;
  const double flat_px = body.dots.size() >= 2 ? kCellBesideDots_px : kCellModel_px;
  return std::hypot(flat_px, kSideModel * c.side_px, kShadeModel_px * c.shade);
}

/// What a cell's place in one frame is worth [px^-2].
Eigen::Matrix2d worth_of(const BodyTemplate& body, const CellShift& c) {
  const double part = std::min(1.0, c.weight / kBelieved);
  return bounded(part * part * c.information, doubt_px(body, c));
}

/// Cells seen in enough frames become points of the bundle; returns the cell of each point.
std::vector<int> add_points(const RegistrationScene& scene,
                            const std::vector<FrameRegistration>& frames,
                            SingleAxisProblem& problem) {
  struct Seen {
    Eigen::Vector2d sum = Eigen::Vector2d::Zero();
    double weight = 0.0;
    std::size_t count = 0;
  };
  std::map<int, Seen> by_cell;
  for (const FrameRegistration& f : frames) {
    for (const CellShift& c : f.cells) {
      Seen& seen = by_cell[c.cell];
      const double w = c.information.trace();
      seen.sum += w * c.body_px;
      seen.weight += w;
      ++seen.count;
    }
  }
  std::vector<int> cell_of_point;
  for (const auto& [cell, seen] : by_cell) {
    if (seen.count < std::max<std::size_t>(4, frames.size() / 8)) continue;
    const Eigen::Vector2d mean = seen.sum / seen.weight;
    if (!scene.body.is_dot(cell) && mean.norm() < kHub * scene.body.extent.ahead_px) continue;
    cell_of_point.push_back(cell);
    problem.body_px.emplace_back(
        mean.x(), mean.y(), scene.body.cell_depth_px[std::size_t(cell)]);
  }
  return cell_of_point;
}

void add_sightings(const RegistrationScene& scene,
                   const std::vector<FrameRegistration>& frames,
                   const std::vector<int>& cell_of_point,
                   SingleAxisProblem& problem) {
  std::map<int, int> point_of_cell;
  for (std::size_t p = 0; p < cell_of_point.size(); ++p)
    point_of_cell[cell_of_point[p]] = int(p);
  for (std::size_t k = 0; k < frames.size(); ++k) {
    const TurnedView turned(scene.view, scene.theta_rad[k], scene.crops[k].omega_rad_per_s);
    for (const CellShift& c : frames[k].cells) {
      const auto found = point_of_cell.find(c.cell);
      if (found == point_of_cell.end()) continue;
      // The cell's centre of information differs a little from frame to frame; carry the
      // measured shift over to the one body point that stands for the cell.
      const Eigen::Vector3d& point = problem.body_px[std::size_t(found->second)];
      const Eigen::Vector2d carried =
          c.pixel + turned.pixel_of(point) -
          turned.pixel_of({c.body_px.x(), c.body_px.y(), point.z()});
      problem.sightings.push_back({int(k), found->second, carried, worth_of(scene.body, c)});
    }
  }
}

SingleAxisOptions fit_options_of(const Stage& stage, double focal_px, bool find_readout) {
  SingleAxisOptions options;
  options.focal_prior_px = focal_px;
  options.hold_readout = !stage.depth || !find_readout;
  if (!stage.depth) options.focal_prior_log_u = 1e-5, options.depth_prior_ratio = 1e-6;
  options.hold_tilt = !stage.tilt;
  options.try_mirror = stage.mirror;
  return options;
}

void note_quality(const std::vector<FrameRegistration>& frames, RefinedArm& arm) {
  std::vector<double> misfits;
  arm.frame_score.clear();
  for (const FrameRegistration& f : frames) {
    misfits.push_back(f.agreement.residual_level);
    arm.frame_score.push_back(f.agreement.score);
  }
  arm.noise_levels = median_of(std::move(misfits));
}

/// What each frame's pixels would allow if nothing but their noise were in the way.
std::vector<double> pixel_limits(const RegistrationScene& scene,
                                 const std::vector<FrameRegistration>& frames) {
  const BodyProjection projection(scene.view);
  std::vector<double> limits_rad;
  for (std::size_t k = 0; k < frames.size(); ++k) {
    double information = 0.0;
    for (const CellShift& cell : frames[k].cells) {
      const double depth_px = scene.body.cell_depth_px[std::size_t(cell.cell)];
      const Eigen::Vector2d by_theta =
          projection({cell.body_px.x(), cell.body_px.y(), depth_px}, scene.theta_rad[k])
              .by_theta;
      information += by_theta.dot(cell.information * by_theta);
    }
    limits_rad.push_back(information > 0.0 ? 1.0 / std::sqrt(information) : kPi);
  }
  return limits_rad;
}

}  // namespace

cv::Mat light_behind(const cv::Mat& background, double smooth_px, const CameraCurve& curve) {
  if (smooth_px <= 0.0) return curve.light_of(background);
  cv::Mat soft;  // not in place: the background is wanted sharp in later stages
  cv::GaussianBlur(background, soft, {}, smooth_px);
  return curve.light_of(soft);
}

std::optional<Failure> run_stage(const Stage& stage,
                                 const std::vector<ArmCrop>& crops,
                                 const cv::Mat& background,
                                 double focal_prior_px,
                                 RefinedArm& arm) {
  const std::vector<ArmCrop> now = softened(crops, stage.smooth_px);
  const cv::Mat behind = light_behind(background, stage.smooth_px, arm.body.curve);
  // A third of a frame is a fair guess until it is found: it only chooses which frames to learn
  // from.
  const double learning_exposure_s = arm.exposure_known ? arm.exposure_s : 0.005;
  arm.body = learn_template(
      arm.body, {now, arm.fit.theta_rad, arm.fit.view, behind, learning_exposure_s});
  centre_dots(arm.body);
  RegistrationScene scene{now,
                          behind,
                          arm.body,
                          arm.fit.view,
                          arm.fit.theta_rad,
                          {arm.exposure_s,
                           stage.outlier_levels,
                           stage.smooth_px > 1.0 ? 2 : 1,
                           stage.reach_px,
                           stage.smooth_px <= 0.0}};
  if (stage.exposure) {
    scene.options.exposure_s = arm.exposure_s = find_exposure(scene, arm.frame_score);
    arm.exposure_known = true;
  }
  std::vector<FrameRegistration> frames = register_all(scene);
  note_quality(frames, arm);
  if (stage.restart) {
    const std::vector<double> restarted_rad = restart_frames(scene, arm.frame_score);
    on_all_cores(frames.size(), [&](std::size_t k) {
      if (restarted_rad[k] != arm.fit.theta_rad[k])
        frames[k] = register_one(scene, k, restarted_rad[k]);
    });
    arm.fit.theta_rad = restarted_rad;
    note_quality(frames, arm);
  }

  arm.pixel_limit_rad = pixel_limits(scene, frames);
  SingleAxisProblem problem{arm.fit.view, arm.fit.theta_rad, {}, {}, {}};
  for (const ArmCrop& crop : now) problem.omega_rad_per_s.push_back(crop.omega_rad_per_s);
  const std::vector<int> cell_of_point = add_points(scene, frames, problem);
  if (problem.body_px.size() < 3) {
    return Failure{"no-arm-texture",
                   "the moving arm shows too few edges to be followed",
                   "use more light, or put two round dots on the arm"};
  }
  add_sightings(scene, frames, cell_of_point, problem);
  if (arm.tag) add_tag(*arm.tag, kTagCorner_px, problem);
  const Result<SingleAxisFit> fit =
      fit_single_axis(problem, fit_options_of(stage, focal_prior_px, arm.find_readout));
  if (!fit.ok()) return fit.failure();
  arm.fit = fit.value();
  std::fill(arm.body.cell_depth_px.begin(), arm.body.cell_depth_px.end(), 0.0);
  for (std::size_t p = 0; p < cell_of_point.size(); ++p) {
    arm.body.cell_depth_px[std::size_t(cell_of_point[p])] = arm.fit.body_px[p].z();
  }
  return std::nullopt;
}

}  // namespace swingloss
