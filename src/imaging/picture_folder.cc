// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_folder.h"

#include "core/input_error.h"
#include "imaging/frame_pixels.h"
#include "imaging/stored_picture.h"

#include <cmath>
#include <filesystem>
#include <utility>

extern "C" {
#include <libavutil/frame.h>
}

namespace swingloss {
namespace {

std::string file_name(const std::string& path) {
  return std::filesystem::path(path).filename().string();
}

std::string size_text(int width_px, int height_px) {
  return std::to_string(width_px) + " x " + std::to_string(height_px) + " pixels";
}

class PictureFolder final : public FrameSource {
 public:
  PictureFolder(const std::string& folder, const ReadOptions& options)
      : folder_(folder), options_(options), pictures_(numbered_pictures(folder)) {
    if (!std::isfinite(options.picture_rate_per_s) || options.picture_rate_per_s <= 0.0) {
      throw InputError({folder,
                        "picture rate",
                        std::to_string(options.picture_rate_per_s),
                        "pictures per second, above 0",
                        "State how fast the pictures were taken."});
    }
    silence_libav();
    first_ = decode_next();
    if (!first_) {
      throw InputError({folder,
                        "",
                        "pictures of which none can be decoded (" + first_fault_ + ")",
                        "at least one readable picture",
                        "Copy them from the camera again."});
    }
    describe(*first_);
  }

  std::optional<Frame> next() override;
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override;

 private:
  struct Decoded {
    Frame frame;
    std::string format, name;
    PictureTurn turn;
  };
  std::optional<Decoded> decode_next();
  Decoded decoded(const NumberedPicture& picture, const StoredPicture& stored);
  void describe(const Decoded& first);

  std::string folder_;
  ReadOptions options_;
  std::vector<NumberedPicture> pictures_;
  std::size_t at_ = 0;
  std::optional<Decoded> first_;
  std::optional<long> first_place_;
  ClipInfo info_;
  FramePixels pixels_;
  int delivered_ = 0, damaged_ = 0;
  std::string first_fault_;
};

std::optional<PictureFolder::Decoded> PictureFolder::decode_next() {
  while (at_ < pictures_.size()) {
    const NumberedPicture& picture = pictures_[at_++];
    const Result<StoredPicture> stored = decode_picture(picture.path, file_bytes(picture.path));
    if (stored.ok()) return decoded(picture, stored.value());
    ++damaged_;
    if (!first_fault_.empty()) continue;
    first_fault_ = file_name(picture.path) + ": " + stored.failure().cause;
  }
  return std::nullopt;
}

PictureFolder::Decoded PictureFolder::decoded(const NumberedPicture& picture,
                                              const StoredPicture& stored) {
  Decoded out;
  if (!first_place_) first_place_ = picture.place;
  out.frame.t_s =
      static_cast<double>(picture.place - *first_place_) / options_.picture_rate_per_s;
  out.frame.luma = turned(pixels_.luma(*stored.frame), stored.turn);
  if (options_.colour) out.frame.bgr = turned(pixels_.bgr(*stored.frame), stored.turn);
  out.format = stored.format;
  out.name = file_name(picture.path);
  out.turn = stored.turn;
  return out;
}

void PictureFolder::describe(const Decoded& first) {
  info_.width_px = first.frame.luma.cols;
  info_.height_px = first.frame.luma.rows;
  info_.nominal_rate_per_s = options_.picture_rate_per_s;
  info_.time_source = TimeSource::NominalRate;
  info_.rotation_deg = first.turn.rotation_deg();
  info_.mirrored = first.turn.mirrored();
  info_.expected_frames = static_cast<int>(pictures_.size());
  info_.codec = first.format;
  info_.container = "folder";
}

std::optional<Frame> PictureFolder::next() {
  std::optional<Decoded> decoded = first_ ? std::exchange(first_, std::nullopt) : decode_next();
  if (!decoded) return std::nullopt;
  const cv::Mat& luma = decoded->frame.luma;
  if (luma.cols != info_.width_px || luma.rows != info_.height_px) {
    throw InputError({folder_,
                      decoded->name,
                      size_text(luma.cols, luma.rows),
                      size_text(info_.width_px, info_.height_px) + ", as the first picture has",
                      "All pictures of a clip must have one size; export them again."});
  }
  decoded->frame.index = delivered_++;
  return std::move(decoded->frame);
}

Remarks PictureFolder::remarks() const {
  Remarks out;
  if (damaged_ > 0) {
    out.push_back({"clip-damaged",
                   Severity::Warning,
                   std::to_string(damaged_) +
                       " pictures of the folder were left out; the first: " + first_fault_ +
                       "."});
  }
  const auto places = pictures_.back().place + 1;
  const auto missing = places - static_cast<long>(pictures_.size());
  if (missing > 0) {
    out.push_back({"pictures-missing",
                   Severity::Note,
                   std::to_string(missing) +
                       " numbers are missing in the folder; the time of the others keeps their "
                       "places free."});
  }
  return out;
}

}  // namespace

std::unique_ptr<FrameSource> open_picture_folder(const std::string& folder,
                                                 const ReadOptions& options) {
  return std::make_unique<PictureFolder>(folder, options);
}

}  // namespace swingloss
