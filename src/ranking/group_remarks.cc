// SPDX-License-Identifier: Apache-2.0
#include "ranking/group_remarks.h"

#include "core/number_text.h"
#include "ranking/words.h"

#include <algorithm>

namespace swingloss {
namespace {

/// What all remarks of one group draw on.
struct Subject {
  const std::vector<Bar>& bars;
  Quantity quantity;
  const BarGroup& group;
  const GroupEstimate& estimate;
  Remarks& remarks;

  void say(const char* code, Severity severity, std::string text) const {
    remarks.push_back({code, severity, std::move(text)});
  }
  [[nodiscard]] std::string names_of(const std::vector<std::size_t>& members) const {
    std::vector<std::string> names;
    names.reserve(members.size());
    for (const std::size_t i : members) names.push_back(bars[i].id);
    return list_words(names, 6);
  }
};

void say_method(const Subject& subject) {
  const GroupSummary& summary = subject.group.summary;
  const int all = subject.estimate.n();
  if (summary.method == MeanMethod::OneBar) {
    subject.say(
        "one-bar",
        Severity::Warning,
        subject.estimate.borrowed_scatter
            ? "One bar only. It is placed by its value with the scatter of the other "
              "groups, and is never called clear."
            : "One bar only, and no other group to take a scatter from. It is placed by "
              "its value; how sure that place is cannot be said.");
  }
  if (summary.method == MeanMethod::NoScatter) {
    subject.say(
        "no-scatter",
        Severity::Warning,
        "All " + bars_words(all) +
            " have the same value: rounded, copied, or limited by the scale. No interval "
            "can be given; check how the values were read.");
  }
  if (summary.method == MeanMethod::Sample && all == 2) {
    subject.say("two-bars",
                Severity::Note,
                "Two bars only: their scatter is so badly known that the interval is wide. A "
                "third bar shortens it more than threefold.");
  }
  if (summary.method == MeanMethod::LowerBound) {
    subject.say(
        "lower-bound",
        Severity::Warning,
        "Too few bars broke for a mean. That at least half of all such bars hold " +
            fixed_words(*summary.bound, decimals_of(summary)) + " " +
            unit_words(subject.quantity) + " has a confidence of " +
            share_words(summary.bound_confidence) +
            ", by counting alone. Its place among the ranks is a guess above that bound.");
  }
  if (summary.method == MeanMethod::UpperBound) {
    subject.say("upper-bound",
                Severity::Warning,
                "Too few bars rose over what the instrument shows for a mean; only an upper "
                "bound is known. Use a smaller hammer.");
  }
}

void say_likelihood(const Subject& subject) {
  const GroupSummary& summary = subject.group.summary;
  if (summary.method != MeanMethod::Likelihood) return;
  const int limits = summary.n_above + summary.n_below;
  std::string text = std::to_string(limits) + " of " + bars_words(subject.estimate.n()) +
                     (limits == 1 ? " is" : " are") +
                     " known only by a limit; mean and interval are the most likely ones with "
                     "these counted as limits, normal scatter assumed.";
  const BreakClass& plain = summary.break_classes.front();
  if (plain.mean) {
    text += " The plain mean of the " + std::to_string(summary.n_exact) + " others (" +
            plain.name + ") is " +
            fixed_words(*plain.mean, decimals_of(plain.interval, plain.mean)) + " " +
            unit_words(subject.quantity) + ".";
  }
  subject.say("censored", Severity::Note, text);
  if (summary.n_exact < summary.n_above + summary.n_below) {
    subject.say("mostly-limits",
                Severity::Warning,
                "More bars are limits than values: the mean leans on the assumed form of the "
                "scatter. Compare it with the lognormal view and the survival curve.");
  }
}

void say_break_types(const Subject& subject) {
  const GroupSummary& summary = subject.group.summary;
  const std::vector<std::size_t> apart = subject.group.bars_of(BarRole::Apart);
  if (!apart.empty()) {
    subject.say("break-types-apart",
                Severity::Note,
                subject.names_of(apart) +
                    " broke in another way than the bars of the mean and are shown apart; ISO "
                    "179-1 and ISO 180 do not average break types together.");
  }
  if (summary.pooled_break_types) {
    subject.say("break-types-pooled",
                Severity::Warning,
                "Partial breaks are averaged with complete and hinge breaks because that was "
                "asked for; ISO 179-1 and ISO 180 keep them apart.");
  }
  int known = 0;
  int unknown = 0;
  for (const std::size_t i : summary.exact_bars) {
    ++(subject.bars[i].break_type == BreakType::Unknown ? unknown : known);
  }
  if (known > 0 && unknown > 0) {
    subject.say("break-type-missing",
                Severity::Note,
                "The break type of " + bars_words(unknown) +
                    " is not given; they are averaged with the others as if of the same type.");
  }
}

void say_scatter(const Subject& subject) {
  const GroupSummary& summary = subject.group.summary;
  if (summary.grubbs && summary.grubbs->flagged) {
    const std::size_t bar = summary.exact_bars[summary.grubbs->farthest];
    subject.say("outlier",
                Severity::Warning,
                "Bar " + subject.bars[bar].id + " lies farther from the mean (" +
                    fixed_text(summary.grubbs->g, 2) + " s, Grubbs' limit " +
                    fixed_text(summary.grubbs->critical, 2) +
                    ") than scatter explains in 19 of 20 cases. It is counted: look for its "
                    "cause before leaving it out.");
  }
  if (summary.normal_scores && summary.normal_scores->flagged) {
    subject.say(
        "not-normal",
        Severity::Note,
        "The values do not follow a straight line of normal scores; look at the plot for "
        "two kinds of break or a bar that stands apart.");
  }
}

void say_not_counted(const Subject& subject) {
  for (const std::size_t i : subject.group.bars_of(BarRole::LeftOut)) {
    const std::string& reason = subject.bars[i].left_out_reason;
    subject.say("left-out",
                Severity::Note,
                "Bar " + subject.bars[i].id + " is shown but not counted" +
                    (reason.empty() ? "." : ": " + reason + "."));
  }
  const std::vector<std::size_t> missing = subject.group.bars_of(BarRole::NoValue);
  if (!missing.empty()) {
    subject.say("no-value",
                Severity::Warning,
                subject.names_of(missing) + " without a value in " +
                    unit_words(subject.quantity) + ": not counted.");
  }
  std::vector<std::size_t> unsettled;
  for (const std::size_t i : subject.group.summary.bars) {
    if (subject.bars[i].unsettled) unsettled.push_back(i);
  }
  if (!unsettled.empty()) {
    subject.say(
        "unsettled",
        Severity::Warning,
        subject.names_of(unsettled) +
            " tested before the mass had settled: moisture may have changed the energy.");
  }
}

void say_typed_limits(const Subject& subject) {
  std::vector<std::size_t> typed;
  for (const std::size_t i : subject.group.bars_of(BarRole::Above)) {
    if (subject.bars[i].limit != Limit::Above) typed.push_back(i);
  }
  if (!typed.empty()) {
    subject.say("non-break-as-limit",
                Severity::Note,
                subject.names_of(typed) +
                    " did not break (N): the energy is taken as 'more than', not as a value.");
  }
}

}  // namespace

Remarks group_remarks(const std::vector<Bar>& bars,
                      Quantity quantity,
                      const BarGroup& group,
                      const GroupEstimate& estimate) {
  Remarks remarks;
  const Subject subject{bars, quantity, group, estimate, remarks};
  say_method(subject);
  say_likelihood(subject);
  say_break_types(subject);
  say_typed_limits(subject);
  say_scatter(subject);
  say_not_counted(subject);
  return remarks;
}

}  // namespace swingloss
