#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# One swing, one surface and one rank under valgrind's memcheck: no invalid access and no use of
# what was never written. Ends with 1 where one was found. What is left over at the end is not
# counted: libraries keep caches until the process is gone. Nothing has to be suppressed.
# Usage: valgrind.sh PROGRAM SERIES_MAKER PHOTO_MAKER SCRATCH
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")" photographer="$(realpath "$3")"
command -v valgrind > /dev/null || { echo "skipped: there is no valgrind (Debian package valgrind)"; exit 77; }
rm -rf "$4"
mkdir -p "$4"
cd "$4"
"$maker" s 1
"$maker" typed 0 40
"$photographer" card.png 1400

findings=0
checked() { # NAME ARGUMENT...
  local name="$1" status=0 begin
  shift
  begin=$(date +%s)
  valgrind --quiet --error-exitcode=99 --num-callers=30 --track-origins=yes \
    --log-file="$name.valgrind" \
    "$program" "$@" > "$name.out" 2> "$name.err" || status=$?
  if [ -s "$name.valgrind" ]; then
    findings=$((findings + 1))
    cat "$name.valgrind"
  fi
  echo "$name: exit code $status, $(grep -c ' at 0x' "$name.valgrind" || true) complaints, $(($(date +%s) - begin)) s"
  [ "$status" -eq 0 ] || { findings=$((findings + 1)); tail -5 "$name.err"; }
}
checked swing swing s/clips/F1.mp4 --rig s/rig.json --jobs 1 --json swing.json
checked surface surface card.png --ruler 80 --json surface.json
checked rank rank typed/specimens.csv --json rank.json
[ "$findings" -eq 0 ]
