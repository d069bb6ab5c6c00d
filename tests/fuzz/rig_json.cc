// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "rig/rig.h"

namespace swingloss::test {

void fuzz_rig_json(const std::string& bytes) {
  read_or_refuse<InputError>([&] {
    const Rig rig = read_rig_text(bytes, "rig.json");
    (void)read_rig_text(rig_text(rig), "rig.json");
  });
}

}  // namespace swingloss::test
