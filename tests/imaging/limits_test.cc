// SPDX-License-Identifier: Apache-2.0
/// The smallest and the largest that is read, and small files that claim to be enormous.
#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/made_photo.h"
#include "imaging/mp4_surgery.h"
#include "imaging/picture_size.h"
#include "imaging/scratch_folder.h"
#include "imaging/still.h"
#include "imaging/stored_picture.h"
#include "support/test.h"

#include <chrono>
#include <fstream>

#include <sys/resource.h>

using namespace swingloss;
using namespace swingloss::test;
using Catch::Contains;

namespace {

cv::Mat small_picture() { return cv::Mat(24, 32, CV_8UC3, cv::Scalar(40, 120, 200)); }

/// The check sum of a PNG part. [PNG annex D], bit by bit.
std::uint32_t crc_of(const std::string& bytes) {
  std::uint32_t sum = ~0U;
  for (const char c : bytes) {
    sum ^= static_cast<unsigned char>(c);
    for (int k = 0; k < 8; ++k) sum = (sum & 1U) != 0 ? 0xEDB88320U ^ sum >> 1U : sum >> 1U;
  }
  return ~sum;
}

std::string claiming_png(std::uint32_t width, std::uint32_t height) {
  std::string bytes = coded(".png", small_picture());
  bytes.replace(16, 8, big_endian_32(width) + big_endian_32(height));
  return bytes.replace(29, 4, big_endian_32(crc_of(bytes.substr(12, 17))));
}

std::string claiming_jpeg(unsigned width, unsigned height) {
  std::string bytes = coded(".jpg", small_picture());
  const std::size_t frame = bytes.find("\xFF\xC0");
  return bytes.replace(
      frame + 5, 4, big_endian_32(static_cast<std::uint32_t>(height << 16U | width)));
}

std::string claiming_bmp(std::uint32_t width, std::uint32_t height) {
  std::string bytes = coded(".bmp", small_picture());
  for (int k = 0; k < 4; ++k) {
    bytes[18 + std::size_t(k)] = static_cast<char>(width >> (8 * k) & 0xFFU);
    bytes[22 + std::size_t(k)] = static_cast<char>(height >> (8 * k) & 0xFFU);
  }
  return bytes;
}

/// Largest memory that this program has held so far [kB].
long peak_kB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

std::string found_in(const std::string& path) {
  try {
    static_cast<void>(read_still(path));
  } catch (const InputError& error) {
    return error.what();
  }
  return "it was read";
}

std::string found_in_clip(const std::string& path) {
  try {
    const auto source = open_clip(path);
    while (source->next()) continue;
  } catch (const InputError& error) {
    return error.what();
  }
  return "it was read";
}

}  // namespace

TEST_CASE("the size of a stored picture is read without decoding it", "[imaging]") {
  const cv::Mat picture = small_picture();
  for (const char* ending : {".png", ".jpg", ".bmp", ".tiff", ".webp"}) {
    CAPTURE(ending);
    const std::string bytes = coded(ending, picture);
    const StoredSize size = stored_size(picture_structure(bytes).kind, bytes);
    CHECK(size.width_px == 32);
    CHECK(size.height_px == 24);
  }
}

TEST_CASE("a small file that claims an enormous picture is refused by its size", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("bomb");
  const long before_kB = peak_kB();
  const auto check = [&](const std::string& bytes, const std::string& size) {
    write_bytes(path, bytes);
    CHECK_THAT(found_in(path),
               Contains("bomb: found a picture of " + size + " pixels; wanted ") &&
                   Contains("250 million"));
  };
  check(claiming_png(100'000, 100'000), "100000 x 100000");
  check(claiming_png(0xFFFFFFFF, 0xFFFFFFFF), "4294967295 x 4294967295");
  check(claiming_png(15'812, 15'812), "15812 x 15812");
  check(claiming_jpeg(65'500, 65'500), "65500 x 65500");
  check(claiming_bmp(60'000, 0xFFFFFFFF - 59'999), "60000 x 60000");
  CHECK(peak_kB() - before_kB < 50'000);  // kB; one such picture would take 700 MB
}

TEST_CASE("a numbered picture that claims to be enormous is left out and named", "[imaging]") {
  const ScratchFolder scratch;
  std::filesystem::create_directories(scratch.file("clip"));
  for (const char* name : {"clip/1.png", "clip/3.png"})
    write_bytes(scratch.file(name), coded(".png", small_picture()));
  write_bytes(scratch.file("clip/2.png"), claiming_png(50'000, 50'000));
  const ReadClip clip = read_all(scratch.file("clip"));
  CHECK(clip.frames.size() == 2);
  REQUIRE(has(clip.remarks, "clip-damaged"));
  CHECK_THAT(clip.remarks.front().text, Contains("2.png: a picture of 50000 x 50000 pixels"));
}

TEST_CASE("a clip that claims enormous pictures is refused by its size", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("bomb.y4m");
  const long before_kB = peak_kB();
  write_bytes(path,
              "YUV4MPEG2 W16000 H8000 F60:1 Ip C420jpeg\nFRAME\n" + std::string(999, 'x'));
  const std::string found = found_in_clip(path);
  CAPTURE(found);
  CHECK_THAT(found, Contains("pictures of 16000 x 8000 pixels") && Contains("100 million"));
  CHECK_THAT(found, !Contains("it was read"));
  CHECK(peak_kB() - before_kB < 50'000);
}

TEST_CASE("clips of one picture, of 8K, and of 1000 pictures a second are read", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("one.mp4"), {0.0});
  CHECK(read_all(scratch.file("one.mp4")).frames.size() == 1);

  WriteOptions fast;
  fast.nominal_rate_per_s = 1000.0;
  write_made(scratch.file("fast.mp4"), even_times(500, 1000.0), fast);
  const ReadClip clip = read_all(scratch.file("fast.mp4"));
  REQUIRE(clip.frames.size() == 500);
  for (std::size_t i = 0; i < clip.frames.size(); ++i) {
    // 90000 ticks a second hold every millisecond; two roundings: the tick's length, the
    // product.
    CHECK_THAT(clip.frames[i].t_s, to_rounding(1e-3 * static_cast<double>(i), 4));
  }

  WriteOptions large;
  large.codec = "mjpeg";
  const auto writer = create_clip(scratch.file("8k.avi"), large);
  const cv::Mat picture(4320, 7680, CV_8UC3, cv::Scalar::all(90));
  for (int i = 0; i < 2; ++i) writer->add(picture, i / 60.0);
  writer->finish();
  const ReadClip eight_k = read_all(scratch.file("8k.avi"));
  REQUIRE(eight_k.frames.size() == 2);
  CHECK(eight_k.info.width_px == 7680);
  CHECK(eight_k.info.height_px == 4320);
}

TEST_CASE("a clip of an hour is read to its end in little memory", "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions slow;
  slow.nominal_rate_per_s = 10.0;
  write_made(scratch.file("hour.mp4"), even_times(36'001, 10.0), slow);
  const long before_kB = peak_kB();
  const auto source = open_clip(scratch.file("hour.mp4"));
  int count = 0;
  double last_s = 0.0;
  while (const auto frame = source->next()) {
    ++count;
    last_s = frame->t_s;
  }
  CHECK(count == 36'001);
  CHECK_THAT(last_s, to_rounding(3600.0, 4));  // two roundings, as above
  CHECK(peak_kB() - before_kB < 60'000);       // kB; all pictures together are 550 MB
}
