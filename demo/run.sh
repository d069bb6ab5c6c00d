#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# From nothing to a ranked table: installs what is missing, builds the program, renders the demo
# series, measures it, and compares what came out with the rendered truth.
# Usage: demo/run.sh [FOLDER]      FOLDER takes the series; default build/demo-series
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
series=$(realpath -m "${1:-$root/build/demo-series}")
cd "$root"

tests/support/install_packages.sh
cmake --preset release
cmake --build --preset release --target swingloss demo_compare

build/release/swingloss demo "$series"
echo

# One clip of the series is cut off on purpose, so a good run ends with 1: done, but for a bar.
status=0
build/release/swingloss run "$series" || status=$?
if [ "$status" -ne 1 ]; then
  echo "swingloss run ended with $status; 1 was expected, for the clip that is cut off." >&2
  exit 3
fi

echo
build/release/demo_compare "$series"
