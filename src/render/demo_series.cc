// SPDX-License-Identifier: Apache-2.0
#include "render/demo_series.h"

#include "core/csv.h"
#include "core/expects.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "render/demo_faces.h"
#include "render/render_clip.h"
#include "render/truth_json.h"

#include <filesystem>
#include <iomanip>
#include <sstream>

#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

constexpr const char* kLabel = "rendered demo, invented materials";
constexpr const char* kTruthFormat = "swingloss/demo-truth/1";
constexpr const char* kFreeClip = "clips/free.mp4";

/// Constants as this rig's owner measured them: not exactly the true ones, but within their u.
constexpr const char* kRigJson = R"({
  "format": "swingloss/rig/1",
  "name": "rendered demo rig",
  "note": "drawn and swung by a program; not a real instrument",
  "moment_Nm": { "value": 2.2008, "u": 0.0020 },
  "reduced_length_m": { "value": 0.3298, "u": 0.0005 },
  "strike_radius_m": { "value": 0.3302, "u": 0.0005 },
  "gravity_m_per_s2": { "value": 9.8066, "u": 0.0003 },
  "capacity_J": { "value": 3.46, "u": 0.01 }
}
)";

constexpr const char* kSeriesJson = R"({
  "format": "swingloss/series/1",
  "title": "Five groups of printed bars",
  "label": "rendered demo, invented materials",
  "rig": "rig.json",
  "standard": "ISO 180",
  "geometry": "notched bar upright in a shop vice, notch A",
  "free_swings": ["clips/free.mp4"],
  "group_by": ["material", "condition", "orientation"],
  "confidence": 0.95,
  "quantity": "strength",
  "ruler_mm": 80.0
}
)";

constexpr const char* kColumns =
    "id,material,condition,orientation,rig,clip,photos,thickness_mm,width_mm,notch,break_type,"
    "energy_J,energy_u_J,limit,mass_g,made_on,tested_on,note\n";

/// One bar that another workshop tested and could not break.
constexpr const char* kTypedRow =
    "TB1,Tallow-X,as-made,flat,3 J hammer of workshop B,,,4.00,8.01,A,N,2.90,0.03,>,3.39,"
    "2024-02-05,2024-03-12,typed: the scale ended before the bar broke\n";

std::string fixed(double value, int decimals) {
  std::ostringstream text;
  text << std::fixed << std::setprecision(decimals) << value;
  return text.str();
}

std::string clip_of(const DemoBar& bar) { return "clips/" + bar.id + ".mp4"; }

std::string photo_of(const DemoBar& bar, const DemoCards& cards) {
  return cards.dark.empty() || !demo_look(bar) ? "" : bar.id + ".jpg";
}

std::string specimens_csv(const DemoCards& cards) {
  std::string text = kColumns;
  for (const DemoBar& bar : demo_bars()) {
    const bool breaks = bar.strength_kJ_m2 > 0.0;
    const double mass_g = 1.06e-3 * 80.0 * 10.0 * bar.thickness_mm;
    text += bar.id + "," + bar.material + "," + bar.condition + ",flat,," + clip_of(bar) + "," +
            photo_of(bar, cards) + "," + fixed(bar.thickness_mm, 2) + "," +
            fixed(bar.width_mm, 2) + ",A," + (breaks ? "C" : "N") + ",,,," + fixed(mass_g, 2) +
            ",2024-02-05,2024-03-11," + bar.note + "\n";
  }
  return text + kTypedRow;
}

std::string jpeg_of(const cv::Mat& photo) {
  std::vector<unsigned char> bytes;
  cv::imencode(".jpg", photo, bytes, {cv::IMWRITE_JPEG_QUALITY, 93});
  return std::string(bytes.begin(), bytes.end());
}

void check_folder(const std::string& folder) {
  const fs::path place(folder);
  if (!fs::exists(place) || (fs::is_directory(place) && fs::is_empty(place))) return;
  // series.json is the first file written: a demo that was interrupted is known by it too.
  const fs::path series = place / "series.json";
  const bool demo =
      fs::exists(series) && read_file(series.string()).find(kLabel) != std::string::npos;
  if (demo) return;
  throw InputError({folder,
                    "",
                    fs::is_directory(place) ? "a folder with other files in it" : "a file",
                    "an empty or new folder, or an earlier demo series",
                    "Name another folder."});
}

