// SPDX-License-Identifier: Apache-2.0
#include "imaging/video_writer.h"

#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <csignal>
#include <filesystem>

#include <malloc.h>
#include <opencv2/core.hpp>
#include <sys/resource.h>

using namespace swingloss;
using namespace swingloss::test;

namespace {

std::string place_of_fault(const std::string& path, const WriteOptions& options) {
  try {
    static_cast<void>(create_clip(path, options));
  } catch (const InputError& error) {
    return error.fault().place + "|" + error.fault().found;
  }
  return "";
}

/// While it lives, no file of this process grows beyond so many bytes: as on a full disk.
class SmallFiles {
 public:
  explicit SmallFiles(rlim_t most_bytes) : handler_(std::signal(SIGXFSZ, SIG_IGN)) {
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &before_) == 0);
    const rlimit now{most_bytes, before_.rlim_max};
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &now) == 0);
  }
  SmallFiles(const SmallFiles&) = delete;
  SmallFiles& operator=(const SmallFiles&) = delete;
  ~SmallFiles() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }

 private:
  rlimit before_{};
  void (*handler_)(int);
};

}  // namespace

TEST_CASE("the same pictures give the same bytes", "[imaging]") {
  const ScratchFolder scratch;
  for (const char* codec : {"h264", "hevc", "mjpeg", "vp9", "mpeg4", "ffv1"}) {
    for (const char* ending : {".mp4", ".mkv"}) {
      if (std::string(codec) == "ffv1" && std::string(ending) == ".mp4") continue;
      CAPTURE(codec, ending);
      WriteOptions options;
      options.codec = codec;
      write_made(scratch.file(std::string("a") + ending), even_times(8, 60.0), options);
      write_made(scratch.file(std::string("b") + ending), even_times(8, 60.0), options);
      const std::string bytes = bytes_of(scratch.file(std::string("a") + ending));
      CHECK_FALSE(bytes.empty());
      CHECK(bytes == bytes_of(scratch.file(std::string("b") + ending)));
      // Nor do they name the version of the libraries that wrote them.
      CHECK(bytes.find("Lavc") == std::string::npos);
      CHECK(bytes.find("Lavf5") == std::string::npos);
    }
  }
}

TEST_CASE("what lay in memory before does not show in the bytes", "[imaging]") {
  const ScratchFolder scratch;
  cv::RNG noise(7);
  std::vector<cv::Mat> pictures;
  for (int k = 0; k < 24; ++k) {
    // 540 rows are no whole number of blocks of 16.
    cv::Mat picture(540, 960, CV_8UC3, cv::Scalar(90, 120, 150));
    picture(cv::Rect(40 + 9 * k, 100 + 5 * k, 160, 300)) = cv::Scalar(30, 40, 50);
    cv::Mat grain(picture.size(), CV_8UC3);
    noise.fill(grain, cv::RNG::UNIFORM, 0, 12);
    pictures.push_back(picture + grain);
  }
  for (const char* name : {"a.mp4", "b.mp4"}) {
    mallopt(M_PERTURB, name[0] == 'a' ? 1 : 85);
    const auto writer = create_clip(scratch.file(name));
    for (std::size_t k = 0; k < pictures.size(); ++k)
      writer->add(pictures[k], static_cast<double>(k) / 60.0);
    writer->finish();
  }
  mallopt(M_PERTURB, 0);
  const bool same = bytes_of(scratch.file("a.mp4")) == bytes_of(scratch.file("b.mp4"));
  CHECK(same);
}

TEST_CASE("a clip that is not finished leaves nothing behind", "[imaging]") {
  const ScratchFolder scratch;
  {
    const auto writer = create_clip(scratch.file("a.mp4"));
    writer->add(made_picture(0), 0.0);
    CHECK_FALSE(std::filesystem::is_empty(scratch.file("")));
    CHECK_FALSE(std::filesystem::exists(scratch.file("a.mp4")));
  }
  { const auto never_used = create_clip(scratch.file("b.mp4")); }
  CHECK(std::filesystem::is_empty(scratch.file("")));
}

TEST_CASE("an existing clip stays until the new one is whole", "[imaging]") {
  const ScratchFolder scratch;
  write_bytes(scratch.file("a.mp4"), "old");
  const auto writer = create_clip(scratch.file("a.mp4"));
  writer->add(made_picture(0), 0.0);
  CHECK(bytes_of(scratch.file("a.mp4")) == "old");
  writer->finish();
  CHECK(read_all(scratch.file("a.mp4")).frames.size() == 1);
  CHECK(std::distance(std::filesystem::directory_iterator(scratch.file("")),
                      std::filesystem::directory_iterator()) == 1);
}

TEST_CASE("two writers of one clip do not mix their pictures", "[imaging]") {
  const ScratchFolder scratch;
  const auto first = create_clip(scratch.file("a.mp4"));
  const auto second = create_clip(scratch.file("a.mp4"));
  first->add(made_picture(3), 0.0);
  for (int k = 0; k < 4; ++k) second->add(made_picture(k), k / 60.0);
  second->finish();
  CHECK(read_all(scratch.file("a.mp4")).frames.size() == 4);
  first->finish();
  const ReadClip last = read_all(scratch.file("a.mp4"));
  REQUIRE(last.frames.size() == 1);
  CHECK(counter_in(last.frames.front().luma) == 3);
}

