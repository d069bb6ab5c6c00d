// SPDX-License-Identifier: Apache-2.0
/// \file refuse_links.h
/// Nothing is written outside results/, also where somebody laid a way out of it.
#pragma once

#include <string>

namespace swingloss {

/// Looks through `folder` for links (symbolic ones, to files or folders) and refuses the first:
/// what is written through one would lie outside. The folder itself may not be one either; one
/// that is not there is fine.
/// \throws InputError  there is a link; the folder cannot be looked through
void refuse_links_in(const std::string& folder);

}  // namespace swingloss
