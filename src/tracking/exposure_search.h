// SPDX-License-Identifier: Apache-2.0
/// \file exposure_search.h
/// All frames of a clip registered against one look, and the exposure that suits them.
#pragma once

#include "tracking/cell_registration.h"

#include <vector>

namespace swingloss {

/// What a registration works with; references to the caller's values.
struct RegistrationScene {
  const std::vector<ArmCrop>& crops;
  const cv::Mat& background;
  const BodyTemplate& body;
  const SwingView& view;
  const std::vector<double>& theta_rad;  ///< one a crop
  RegistrationOptions options;
};

/// register_frame() of one crop, in the direction given.
FrameRegistration register_one(const RegistrationScene& scene, std::size_t k, double theta_rad);

/// agreement_of_frame() likewise.
FrameAgreement agreement_of_one(const RegistrationScene& scene,
                                std::size_t k,
                                double theta_rad);

/// register_frame() over all crops, on all cores; the result does not depend on their number.
std::vector<FrameRegistration> register_all(const RegistrationScene& scene);

/// Exposure time [s] whose blur explains the fast frames best: tried from 0.5 ms upward in
/// steps of 25 %, never longer than 1/25 s or the gap between frames; 0 when no blur is best.
/// \param frame_score  one a crop, or empty: how well each agreed with the arm before
double find_exposure(const RegistrationScene& scene, const std::vector<double>& frame_score);

}  // namespace swingloss