/// Truth of the series, grown clip by clip.
class TruthRecord {
 public:
  void add_free(const RenderTruth& truth) {
    free_ = "{\"clip\": \"" + std::string(kFreeClip) + "\", " +
            swing_truth_fields(truth.swings.front(), false) + "}";
  }
  void add(const DemoBar& bar, const RenderTruth& truth, const std::string& photo) {
    const bool breaks = bar.strength_kJ_m2 > 0.0;
    bars_ +=
        std::string(bars_.empty() ? "" : ",\n    ") + "{\"id\": \"" + bar.id +
        "\", \"clip\": \"" + clip_of(bar) +
        "\", \"strength_kJ_m2\": " + (breaks ? fixed(bar.strength_kJ_m2, 1) : "null") +
        ", \"photo\": " +
        (photo.empty()
             ? "null"
             : "{\"file\": \"" + photo + "\", \"thickness_mm\": " + fixed(bar.thickness_mm, 2) +
                   ", \"width_mm\": " + fixed(bar.width_mm, 2) + ", \"look\": \"" +
                   *demo_look(bar) + "\", \"break_type\": \"C\"}") +
        ", " + swing_truth_fields(truth.swings.front(), true) + "}";
  }
  [[nodiscard]] std::string text(const RenderRig& rig) const {
    return std::string("{\n  \"format\": \"") + kTruthFormat + "\",\n  \"label\": \"" + kLabel +
           "\",\n  \"rig\": " + rig_truth_json(rig) + ",\n  \"free_swings\": [" + free_ +
           "],\n  \"bars\": [\n    " + bars_ + "\n  ]\n}\n";
  }

 private:
  std::string free_, bars_;
};

/// The folder being written.
class DemoWriter {
 public:
  DemoWriter(const std::string& folder, const DemoOptions& options)
      : folder_(folder), options_(options), studio_(set_up()) {}

  void text(const std::string& name, const std::string& bytes) {
    write_file((folder_ / name).string(), bytes);
    names_.push_back(name);
  }
  RenderTruth clip(RenderScene scene, const std::string& name) {
    scene.jobs = options_.jobs;
    const fs::path place = folder_ / name;
    RenderTruth truth = render::render_clip(studio_, scene, place.string());
    names_.push_back(name);
    ++clips_;
    if (options_.progress) options_.progress(clips_, demo_bars().size() + 1, name);
    return truth;
  }
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  [[nodiscard]] RenderScene set_up() const {
    RenderScene scene = demo_free_swing();
    scene.jobs = options_.jobs;
    return scene;
  }
  fs::path folder_;
  const DemoOptions& options_;
  render::Studio studio_;
  std::vector<std::string> names_;
  std::size_t clips_ = 0;
};

}  // namespace

std::vector<std::string> write_demo_series(const std::string& folder,
                                           const DemoOptions& options) {
  expects(options.jobs >= 1, "DemoOptions: jobs >= 1");
  check_folder(folder);
  DemoWriter writer(folder, options);
  writer.text("series.json", kSeriesJson);
  writer.text("rig.json", kRigJson);
  writer.text("specimens.csv", specimens_csv(options.cards));
  fs::create_directories(fs::path(folder) / "clips");
  fs::create_directories(fs::path(folder) / "photos");
  TruthRecord truth;
  truth.add_free(writer.clip(demo_free_swing(), kFreeClip));
  for (const DemoBar& bar : demo_bars()) {
    const std::string photo = photo_of(bar, options.cards);
    truth.add(bar, writer.clip(demo_scene(bar), clip_of(bar)), photo);
    if (photo.empty()) continue;
    writer.text("photos/" + photo,
                jpeg_of(render::photograph(demo_photo(bar, options.cards), options.jobs)));
  }
  writer.text("truth.json", truth.text(demo_free_swing().rig));
  return writer.names();
}

}  // namespace swingloss
