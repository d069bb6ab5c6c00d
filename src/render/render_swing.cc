// SPDX-License-Identifier: Apache-2.0
#include "render/render_swing.h"

#include "render/render_clip.h"

namespace swingloss {

RenderTruth render_swing(const RenderScene& scene, const std::string& path) {
  return render::render_clip(render::Studio(scene), scene, path);
}

}  // namespace swingloss
