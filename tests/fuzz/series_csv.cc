// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "series/read_masses.h"
#include "series/read_results.h"
#include "series/read_specimens.h"

namespace swingloss::test {

void fuzz_series_csv(const std::string& bytes) {
  const ScratchFile file(bytes);
  read_or_refuse<InputError>([&] { (void)read_specimens(file.path(), ""); });
  read_or_refuse<InputError>([&] { (void)read_specimens(file.path(), "."); });
  read_or_refuse<InputError>([&] { (void)read_masses(file.path()); });
  read_or_refuse<InputError>([&] {
    if (is_results_table(file.path())) (void)read_results(file.path());
  });
}

}  // namespace swingloss::test
