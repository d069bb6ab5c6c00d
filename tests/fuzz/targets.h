// SPDX-License-Identifier: Apache-2.0
/// \file targets.h
/// Doors through which foreign bytes come in, each as a function of bytes: for libFuzzer, and
/// for the replay of what it found. Refusals (InputError, Failure) are what is wanted; anything
/// else that leaves a function is a finding.
#pragma once

#include <string>

namespace swingloss::test {

void fuzz_series_csv(const std::string& bytes);   ///< specimens.csv, masses.csv, results.csv
void fuzz_angles_csv(const std::string& bytes);   ///< angles of an encoder, tables of others
void fuzz_series_json(const std::string& bytes);  ///< series.json, an appearance model
void fuzz_rig_json(const std::string& bytes);     ///< rig.json
void fuzz_record_json(const std::string& bytes);  ///< swings, surfaces, corrections
void fuzz_clip(const std::string& bytes);         ///< container heads, first pictures, sound
void fuzz_photo(const std::string& bytes);        ///< a photograph, and the tags and card in it

}  // namespace swingloss::test
