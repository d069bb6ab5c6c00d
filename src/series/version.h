// SPDX-License-Identifier: Apache-2.0
/// \file version.h
/// Which program wrote a result.
#pragma once

namespace swingloss {

/// The program's version; the same as the build's (tests/cli/program_test.cc holds them
/// together).
inline constexpr const char* kVersion = "0.1.0";

/// Raised by one whenever a change to decoding, tracking or physics may move a number, so that
/// stored swings of an older method are measured again.
inline constexpr int kMethodRevision = 21;

/// The same for photographs of faces.
inline constexpr int kFaceMethodRevision = 4;

}  // namespace swingloss