TEST_CASE("an .mp4 can be played while it arrives: its index comes first", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("a.mp4"), even_times(5, 60.0));
  const std::string bytes = bytes_of(scratch.file("a.mp4"));
  CHECK(bytes.find("moov") < bytes.find("mdat"));
}

TEST_CASE("create_clip refuses what it cannot do before any picture", "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions options;
  CHECK(place_of_fault(scratch.file("a.txt"), options).find(".txt") != std::string::npos);
  CHECK_FALSE(place_of_fault(scratch.file("no/folder/a.mp4"), options).empty());
  options.codec = "theora";
  CHECK(place_of_fault(scratch.file("a.mp4"), options) == "codec|\"theora\"");
  for (const auto& [codec, name] : std::vector<std::pair<std::string, std::string>>{
           {"h264", "a.webm"}, {"vp9", "a.mov"}, {"ffv1", "a.mp4"}, {"hevc", "a.avi"}}) {
    options.codec = codec;
    CAPTURE(codec, name);
    CHECK(place_of_fault(scratch.file(name), options).find("codec|" + codec) == 0);
  }
  options = {};
  options.rotation_deg = 45;
  CHECK(place_of_fault(scratch.file("a.mp4"), options) == "rotation|45");
  options.rotation_deg = 90;
  CHECK(place_of_fault(scratch.file("a.mkv"), options) == "rotation|.mkv");
  options = {};
  options.quality = 52;
  CHECK(place_of_fault(scratch.file("a.mp4"), options) == "quality|52");
  options = {};
  options.pixel_aspect_ratio = 0.0;
  CHECK(place_of_fault(scratch.file("a.mp4"), options).find("pixel aspect") == 0);
  options = {};
  options.nominal_rate_per_s = 0.0;
  CHECK(place_of_fault(scratch.file("a.mp4"), options).find("rate|") == 0);
  CHECK(std::filesystem::is_empty(scratch.file("")));
}

TEST_CASE("add refuses what its contract excludes", "[imaging]") {
  const ScratchFolder scratch;
  const auto writer = create_clip(scratch.file("a.mp4"));
  CHECK_THROWS_AS(writer->finish(), std::logic_error);
  CHECK_THROWS_AS(writer->add(cv::Mat(8, 8, CV_8UC1), 0.0), std::logic_error);
  CHECK_THROWS_AS(writer->add(made_picture(0)(cv::Rect(0, 0, 31, 32)), 0.0), std::logic_error);
  writer->add(made_picture(0), 0.1);
  CHECK_THROWS_AS(writer->add(made_picture(1), 0.1), std::logic_error);
  CHECK_THROWS_AS(writer->add(made_picture(1)(cv::Rect(0, 0, 32, 32)), 0.2), std::logic_error);
  writer->finish();
  CHECK_THROWS_AS(writer->add(made_picture(1), 0.3), std::logic_error);
}

TEST_CASE("pictures closer together than the file can tell are all kept", "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions options;
  options.nominal_rate_per_s = 30.0;
  for (const char* codec : {"h264", "mjpeg", "mpeg4"}) {
    CAPTURE(codec);
    const char* name = "a.avi";
    options.codec = codec;
    write_made(scratch.file(name), {0.0, 1e-4, 2e-4, 3e-4}, options);
    const ReadClip clip = read_all(scratch.file(name));
    REQUIRE(clip.frames.size() == 4);
    for (const Frame& frame : clip.frames) CHECK(counter_in(frame.luma) == frame.index);
    CHECK(clip.frames[3].t_s > clip.frames[2].t_s);
  }
}

TEST_CASE("a view into a larger picture is written as itself", "[imaging]") {
  const ScratchFolder scratch;
  cv::Mat large(200, 300, CV_8UC3, cv::Scalar::all(0));
  made_picture(9).copyTo(large(cv::Rect(40, 50, kMadeWidth_px, kMadeHeight_px)));
  const auto writer = create_clip(scratch.file("a.mkv"));
  writer->add(large(cv::Rect(40, 50, kMadeWidth_px, kMadeHeight_px)), 0.0);
  writer->finish();
  CHECK(counter_in(read_all(scratch.file("a.mkv")).frames.front().luma) == 9);
}

TEST_CASE("a disk that takes no more is an error, not a short clip", "[imaging]") {
  const ScratchFolder scratch;
  const auto write = [&] { write_made(scratch.file("a.mkv"), even_times(60, 60.0)); };
  {
    const SmallFiles no_file_beyond(1000);
    CHECK_THROWS_AS(write(), InputError);
  }
  CHECK(std::filesystem::is_empty(scratch.file("")));
  write();
  CHECK(std::filesystem::file_size(scratch.file("a.mkv")) > 1000);
}
