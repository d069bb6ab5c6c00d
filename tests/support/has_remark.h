// SPDX-License-Identifier: Apache-2.0
/// \file has_remark.h
#pragma once

#include "core/has_remark.h"

namespace swingloss::test {

using swingloss::has_remark;

}  // namespace swingloss::test
