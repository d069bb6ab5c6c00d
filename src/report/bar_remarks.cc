// SPDX-License-Identifier: Apache-2.0
#include "report/bar_remarks.h"

#include <algorithm>

namespace swingloss {
namespace {

/// A note of one code is one fact, however often the search for it met it.
bool says_the_same(const Remark& one, const Remark& other) {
  if (one.code != other.code || one.severity != other.severity) return false;
  return one.text == other.text || one.severity == Severity::Note;
}

}  // namespace

Remarks without_repeats(const Remarks& remarks) {
  Remarks kept;
  for (const Remark& remark : remarks) {
    const bool known = std::any_of(kept.begin(), kept.end(), [&](const Remark& other) {
      return says_the_same(remark, other);
    });
    if (!known) kept.push_back(remark);
  }
  return kept;
}

Remarks bar_remarks(const BarResult& bar) {
  Remarks remarks = bar.remarks;
  if (bar.swing) append(remarks, all_remarks(*bar.swing));
  return without_repeats(remarks);
}

}  // namespace swingloss
