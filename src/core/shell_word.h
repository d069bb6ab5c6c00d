// SPDX-License-Identifier: Apache-2.0
/// \file shell_word.h
/// A name as it can be pasted into a shell.
#pragma once

#include <string>

namespace swingloss {

/// `name` as one word of a POSIX shell: as it is where letters, digits and . _ - + / , : @ % =
/// make it up (letters beyond ASCII too, which no shell treats apart), else in single quotes, a
/// quote inside written '\''. A name that begins with - gets ./ before it, lest it be taken for
/// an option.
[[nodiscard]] std::string shell_word(const std::string& name);

}  // namespace swingloss
