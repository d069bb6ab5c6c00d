// SPDX-License-Identifier: Apache-2.0
// Feeds every file of tests/fuzz/corpus and tests/fuzz/found to the function that it belongs
// to, without libFuzzer: replay FOLDER. A finding ends the program.
#include "core/text_file.h"
#include "fuzz/targets.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <map>
#include <vector>

namespace fs = std::filesystem;
using namespace swingloss;

int main(int count, char** words) {
  const std::map<std::string, void (*)(const std::string&)> targets = {
      {"series_csv", test::fuzz_series_csv},
      {"angles_csv", test::fuzz_angles_csv},
      {"series_json", test::fuzz_series_json},
      {"rig_json", test::fuzz_rig_json},
      {"record_json", test::fuzz_record_json},
      {"clip", test::fuzz_clip},
      {"photo", test::fuzz_photo}};
  int fed = 0;
  for (const auto& [name, target] : targets) {
    for (const char* shelf : {"corpus", "found"}) {
      const fs::path folder = fs::path(count > 1 ? words[1] : ".") / shelf / name;
      if (!fs::is_directory(folder)) continue;
      std::vector<fs::path> files(fs::directory_iterator(folder), {});
      std::sort(files.begin(), files.end());
      for (const fs::path& file : files) {
        std::printf("%s\n", file.c_str());
        std::fflush(stdout);
        target(read_file(file.string()));
        ++fed;
      }
    }
  }
  std::printf("%d files\n", fed);
  return fed >= 10 ? 0 : 1;  // an empty corpus is a mistake of the call
}
