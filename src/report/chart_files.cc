// SPDX-License-Identifier: Apache-2.0
#include "report/chart_files.h"

#include "report/inline_svg.h"
#include "report/run_gnuplot.h"

namespace swingloss {
namespace {

/// false, and true where asked for.
std::vector<bool> choices(bool with_second) {
  return with_second ? std::vector<bool>{false, true} : std::vector<bool>{false};
}

std::string on_dark_ground(std::string script) {
  for (const Swatch& swatch : all_swatches()) {
    const std::string light = script_colour(swatch);
    const std::string dark = std::string("rgb \"") + swatch.dark + "\"";
    for (std::size_t at = script.find(light); at != std::string::npos;
         at = script.find(light, at + dark.size()))
      script.replace(at, light.size(), dark);
  }
  return script;
}

Canvas on_ground(Canvas canvas, bool dark, bool transparent) {
  canvas.dark = dark;
  canvas.transparent = transparent;
  return canvas;
}

}  // namespace

std::vector<ChartFile> chart_files(int svg_width_px,
                                   int svg_height_px,
                                   const ChartExtras& extras) {
  std::vector<ChartFile> files;
  for (const bool dark : choices(extras.dark)) {
    for (const bool transparent : choices(extras.transparent)) {
      const std::string ground =
          std::string(dark ? "-dark" : "") + (transparent ? "-transparent" : "");
      const Canvas svg = {
          CanvasKind::SvgFile, svg_width_px, svg_height_px, 18.0, false, false, false};
      files.push_back({ground + ".svg", on_ground(svg, dark, transparent)});
      for (const bool uhd : choices(extras.uhd))
        files.push_back({(uhd ? "-4k" : "") + ground + ".png",
                         on_ground(uhd ? uhd_canvas() : video_canvas(), dark, transparent)});
    }
  }
  return files;
}

std::string draw_chart(const std::string& script,
                       const Canvas& canvas,
                       const std::string& gnuplot) {
  const std::string picture =
      run_gnuplot(canvas.dark ? on_dark_ground(script) : script, gnuplot);
  return canvas.kind == CanvasKind::SvgFile ? mended_svg(picture) : picture;
}

}  // namespace swingloss
