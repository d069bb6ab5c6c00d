// SPDX-License-Identifier: Apache-2.0
#include "imaging/still.h"

#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/made_photo.h"
#include "imaging/mp4_surgery.h"
#include "imaging/picture_structure.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <opencv2/imgcodecs.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

InputFault fault_of(const std::string& path) {
  try {
    static_cast<void>(read_still(path));
  } catch (const InputError& error) {
    return error.fault();
  }
  return {};
}

void check_refused(const ScratchFolder& scratch,
                   const std::string& bytes,
                   const std::string& why,
                   const std::string& name = "photo") {
  write_bytes(scratch.file(name), bytes);
  const InputFault fault = fault_of(scratch.file(name));
  CAPTURE(name, fault.found, why);
  CHECK(fault.found.find(why) != std::string::npos);
  CHECK_FALSE(fault.next.empty());
}

/// A soft colour chart without sharp edges, so that chroma resampling cannot matter.
cv::Mat soft_colours() {
  cv::Mat out(240, 320, CV_8UC3);
  for (int y = 0; y < out.rows; ++y) {
    for (int x = 0; x < out.cols; ++x) {
      out.at<cv::Vec3b>(y, x) = cv::Vec3b(static_cast<unsigned char>(40 + x / 2),
                                          static_cast<unsigned char>(200 - y / 2),
                                          static_cast<unsigned char>(60 + (x + y) / 4));
    }
  }
  return out;
}

}  // namespace

TEST_CASE("photographs of each kind are read", "[imaging]") {
  const ScratchFolder scratch;
  const cv::Mat picture = soft_colours();
  for (const char* ending : {".png", ".tiff", ".bmp"}) {
    CAPTURE(ending);
    const std::string path = scratch.file(std::string("photo") + ending);
    write_bytes(path, coded(ending, picture));
    const Still still = read_still(path);
    REQUIRE(still.bgr.type() == CV_8UC3);
    CHECK(cv::norm(still.bgr, picture, cv::NORM_INF) == 0.0);
  }
  write_bytes(scratch.file("photo.jpg"), coded(".jpg", picture));
  const Still jpeg = read_still(scratch.file("photo.jpg"));
  CHECK(jpeg.format == "JPEG");
  // Against another decoder of the same file (libjpeg through OpenCV): the standard leaves each
  // of brightness and two chromas about one level of freedom, weighted by up to 1.8.
  const cv::Mat other = cv::imread(scratch.file("photo.jpg"));
  CHECK_THAT(cv::norm(jpeg.bgr, other, cv::NORM_INF), to_truncation(0.0, 4.0));
}

TEST_CASE("deep, grey and transparent pictures become 8-bit colour", "[imaging]") {
  const ScratchFolder scratch;
  cv::Mat deep(32, 64, CV_16UC3), grey(32, 64, CV_8UC1), clear(32, 64, CV_8UC4);
  for (int x = 0; x < 64; ++x) {
    deep.col(x) = cv::Scalar(257 * x, 257 * 2 * x, 257 * 3 * x);
    grey.col(x) = 4 * x;
    clear.col(x) = cv::Scalar(x, 2 * x, 3 * x, 255);
  }
  for (const char* ending : {".png", ".tiff"}) {
    CAPTURE(ending);
    write_bytes(scratch.file("a"), coded(ending, deep));
    const cv::Mat from_deep = read_still(scratch.file("a")).bgr;
    write_bytes(scratch.file("a"), coded(ending, grey));
    const cv::Mat from_grey = read_still(scratch.file("a")).bgr;
    for (int x = 0; x < 64; ++x) {
      // 257 v in 16 bits is v in 8; one level for the fixed-point weights of either conversion.
      CHECK_THAT(from_deep.at<cv::Vec3b>(9, x)[2], to_truncation(3 * x, 1.0));
      CHECK_THAT(from_grey.at<cv::Vec3b>(9, x)[1], to_truncation(4 * x, 1.0));
    }
  }
  write_bytes(scratch.file("a"), coded(".png", clear));
  CHECK(read_still(scratch.file("a")).bgr.at<cv::Vec3b>(9, 40) == cv::Vec3b(40, 80, 120));
}

TEST_CASE("a damaged photograph is refused, not filled in", "[imaging]") {
  const ScratchFolder scratch;
  const cv::Mat picture = soft_colours();
  const std::string jpeg = coded(".jpg", picture), png = coded(".png", picture);
  for (const std::size_t percent : {10U, 50U, 90U, 99U}) {
    CAPTURE(percent);
    check_refused(scratch, jpeg.substr(0, jpeg.size() * percent / 100), "damaged JPEG");
    check_refused(scratch, png.substr(0, png.size() * percent / 100), "damaged PNG");
  }
  check_refused(scratch, jpeg.substr(0, jpeg.size() - 2), "before the picture is complete");
  std::string changed = png;
  changed[png.size() / 2] = static_cast<char>(changed[png.size() / 2] ^ 1);
  check_refused(scratch, changed, "check sum");
  const std::string tiff = coded(".tiff", picture);
  check_refused(scratch, tiff.substr(0, tiff.size() / 2), "damaged TIFF");
  const std::string bmp = coded(".bmp", picture);
  check_refused(scratch, bmp.substr(0, bmp.size() / 2), "damaged BMP");
}

TEST_CASE("noise in the coded data of a photograph is refused", "[imaging]") {
  const ScratchFolder scratch;
  const std::string jpeg = coded(".jpg", soft_colours());
  // The structure stays whole (no FF among the new bytes): only the decoder can object.
  std::string noisy = jpeg;
  for (std::size_t i = 0; i < 400; ++i) {
    noisy[jpeg.size() / 2 + i] = static_cast<char>(i * 89 % 251);
  }
  CHECK(picture_structure(noisy).fault.empty());
  check_refused(scratch, noisy, "damaged JPEG");
}

