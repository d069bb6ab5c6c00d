# SPDX-License-Identifier: Apache-2.0
# shellcheck shell=bash disable=SC2154
# What the scripts here share. To be sourced after: set -euo pipefail; program, maker and scratch
# set.

skip() {
  echo "skipped: $1"
  exit 77
}

fail() {
  echo "FAILED: $1" >&2
  exit 1
}

# Two equal series of $1 small bars: $scratch/parts, and $scratch/one/parts with its results. The
# latter may be that of an earlier trial of the same program: SINGLE_RUN=SCRATCH/one.
two_series() {
  rm -rf "$scratch"
  mkdir -p "$scratch/one"
  "$maker" "$scratch/parts" "$1"
  if [ -n "${SINGLE_RUN:-}" ]; then
    cp -r "$SINGLE_RUN/parts" "$scratch/one/parts"
    diff -rq "$scratch/parts/clips" "$scratch/one/parts/clips" || fail "$SINGLE_RUN is of another series"
    return
  fi
  cp -r "$scratch/parts" "$scratch/one/parts"
  (cd "$scratch/one" && "$program" run parts --quiet) || fail "the single run ended with $?"
}

same_results() {
  diff -r -x settled.json "$scratch/one/parts/results" "$scratch/parts/results" || fail "the results differ"
  local count
  count=$(find "$scratch/parts/results/swings" -name '*.json' | wc -l)
  [ "$count" -eq "$1" ] || fail "$count of $1 bars are there"
  echo "$count bars; all $(find "$scratch/parts/results" -type f | wc -l) files have the same bytes"
}

# Waits until $1 records of the series are stored, then kills one swingloss that measures a part.
# The processes are told by their command line and by the folder they work in. It waits a minute,
# and six seconds more for each of those records.
kill_one_part() {
  local wanted="$1" pid
  for _ in $(seq 1 $((3000 + 300 * wanted))); do
    if [ "$(find "$scratch/parts/results/swings" -name '*.json' 2> /dev/null | wc -l)" -ge "$wanted" ]; then
      for pid in $(pgrep -f "^$program run .*--only" || true); do
        [ "$(readlink "/proc/$pid/exe")" = "$program" ] || continue
        [ "$(readlink "/proc/$pid/cwd")" = "$scratch" ] || continue
        kill -9 "$pid" && echo "killed process $pid: $(find "$scratch/parts/results/swings" -name '*.json' | wc -l) records were stored" && return 0
      done
    fi
    sleep 0.02
  done
  fail "no part was seen at work"
}
