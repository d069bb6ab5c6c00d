// SPDX-License-Identifier: Apache-2.0
/// \file test.h
/// The one way tests reach the test library, its matchers and our tolerances.
#pragma once

#include "support/truth.h"

#include <catch2/catch.hpp>
