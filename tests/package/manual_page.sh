#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The manual page names every command and option, and the formatters that are here take it
# without a complaint.
# Usage: manual_page.sh BUILD_FOLDER
set -euo pipefail
program="$1/swingloss"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

"$program" manual > "$scratch/swingloss.1"
plain=$(sed 's/\\-/-/g; s/\\f[BIR]//g' "$scratch/swingloss.1")

commands=$("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ "$(wc -w <<< "$commands")" -ge 11 ] || fail "--help names too few commands: $commands"
for command in $commands; do
  grep -q "^.SS $command\$" <<< "$plain" || fail "no section on $command"
  for option in $("$program" "$command" --help | grep -o -- '--[a-z0-9-]*' | sort -u); do
    grep -q -- "$option" <<< "$plain" || fail "nothing on $command $option"
  done
done

checked=no
if command -v mandoc > /dev/null; then
  mandoc -T lint -W warning "$scratch/swingloss.1" || fail "mandoc complains"
  checked=yes
fi
if command -v groff > /dev/null; then
  groff -man -Tutf8 -ww "$scratch/swingloss.1" > "$scratch/page" 2> "$scratch/complaints"
  [ ! -s "$scratch/complaints" ] || { cat "$scratch/complaints"; fail "groff complains"; }
  sed 's/.\x08//g' "$scratch/page" | grep '^COMMANDS$' > /dev/null || fail "groff gave no page"
  checked=yes
fi
echo "formatted: $checked"
