// SPDX-License-Identifier: Apache-2.0
#include "report/run_gnuplot.h"

#include "core/input_error.h"
#include "report/run_program.h"

#include <stdexcept>
#include <utility>

namespace swingloss {

std::string run_gnuplot(const std::string& script, const std::string& program) {
  ProgramEnd end = run_program({program, "--default-settings", "-"}, script);
  if (!end.not_started.empty()) {
    throw InputError({"",
                      "drawing the charts",
                      "no program \"" + program + "\" along PATH (" + end.not_started + ")",
                      "gnuplot 5 or later",
                      "Install it with: apt-get install gnuplot-nox"});
  }
  if (!end.good) throw std::logic_error("gnuplot refused a chart: " + end.complaints);
  return std::move(end.output);
}

}  // namespace swingloss
