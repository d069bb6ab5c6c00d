// SPDX-License-Identifier: Apache-2.0
#include "series/settle.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "series/calendar.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr double kDay_s = 86400.0;

bool speaks_for_group(const WeighedPiece& piece, const Specimen& specimen) {
  return piece.material == specimen.material &&
         (piece.condition.empty() || piece.condition == specimen.condition);
}

/// Indices of the bars that each piece speaks for.
std::vector<std::vector<std::size_t>> bars_of_pieces(const std::vector<WeighedPiece>& pieces,
                                                     const std::vector<BarResult>& bars) {
  std::vector<std::vector<std::size_t>> members(pieces.size());
  for (std::size_t b = 0; b < bars.size(); ++b) {
    const Specimen& specimen = bars[b].specimen;
    const auto own = std::find_if(pieces.begin(), pieces.end(), [&](const WeighedPiece& p) {
      return p.id == specimen.id;
    });
    const auto piece =
        own != pieces.end()
            ? own
            : std::find_if(pieces.begin(), pieces.end(), [&](const WeighedPiece& p) {
                return speaks_for_group(p, specimen);
              });
    if (piece == pieces.end()) continue;
    members[static_cast<std::size_t>(piece - pieces.begin())].push_back(b);
  }
  return members;
}

/// When a bar was broken, from the piece's first row [s]; nothing when it is not said.
std::optional<double> tested_s(const Specimen& specimen, const WeighedPiece& piece) {
  if (specimen.tested_on.empty()) return {};
  if (piece.first_day) {
    const std::optional<int> day = day_number(specimen.tested_on);
    return day ? std::optional<double>(kDay_s * (*day - *piece.first_day)) : std::nullopt;
  }
  const std::optional<double> day = parse_number(specimen.tested_on);
  return day ? std::optional<double>(kDay_s * (*day - piece.first_typed_day)) : std::nullopt;
}

void mark(const WeighedPiece& piece, const Conditioning& judged, BarResult& bar) {
  const std::optional<double> tested = tested_s(bar.specimen, piece);
  const Settled settled = tested ? settled_at(judged, *tested) : judged.settled;
  if (settled != Settled::No) return;
  bar.bar.unsettled = true;
  std::string text = "By the weighings of " + piece.id + " the bar was broken before its mass ";
  text += "had settled";
  if (tested && judged.settles_at_s) {
    text += ": on day " + fixed_text(*tested / kDay_s, 0) + ", settled from day " +
            fixed_text(*judged.settles_at_s / kDay_s, 0);
  }
  bar.remarks.push_back({"unsettled", Severity::Warning, text + "."});
}

}  // namespace

std::vector<ConditioningRecord> settle_bars(const std::string& path,
                                            std::vector<BarResult>& bars) {
  const std::vector<WeighedPiece> pieces = read_masses(path);
  const std::vector<std::vector<std::size_t>> members = bars_of_pieces(pieces, bars);
  std::vector<ConditioningRecord> records;
  for (std::size_t p = 0; p < pieces.size(); ++p) {
    const WeighedPiece& piece = pieces[p];
    if (members[p].empty()) {
      throw InputError({path,
                        "piece " + piece.id,
                        "an id that is no bar's, and no material that bars have",
                        "a bar's id, or material (and condition) of the bars it stands for",
                        "Correct the id, or fill in the column material."});
    }
    ConditioningRecord record;
    record.name = piece.id;
    record.bars = members[p];
    record.masses = piece.masses;
    record.sizes = piece.sizes;
    if (!piece.masses.masses.empty()) {
      record.judged = judge_conditioning(piece.masses);
      for (const std::size_t b : members[p]) mark(piece, *record.judged, bars[b]);
    }
    if (!piece.sizes.sizes.empty()) record.size_changes = size_changes(piece.sizes);
    records.push_back(std::move(record));
  }
  return records;
}

}  // namespace swingloss
