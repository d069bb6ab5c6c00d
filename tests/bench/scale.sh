#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# What a bar costs in series of 10 to MOST bars: the first run, one that finds all unchanged, and
# one that finds so by reading every record and clip (as in a copied folder: results/settled.json
# is of no use there).
# Seconds of processor time, of this program and of gnuplot (other work on the machine does not
# count), and the largest memory of the first and the last. Prints a table.
# Usage: scale.sh PROGRAM SERIES_MAKER SCRATCH [MOST_TYPED [MOST_FILMED]]
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")"
mkdir -p "$3"
scratch="$(realpath "$3")"
cd "$scratch"

# Processor seconds and largest memory [MB] of `run` on FOLDER.
cost() { # FOLDER
  /usr/bin/time -f '%U %S %M' -o time.txt "$program" run "$1" --quiet > /dev/null 2>&1 || true
  tail -1 time.txt | awk '{ printf "%.2f %.0f", $1 + $2, $3 / 1024 }'
}

row() { # KIND BARS FILMED TYPED
  local first again read_all
  rm -rf series
  "$maker" series "$3" "$4"
  first=$(cost series)
  again=$(cost series)
  rm series/results/settled.json
  read_all=$(cost series)
  awk -v kind="$1" -v bars="$2" -v first="${first% *}" -v again="${again% *}" -v all="${read_all% *}" -v one="${first#* }" -v other="${read_all#* }" \
    'BEGIN { printf "| %s | %d | %.2f | %.1f | %.2f | %.2f | %.1f | %d |\n", kind, bars, first, 1000 * first / bars, again, all, 1000 * all / bars, (one > other ? one : other) }'
}

echo "| bars | number | first run, s | a bar, ms | unchanged, s | read again, s | a bar, ms | MB |"
echo "| --- | --- | --- | --- | --- | --- | --- | --- |"
for ((bars = 10; bars <= ${4:-10000}; bars *= 10)); do row typed "$bars" 0 "$bars"; done
for ((bars = 10; bars <= ${5:-100}; bars *= 10)); do row filmed "$bars" "$bars" 0; done
