#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The shells' scripts hold every command and option that --help names; bash's is tried out, the
# others are parsed where their shells are here.
# Usage: completion.sh BUILD_FOLDER
set -euo pipefail
program="$1/swingloss"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

for shell in bash zsh fish; do "$program" completion "$shell" > "$scratch/$shell"; done
commands=$("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ "$(wc -w <<< "$commands")" -ge 11 ] || fail "--help names too few commands: $commands"
for command in $commands; do
  for option in $("$program" "$command" --help | grep -o -- '^  \(-[a-z],\)*--[a-z0-9-]*' | grep -o -- '--.*'); do
    grep -q -- "^    $command) words='.*$option" "$scratch/bash" || fail "bash: $command $option"
    grep -q -- "'\*$option\[" "$scratch/zsh" || fail "zsh: $command $option"
    grep -q -- "from $command'.* -l ${option#--} " "$scratch/fish" || fail "fish: $command $option"
  done
done

# What bash offers after these words; the last one is being typed.
source "$scratch/bash"
offered() {
  COMP_WORDS=("$@")
  COMP_CWORD=$(($# - 1))
  COMPREPLY=()
  _swingloss
  echo "${COMPREPLY[*]}"
}
expect() { # WANTED WORD...
  local wanted=$1
  shift
  local got
  got=$(offered "$@")
  [ "$got" = "$wanted" ] || fail "after '$*': '$got', wanted '$wanted'"
}
expect "run" swingloss ru
expect "--charts" swingloss run my-series --ch
expect "sticker" swingloss swing a.mp4 --mode st
expect "" swingloss run my-series --jobs ""
expect "bash" swingloss completion ba
cd "$scratch"
mkdir "a folder with blanks"
expect "a folder with blanks" swingloss run "a f"

if command -v zsh > /dev/null; then zsh -n "$scratch/zsh" || fail "zsh cannot read its script"; fi
if command -v fish > /dev/null; then fish -n "$scratch/fish" || fail "fish cannot read its script"; fi
echo "every command and option is there"
