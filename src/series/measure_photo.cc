// SPDX-License-Identifier: Apache-2.0
#include "series/measure_photo.h"

#include "core/csv.h"
#include "core/parallel.h"
#include "imaging/still.h"

#include <filesystem>
#include <map>

namespace swingloss {
namespace {

FractureLook label_in(const CsvTable& table, std::size_t row) {
  const std::string& text = table.text(row, "label");
  for (const FractureLook look :
       {FractureLook::Brittle, FractureLook::Mixed, FractureLook::Ductile}) {
    if (text == name_of(look)) return look;
  }
  throw table.fault(row, "label", "brittle, mixed or ductile", "Write one of the three.");
}

}  // namespace

Result<SurfaceMeasurement> measure_photo(const std::string& path,
                                         const std::string& name,
                                         const AppearanceModel& model,
                                         SurfaceOptions options) {
  const Still still = read_still(path);
  if (!options.focal_35mm) options.focal_35mm = still.focal_35mm;
  return measure_surface(still.bgr, name, model, options);
}

LabelledFaces read_labels(const std::string& path, const AppearanceModel& model, int jobs) {
  const CsvTable table = read_csv(path);
  table.check_columns({"bar", "photo", "face", "label"});
  table.require_columns({"bar", "photo", "label"});
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  std::vector<std::string> photos;
  std::map<std::string, std::size_t> place;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    (void)label_in(table, row);
    const std::string& photo = table.text(row, "photo");
    if (place.emplace(photo, photos.size()).second) photos.push_back(photo);
  }
  std::vector<Result<SurfaceMeasurement>> measured(photos.size(), Failure{});
  for_each_index(photos.size(), jobs, [&](std::size_t i) {
    measured[i] = measure_photo((folder / photos[i]).string(), photos[i], model);
  });
  LabelledFaces out;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    const std::string& photo = table.text(row, "photo");
    const auto& surface = measured[place.at(photo)];
    const double face = table.optional_number(row, "face").value_or(1.0);
    if (!surface.ok()) {
      out.left_out.push_back(
          {surface.failure().code, Severity::Warning, photo + ": " + surface.failure().cause});
      continue;
    }
    if (face < 1.0 || face > double(surface.value().faces.size())) {
      out.left_out.push_back({"no-such-face",
                              Severity::Warning,
                              photo + ": face " +
                                  table.optional_text(row, "face").value_or("1") + " of " +
                                  std::to_string(surface.value().faces.size())});
      continue;
    }
    const FaceMeasures& seen = surface.value().faces[std::size_t(face) - 1];
    out.faces.push_back(
        {table.text(row, "bar"), features_of(seen.appearance), label_in(table, row)});
  }
  return out;
}

}  // namespace swingloss
