// SPDX-License-Identifier: Apache-2.0
/// \file schema_check.h
/// A document held against a JSON Schema, as far as samples/schema uses the language.
#pragma once

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace swingloss::test {

/// Faults of `document`, each with its place ("/bars/0/id: ..."); none when it is valid. Knows
/// type, const, enum, minimum, maximum, required, properties, items, anyOf and $ref to #/$defs
/// [JSONSchema]; any other word of `schema` but comments is a fault of the schema.
[[nodiscard]] std::vector<std::string> schema_faults(const nlohmann::json& document,
                                                     const nlohmann::json& schema);

}  // namespace swingloss::test
