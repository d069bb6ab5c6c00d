#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Builds the fuzzers with clang (build/fuzz) and runs each for SECONDS from tests/fuzz/corpus and
# tests/fuzz/found; prints the table of tests/fuzz/table.md. What it finds stays in
# build/fuzz/found/TARGET: mend it, then copy the file to tests/fuzz/found/TARGET, where the
# ordinary test fuzz/replay takes it up. With "table" for SECONDS nothing is run: the table is that
# of the last run of each target, from its log.
# Usage: tests/fuzz/run.sh SECONDS|table [TARGET]...
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
seconds="${1:?usage: run.sh SECONDS|table [TARGET]...}"
shift
targets=("$@")
[ ${#targets[@]} -gt 0 ] || targets=(series_csv angles_csv series_json rig_json record_json clip photo)
build=build/fuzz

built() {
  command -v clang++ > /dev/null || { echo "skipped: there is no clang++ (Debian package clang)"; exit 77; }
  cmake -S . -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=None \
    -DCMAKE_CXX_FLAGS="-O1 -gline-tables-only" -DSWINGLOSS_FUZZ=ON > /dev/null
  cmake --build "$build" -j "${JOBS:-$(nproc)}" --target "${targets[@]/#/fuzz_}" > "$build/build.log" ||
    { tail -30 "$build/build.log" >&2; exit 2; }
}

run() { # TARGET
  local target="$1" longest=4096
  # A folder that is lost at the next build holds the grown corpus; the kept one stays small.
  mkdir -p "$build/grown/$target" "$build/found/$target" "tests/fuzz/found/$target"
  case "$target" in clip | photo | record_json) longest=16384 ;; esac
  # The libraries below us are not watched; what leaks in them at a refusal is theirs.
  ASAN_OPTIONS=detect_leaks=0:allocator_may_return_null=1 \
    "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -max_len="$longest" -timeout=20 \
    -rss_limit_mb=3000 -artifact_prefix="$build/found/$target/" -print_final_stats=1 \
    "$build/grown/$target" "tests/fuzz/corpus/$target" "tests/fuzz/found/$target" > "$build/$target.log" 2>&1 || true
}

row() { # TARGET
  local log="$build/$1.log" inputs ran edges found reason
  inputs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  ran=$(sed -n 's/^Done [0-9]* runs in \([0-9]*\) second.*/\1/p' "$log")
  edges=$(grep -o 'cov: [0-9]*' "$log" | tail -1 | cut -d' ' -f2)
  # What was only slow is kept, too, but is no finding: other work on the machine makes it so.
  found=$(grep '^artifact_prefix=' "$log" | grep -vc '/slow-unit-' || true)
  reason=$(sed -n 's/^SUMMARY: //p' "$log" | tail -1 | sed "s#$PWD/##g; s#|#/#g")
  findings=$((findings + found))
  echo "| \`$1\` | ${ran:-ended early} | ${inputs:-0} | ${edges:-0} | $found${reason:+: $reason} |"
}

if [ "$seconds" != table ]; then
  built
  for target in "${targets[@]}"; do run "$target"; done
fi
findings=0
echo "| target | seconds | inputs | edges seen | findings |"
echo "| --- | --- | --- | --- | --- |"
for target in "${targets[@]}"; do row "$target"; done
[ "$findings" -eq 0 ]
