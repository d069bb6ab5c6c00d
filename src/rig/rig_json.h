// SPDX-License-Identifier: Apache-2.0
/// \file rig_json.h
/// Reading the fields of a rig file, with an answer for every way of getting one wrong.
#pragma once

#include "core/remark.h"
#include "core/uncertain.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// The members of a rig file. Every function throws InputError naming file and field.
class RigJson {
 public:
  /// \throws InputError  not JSON (with line and column), not an object, another format, a key
  ///                     that is not known (with the nearest that is)
  RigJson(const std::string& text, const std::string& path);
  ~RigJson();
  RigJson(const RigJson&) = delete;
  RigJson& operator=(const RigJson&) = delete;

  /// A quantity of rig_fields.h; nothing when the key is not there.
  [[nodiscard]] std::optional<Uncertain> quantity(const std::string& name);
  /// A plain number within [low, high].
  [[nodiscard]] std::optional<double> number(const std::string& name, double low, double high);
  [[nodiscard]] std::string text(const std::string& name);

  /// Terms of the loss, [dry_Nm, linear_Nms, quadratic_Nms2], with their correlation; source
  /// `rig.friction[k]`. Nothing when there is no "friction".
  [[nodiscard]] std::optional<std::vector<Uncertain>> friction();

  /// Refuses the file for what is not in it.
  [[noreturn]] void missing(const std::string& place,
                            const std::string& wanted,
                            const std::string& next) const;

  /// What was taken for granted while reading.
  [[nodiscard]] const Remarks& remarks() const { return remarks_; }

 private:
  struct Held;
  std::unique_ptr<Held> held_;
  std::string path_;
  Remarks remarks_;
};

}  // namespace swingloss
