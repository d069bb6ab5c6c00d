// SPDX-License-Identifier: Apache-2.0
/// \file new_series.h
/// A series folder to fill in.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

/// Writes series.json, specimens.csv (its header row), rig.json (values to fill in), FIELDS.md
/// (what every field means, with example rows) and the folders clips and photos. Where clips are
/// there already, specimens.csv gets a row for each, in the order of their names: the clip, and an
/// id made of its name (add_specimen.h); the rest is to be filled in.
/// \return the names of the files written, below the folder
/// \throws InputError  the folder exists and holds anything but clips and photos, or cannot be
///                     written: nothing that is there is ever overwritten
std::vector<std::string> write_new_series(const std::string& folder);

/// The text of FIELDS.md.
[[nodiscard]] std::string fields_text();

}  // namespace swingloss
