// SPDX-License-Identifier: Apache-2.0
#include "desk/web_files.h"

#include "report/page_style.h"

#include <map>

namespace swingloss {
namespace {

std::map<std::string, WebFile> all_files() {
  const std::string script = "text/javascript; charset=utf-8";
  std::map<std::string, WebFile> files;
  for (const char* page : {"/", "/bar", "/ranking", "/plan"})
    files[page] = {"text/html; charset=utf-8", web::kShell};
  files["/desk.css"] = {"text/css; charset=utf-8", page_style() + web::kStyle};
  files["/common.js"] = {script, web::kCommon};
  files["/series.js"] = {script, web::kSeries};
  files["/bar.js"] = {script, web::kBar};
  files["/bar_forms.js"] = {script, web::kBarForms};
  files["/picture.js"] = {script, web::kPicture};
  files["/ranking.js"] = {script, web::kRanking};
  files["/plan.js"] = {script, web::kPlan};
  return files;
}

}  // namespace

const WebFile* find_web_file(const std::string& path) {
  static const std::map<std::string, WebFile> files = all_files();
  const auto found = files.find(path);
  return found == files.end() ? nullptr : &found->second;
}

}  // namespace swingloss
