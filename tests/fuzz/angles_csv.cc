// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "series/angle_table.h"

namespace swingloss::test {

void fuzz_angles_csv(const std::string& bytes) {
  const ScratchFile file(bytes);
  AngleTableOptions timed, bare;
  timed.columns = {"1", "2"};
  timed.radians = true;
  timed.time_unit_s = 1e-3;
  bare.columns = {"angle"};
  bare.rate_per_s = 240.0;
  bare.skip_lines = 1;
  for (const AngleTableOptions& options : {AngleTableOptions(), timed, bare}) {
    read_or_refuse<InputError>([&] { (void)read_angle_table(file.path(), options); });
  }
}

}  // namespace swingloss::test
