#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Real values through `swingloss rank`: four impact machines of NIST (joules), and printed tensile
# bars (strengths in MPa, which stand in the energy column: read J as MPa), glass- and
# carbon-filled, annealed and not, along and across the layers.
#
#   tests/bench/real_values.sh PROGRAM    needs ../shared/real/values beside the checkout
set -eu
program=$1
values=$(dirname "$0")/../../../shared/real/values
if [ ! -f "$values/printed_tensile.csv" ]; then
  echo "skipped: no ../shared/real/values beside the checkout"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

awk -F, 'NR == 1 { print "id,material,energy_J"; next }
  { sub(/\r$/, ""); print "n" NR "," $3 "," $2 }' \
  "$values/impact_four_machines.csv" > "$work/four-machines.csv"
"$program" rank "$work/four-machines.csv"

# Filled filaments, and those that were tried annealed as well.
awk -F, 'NR == 1 { print "id,material,condition,orientation,energy_J"; next }
  { sub(/\r$/, ""); name = $2; condition = "as-made"
    if (sub(/ \(annealed\)/, "", name)) condition = "annealed"
    key = $1 " " name " " $3
    row[NR] = "n" NR "," key "," condition "," ($4 == "xy" ? "along" : "across") "," $9
    of[NR] = key
    if (condition == "annealed" || name ~ /GF|CF/) wanted[key] = 1 }
  END { for (i = 2; i <= NR; ++i) if (of[i] in wanted) print row[i] }' \
  "$values/printed_tensile.csv" > "$work/printed-bars.csv"
"$program" rank "$work/printed-bars.csv" --base-orientation along
