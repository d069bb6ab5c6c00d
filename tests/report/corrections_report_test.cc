// SPDX-License-Identifier: Apache-2.0
#include "report/invented_series.h"
#include "report/page.h"
#include "report/results_json.h"
#include "report/schema_check.h"
#include "support/temp_folder.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Json = nlohmann::json;
using Faults = std::vector<std::string>;

}  // namespace

TEST_CASE("corrections stand in results.json and in the report, text of others escaped",
          "[report]") {
  SeriesResult series = test::invented_series();
  AppliedCorrection applied;
  applied.correction.number = 1;
  applied.correction.kind = CorrectionKind::Release;
  applied.correction.bar = series.bars[0].specimen.id;
  applied.correction.when = "2026-01-02T03:04:05Z";
  applied.correction.why = "seen <i>twice</i>";
  applied.automatic = "125.0";
  applied.by_hand = "120.0";
  series.bars[0].corrections.push_back(applied);
  const Json results = Json::parse(results_json(series));
  const Json schema = Json::parse(test::bytes_of(std::string(SWINGLOSS_SOURCE_DIR) +
                                                 "/samples/schema/results.schema.json"));
  CHECK(test::schema_faults(results, schema) == Faults());
  CHECK(results.at("corrections")[0].at("by_hand") == "120.0");
  PagePictures pictures;
  pictures.bars.resize(series.bars.size());
  const std::string page = report_page(series, pictures);
  CHECK(page.find("Corrected by hand") != std::string::npos);
  CHECK(page.find("seen &lt;i&gt;twice&lt;/i&gt;") != std::string::npos);
  CHECK(page.find("2026-01-02T03:04:05Z") != std::string::npos);
}

}  // namespace swingloss
