#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The Snakemake workflow on this machine: two parts at a time, one killed midway, the same bytes.
# Usage: snakemake.sh PROGRAM SERIES_MAKER SCRATCH [BARS]
set -euo pipefail
program="$(realpath "$1")" maker="$(realpath "$2")"
mkdir -p "$3"
scratch="$(realpath "$3")" bars="${4:-24}"
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
source "$here/common.sh"
command -v snakemake > /dev/null || skip "there is no snakemake (Debian package snakemake)"

two_series "$bars"
cd "$scratch"
workflow=(snakemake -s "$here/../../samples/cluster/Snakefile" --cores 2 --nolock
  --config series=parts parts=4 "program=$program")
XDG_CACHE_HOME="$scratch/cache" "${workflow[@]}" --retries 2 > snakemake.log 2>&1 &
snakemake_pid=$!
kill_one_part $((bars / 3))
wait "$snakemake_pid" || { cat snakemake.log; fail "snakemake ended with an error"; }
grep -q "Trying to restart job" snakemake.log || fail "no part was started again"
same_results "$bars"
XDG_CACHE_HOME="$scratch/cache" "${workflow[@]}" > again.log 2>&1
grep -q "Nothing to be done" again.log || { cat again.log; fail "a second start does it all again"; }
