// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "series/appearance_model.h"
#include "series/series_plan.h"
#include "support/temp_folder.h"

namespace swingloss::test {

void fuzz_series_json(const std::string& bytes) {
  const TempFolder folder;
  folder.write("series.json", bytes);
  read_or_refuse<InputError>([&] { (void)geometry_words(read_series(folder.path())); });
  read_or_refuse<InputError>([&] {
    const AppearanceModel model = parse_model(bytes, "model.json");
    (void)account_of(model);
    (void)model_json(model);
  });
}

}  // namespace swingloss::test
