// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "series/corrections.h"
#include "series/surface_json.h"
#include "series/swing_json.h"

namespace swingloss::test {

void fuzz_record_json(const std::string& bytes) {
  read_or_refuse<InputError>(
      [&] { (void)swing_json(parse_swing_json(bytes, "swing.json").record); });
  read_or_refuse<InputError>(
      [&] { (void)surface_json(parse_surface_json(bytes, "surface.json").record); });
  read_or_refuse<InputError>(
      [&] { (void)corrections_json(parse_corrections(bytes, "corrections.json")); });
}

}  // namespace swingloss::test
