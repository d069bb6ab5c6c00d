// SPDX-License-Identifier: Apache-2.0
/// \file json_input.h
/// A JSON object of ours, read strictly: every fault names file, field, found and wanted.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// One file that holds one JSON object. Fields that are missing give nothing, so that the
/// caller's default stands; fields of another kind are refused.
class JsonInput {
 public:
  /// \throws InputError  the file cannot be read, is not JSON (line and column are named), is
  ///                     no object, or its field "format" is not `format`
  JsonInput(const std::string& path, const std::string& format);
  JsonInput(JsonInput&&) noexcept;
  ~JsonInput();

  /// \throws InputError  the first field that is not among `known`, with the nearest that is
  void check_fields(const std::vector<std::string>& known) const;

  [[nodiscard]] std::optional<std::string> text(const std::string& field) const;
  /// \param low,high  ends that are still accepted, in the words `wanted` of the message
  [[nodiscard]] std::optional<double> number(const std::string& field,
                                             double low,
                                             double high,
                                             const std::string& wanted) const;
  /// A list of texts.
  [[nodiscard]] std::optional<std::vector<std::string>> texts(const std::string& field) const;

  /// Throws the fault of one field; what was found is taken from the file.
  [[noreturn]] void refuse(const std::string& field,
                           const std::string& wanted,
                           const std::string& next) const;

 private:
  struct Root;
  std::string path_;
  std::unique_ptr<Root> root_;
};

}  // namespace swingloss
