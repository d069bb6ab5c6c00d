// SPDX-License-Identifier: Apache-2.0
/// \file add_specimen.h
/// One more bar in a series folder.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace swingloss {

/// Fields of a new row: column (specimen_columns()) and text, numbers with a decimal point.
using SpecimenFields = std::vector<std::pair<std::string, std::string>>;

/// Appends a row to FOLDER/specimens.csv, in the table's own columns, separator and decimal
/// mark; what is there stays byte for byte. The file is written whole or not at all.
///
/// \throws InputError  the table cannot be read; the id is there already or is no safe name; a
///                     field that is not empty has no column in this table; the row would have
///                     a fault (read_specimens())
void add_specimen(const std::string& folder, const SpecimenFields& fields);

/// A file name that is safe in the folder: the last part of what was given, its ASCII letters,
/// digits and . _ - + kept, blanks and everything else made "-", at most 64 bytes with its
/// ending; never empty, never hidden. ".." and separators cannot survive.
[[nodiscard]] std::string safe_file_name(const std::string& given);

}  // namespace swingloss