TEST_CASE("read_still turns a photograph upright by its EXIF tag", "[imaging]") {
  const ScratchFolder scratch;
  for (const int orientation : {1, 3, 6, 8}) {
    CAPTURE(orientation);
    const cv::Mat stored = stored_for(made_picture(77), orientation);
    write_bytes(scratch.file("a.jpg"), jpeg_with_orientation(stored, orientation, true));
    const Still still = read_still(scratch.file("a.jpg"));
    cv::Mat grey;
    cv::extractChannel(still.bgr, grey, 1);
    REQUIRE(grey.cols == kMadeWidth_px);
    CHECK(counter_in(grey) == 77);
    CHECK(still.rotation_deg == (orientation == 1   ? 0
                                 : orientation == 3 ? 180
                                 : orientation == 6 ? 90
                                                    : 270));
    CHECK_FALSE(still.mirrored);
  }
}

TEST_CASE("kinds that are not read are refused with what to do", "[imaging]") {
  const ScratchFolder scratch;
  const std::string filler(200, 'x');
  check_refused(scratch, big_endian_32(24) + "ftypheic" + filler, "HEIC");
  check_refused(scratch, big_endian_32(24) + "ftypavif" + filler, "AVIF");
  check_refused(scratch, big_endian_32(24) + "ftypcrx " + filler, "raw");
  check_refused(scratch, "FUJIFILMCCD-RAW " + filler, "raw");
  check_refused(scratch, "GIF89a" + filler, "GIF");
  check_refused(scratch, "just text", "not a picture");
  check_refused(scratch, "RIFF12", "not a picture");
  check_refused(scratch, coded(".tiff", soft_colours()), "raw", "photo.NEF");
  // A TIFF directory with the tag DNGVersion (Adobe DNG 1.4, tag 50706).
  check_refused(
      scratch,
      std::string("II*\0\x08\0\0\0\x01\0\x12\xC6\x01\0\x04\0\0\0\x01\x04\0\0\0\0\0\0", 26),
      "raw");
  CHECK(fault_of(scratch.file("none.jpg")).found == "no such file");
  write_bytes(scratch.file("empty.jpg"), "");
  CHECK(fault_of(scratch.file("empty.jpg")).found.find("empty file") != std::string::npos);
  CHECK(fault_of(scratch.file("")).found == "a folder or device");
}

TEST_CASE("an animated picture is refused", "[imaging]") {
  const ScratchFolder scratch;
  const std::string png = coded(".png", soft_colours());
  // The chunk that makes a PNG animated, before the first IDAT; its check sum is not looked at,
  // as its name begins with a small letter.
  const std::string control =
      big_endian_32(8) + "acTL" + big_endian_32(2) + big_endian_32(0) + "crc.";
  const std::size_t at = png.find("IDAT") - 4;
  check_refused(scratch, png.substr(0, at) + control + png.substr(at), "animated PNG");
  const std::string anim = std::string("VP8X\x0A\0\0\0\x02\0\0\0\x0F\0\0\x0F\0\0", 18) +
                           std::string("ANIM\x06\0\0\0\0\0\0\0\0\0", 14);
  const std::string size =
      std::string(1, static_cast<char>(anim.size() + 4)) + std::string(3, '\0');
  check_refused(scratch, "RIFF" + size + "WEBP" + anim, "animated WebP");
}

TEST_CASE("bytes after the end of a JPEG do no harm", "[imaging]") {
  // Telephones append short clips to their photographs.
  const ScratchFolder scratch;
  write_bytes(scratch.file("a.jpg"), coded(".jpg", soft_colours()) + std::string(5000, 'm'));
  CHECK(read_still(scratch.file("a.jpg")).bgr.cols == 320);
}

TEST_CASE("exif_orientation takes nothing for granted", "[imaging]") {
  CHECK(exif_orientation(picture_structure("")) == 1);
  PictureStructure odd;
  odd.exif = std::string_view("II*\0\xFF\xFF\xFF\x7F", 8);  // directory beyond the end
  CHECK(exif_orientation(odd) == 1);
  odd.exif = std::string_view("II*\0\x08\0\0\0\xFF\xFF\x12", 11);  // more entries than bytes
  CHECK(exif_orientation(odd) == 1);
}

TEST_CASE("a picture of 48 million pixels is read", "[imaging]") {
  const ScratchFolder scratch;
  const cv::Mat large(6000, 8000, CV_8UC3, cv::Scalar(30, 60, 90));
  write_bytes(scratch.file("a.jpg"), coded(".jpg", large));
  CHECK(read_still(scratch.file("a.jpg")).bgr.size() == large.size());
}

TEST_CASE("write_png writes whole files or none", "[imaging]") {
  const ScratchFolder scratch;
  const cv::Mat picture = soft_colours();
  write_png(scratch.file("a.png"), picture);
  write_png(scratch.file("b.png"), picture);
  CHECK(bytes_of(scratch.file("a.png")) == bytes_of(scratch.file("b.png")));
  CHECK(cv::norm(read_still(scratch.file("a.png")).bgr, picture, cv::NORM_INF) == 0.0);
  CHECK_THROWS_AS(write_png(scratch.file("no/such/folder.png"), picture), InputError);
  std::filesystem::create_directory(scratch.file("taken.png"));
  CHECK_THROWS_AS(write_png(scratch.file("taken.png"), picture), InputError);
  CHECK_THROWS_AS(write_png(scratch.file("c.png"), cv::Mat()), std::logic_error);
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(scratch.file(""))) {
    CHECK(entry.path().extension() == ".png");
    ++files;
  }
  CHECK(files == 3);
}
