// SPDX-License-Identifier: Apache-2.0
// What libFuzzer calls; SWINGLOSS_FUZZ_TARGET is one of the functions of targets.h.
#include "fuzz/targets.h"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  swingloss::test::SWINGLOSS_FUZZ_TARGET(
      std::string(reinterpret_cast<const char*>(data), size));
  return 0;
}
