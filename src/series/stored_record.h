// SPDX-License-Identifier: Apache-2.0
/// \file stored_record.h
/// Finished measurements of one kind, kept as files and used again while their inputs are the
/// same.
#pragma once

#include "core/input_error.h"
#include "core/text_file.h"
#include "series/durable_file.h"

#include <filesystem>
#include <optional>
#include <string>
#include <utility>

namespace swingloss {

/// The record stored at `path`; nothing when there is none, when it is damaged, or when its
/// inputs are others: then it has to be measured again.
/// \param parse  text and name to a struct of `record` and `inputs`; \throws InputError
template <typename Parse>
auto stored_record(const std::string& path, const std::string& inputs, const Parse& parse)
    -> std::optional<decltype(parse(path, path).record)> {
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return {};
  try {
    auto stored = parse(read_file(path), path);
    if (stored.inputs == inputs) return std::move(stored.record);
  } catch (const InputError&) {
    return {};
  }
  return {};
}

/// Stores a record's text, whole or not at all, and returns the record as a later run will read
/// it, so that first run and rerun go on from the same numbers.
/// \throws InputError  the place cannot be written
template <typename Parse>
auto keep_record(const std::string& path, const std::string& text, const Parse& parse) {
  write_file_durably(path, text);
  return parse(text, path).record;
}

}  // namespace swingloss
