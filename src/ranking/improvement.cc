// SPDX-License-Identifier: Apache-2.0
#include "ranking/improvement.h"

namespace swingloss {

bool has_scatter(const GroupSummary& group) { return group.s && *group.s > 0.0; }

std::string improvement_of(const GroupSummary& group) {
  if (has_scatter(group)) return worth_improving(group.budget);
  switch (group.method) {
    case MeanMethod::OneBar:
      return "One bar does not tell how far the bars scatter: break more of them first.";
    case MeanMethod::NoScatter:
    case MeanMethod::Sample:
      return "The values are all the same (rounded or copied), so how far the bars scatter is "
             "not known: note more digits, break more bars.";
    case MeanMethod::LowerBound:
    case MeanMethod::UpperBound:
      return "Too few values beside the limits to tell how far the bars scatter: a " +
             std::string(group.method == MeanMethod::LowerBound ? "larger" : "smaller") +
             " hammer would give values.";
    case MeanMethod::Likelihood:
    case MeanMethod::None:
      return "";
  }
  return "";
}

}  // namespace swingloss
