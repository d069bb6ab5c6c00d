#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The desk in a real browser. Usage: run.sh PROGRAM SERIES_MAKER SCRATCH
# Ends with 77 (skipped) and says why where node, npm or Chromium are missing.
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
program="$1" maker="$2" scratch="$3"

skip() {
  echo "skipped: $1"
  exit 77
}

chromium="$(command -v chromium || command -v chromium-browser || true)"
[ -n "$chromium" ] || skip "there is no chromium"
command -v node > /dev/null || skip "there is no node"
command -v npm > /dev/null || skip "there is no npm"

mkdir -p "$scratch"
cp "$here/package.json" "$here/package-lock.json" "$here"/*.mjs "$scratch/"
cd "$scratch"
if ! cmp -s package-lock.json node_modules/.lock-used; then
  npm ci --ignore-scripts --no-audit --no-fund > npm.log 2>&1 || skip "npm could not fetch playwright-core and axe-core: $(tail -1 npm.log)"
  cp package-lock.json node_modules/.lock-used
fi
rm -rf series
"$maker" series
node desk.mjs "$program" "$chromium" "$scratch/series"
