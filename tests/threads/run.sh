#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# A small filmed series on four threads and on one: the same bytes.
# Usage: run.sh PROGRAM SERIES_MAKER SCRATCH [BARS]
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")"
rm -rf "$3"
mkdir -p "$3/four" "$3/one"
cd "$3"
"$maker" four/s "${4:-3}" 2
cp -r four/s one/s
for threads in four one; do
  jobs=4
  [ "$threads" = four ] || jobs=1
  (cd "$threads" && "$program" run s --quiet --jobs "$jobs") || { echo "FAILED: $jobs threads: exit code $?" >&2; exit 1; }
done
diff -r -x settled.json one/s/results four/s/results || { echo "FAILED: the results differ" >&2; exit 1; }
echo "all $(find one/s/results -type f | wc -l) files have the same bytes"
