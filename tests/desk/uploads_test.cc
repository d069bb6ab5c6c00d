// SPDX-License-Identifier: Apache-2.0
#include "desk/uploads.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <filesystem>

namespace swingloss {

namespace fs = std::filesystem;

TEST_CASE("no path leads out of results/", "[desk]") {
  const test::TempFolder folder;
  folder.write("secret.json", "{}");
  folder.write("results/report.html", "<p>");
  folder.write("results/charts/ranking.svg", "<svg>");
  folder.write("results/.hidden.json", "{}");
  folder.write("results/notes.exe", "x");
  fs::create_symlink(folder / "secret.json", folder / "results/link.json");
  fs::create_directory_symlink(folder.path(), folder / "results/up");
  const std::string results = folder / "results";
  CHECK_FALSE(file_in_results(results, "report.html").empty());
  CHECK_FALSE(file_in_results(results, "charts/ranking.svg").empty());
  for (const std::string& path : {std::string(),
                                  std::string("../secret.json"),
                                  std::string("charts/../../secret.json"),
                                  std::string("./report.html"),
                                  std::string("charts/../report.html"),
                                  folder / "secret.json",
                                  std::string("link.json"),
                                  std::string("up/secret.json"),
                                  std::string(".hidden.json"),
                                  std::string("notes.exe"),
                                  std::string("charts"),
                                  std::string("..\\secret.json"),
                                  std::string("none.json"),
                                  std::string("report.html\0.json", 17)}) {
    CAPTURE(path);
    CHECK(file_in_results(results, path).empty());
  }
}

TEST_CASE("a file comes in whole, under a name of its own, or not at all", "[desk]") {
  const test::TempFolder folder;
  for (const char* wanted : {"clip.mp4", "clip-2.mp4"}) {
    Upload upload(folder.path(), "clips", "../clip.mp4");
    CHECK(upload.write("abc", 3));
    CHECK(upload.finish() == wanted);
    CHECK(test::bytes_of(folder / ("clips/" + std::string(wanted))) == "abc");
  }
  {
    Upload broken(folder.path(), "clips", "half.mp4");
    CHECK(broken.write("abc", 3));
  }
  {
    Upload empty(folder.path(), "photos", "empty.jpg");
    CHECK_THROWS_AS((void)empty.finish(), InputError);
  }
  CHECK(std::distance(fs::directory_iterator(folder / "clips"), fs::directory_iterator()) == 2);
  CHECK(fs::is_empty(folder / "photos"));
  CHECK_THROWS_AS(Upload(folder.path(), "results", "a.json"), InputError);
  CHECK_THROWS_AS(Upload(folder.path(), "..", "a.json"), InputError);
}

}  // namespace swingloss
