#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The bill of materials is JSON that holds each linked library's package once, with its version.
# Usage: materials.sh BUILD_FOLDER
set -euo pipefail
program="$1/swingloss"
here=$(dirname "${BASH_SOURCE[0]}")
if ! command -v dpkg-query > /dev/null; then
  echo "skipped: no dpkg here"
  exit 77
fi
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

export SOURCE_DATE_EPOCH=1700000000
bash "$here/bill_of_materials.sh" "$program" > "$scratch/one.json"
bash "$here/bill_of_materials.sh" "$program" > "$scratch/two.json"
cmp "$scratch/one.json" "$scratch/two.json" || fail "made twice, two bills"

cat > "$scratch/read.cmake" << 'END'
file(READ "${BILL}" bill)
string(JSON count LENGTH "${bill}" packages)
math(EXPR last "${count} - 1")
foreach(k RANGE ${last})
  string(JSON name GET "${bill}" packages ${k} name)
  string(JSON version GET "${bill}" packages ${k} versionInfo)
  string(JSON id GET "${bill}" packages ${k} SPDXID)
  message(NOTICE "${name} ${version} ${id}")
endforeach()
END
cmake "-DBILL=$scratch/one.json" -P "$scratch/read.cmake" 2> "$scratch/list" || fail "not JSON"
cat "$scratch/list"
[ "$(cut -d' ' -f1 "$scratch/list" | sort | uniq -d | wc -l)" -eq 0 ] || fail "a package twice"

# Each library that the program asks for by name is in a package of the list.
for library in $(objdump -p "$program" | sed -n 's/^ *NEEDED *//p'); do
  path=$(ldd "$program" | sed -n "s|^\t$library => \(.*\) (0x.*|\1|p")
  [ -n "$path" ] || continue # the loader itself
  real=$(realpath "$path")
  owner=$(dpkg-query -S "$path" "$real" "${path#/usr}" "${real#/usr}" "/usr$path" 2> /dev/null |
    head -n 1 | cut -d: -f1 || true)
  [ -n "$owner" ] || fail "no package owns $path"
  grep -q "^$owner " "$scratch/list" || fail "$library of $owner is not in the bill"
done
