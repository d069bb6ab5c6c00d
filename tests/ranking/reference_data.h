// SPDX-License-Identifier: Apache-2.0
/// \file reference_data.h
/// Published data sets that several tests share, each with its source.
#pragma once

#include "ranking/censored.h"

#include <string>
#include <vector>

namespace swingloss::test {

/// A named group of plain values.
struct NamedValues {
  std::string name;
  std::vector<double> values;
};

/// NIST StRD univariate, set Lew [NISTStRD].
std::vector<double> nist_lew();

/// NIST StRD univariate, set Lottery [NISTStRD].
std::vector<double> nist_lottery();

/// NIST StRD univariate, set Mavro [NISTStRD].
std::vector<double> nist_mavro();

/// NIST StRD univariate, set Michelso [NISTStRD].
std::vector<double> nist_michelso();

/// NIST StRD analysis of variance, set AtmWtAg [NISTStRD].
std::vector<std::vector<double>> nist_atm_wt_ag();

/// NIST StRD analysis of variance, set SiRstv [NISTStRD].
std::vector<std::vector<double>> nist_si_rstv();

/// R package survival 3.5-3, data ovarian: futime, fustat.
std::vector<CensoredValue> ovarian();

/// R package survival 3.5-3, data lung: time, status.
std::vector<CensoredValue> lung();

/// Gupta 1952, ten mice, three still alive at 60 days.
std::vector<CensoredValue> gupta();

/// R package survival 3.5-3, data genfan: hours, status.
std::vector<CensoredValue> generator_fans();

/// R package survival 3.5-3, data aml, maintained.
std::vector<CensoredValue> aml_maintained();

/// R package survival 3.5-3, data aml, not maintained.
std::vector<CensoredValue> aml_nonmaintained();

/// R package MASS, data gehan, treated.
std::vector<CensoredValue> gehan_6mp();

/// R package MASS, data gehan, control.
std::vector<CensoredValue> gehan_control();

/// Treatment (1 or 2) of each entry of ovarian().
std::vector<int> ovarian_treatment();

/// R base data PlantGrowth.
std::vector<NamedValues> plant_growth();

/// R base data chickwts.
std::vector<NamedValues> chick_weights();

/// R base data warpbreaks by tension.
std::vector<NamedValues> warp_breaks();

/// R base data morley by experiment.
std::vector<NamedValues> morley();

/// R base data InsectSprays.
std::vector<NamedValues> insect_sprays();

/// NIST Dataplot set SPLETT2.DAT: energies [ft lbf] of notched steel bars on four machines.
std::vector<NamedValues> four_machines();

}  // namespace swingloss::test
