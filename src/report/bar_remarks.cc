// SPDX-License-Identifier: Apache-2.0
#include "report/bar_remarks.h"

namespace swingloss {

Remarks bar_remarks(const BarResult& bar) {
  Remarks remarks = bar.remarks;
  if (bar.swing) {
    const Remarks more = all_remarks(*bar.swing);
    remarks.insert(remarks.end(), more.begin(), more.end());
  }
  return remarks;
}

}  // namespace swingloss
