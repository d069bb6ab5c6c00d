#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Packs what was built, twice: the same bytes. Lays the package out in an empty root and works
# with what lies there.
# Usage: debian_package.sh BUILD_FOLDER
set -euo pipefail
build=$(cd "$1" && pwd)

for tool in cpack dpkg-deb dpkg-shlibdeps; do
  if ! command -v "$tool" > /dev/null; then
    echo "skipped: no $tool here"
    exit 77
  fi
done

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

export SOURCE_DATE_EPOCH=1700000000
for turn in one two; do
  cpack --config "$build/CPackConfig.cmake" -B "$scratch/$turn" > "$scratch/$turn.log" 2>&1 ||
    { cat "$scratch/$turn.log"; fail "cpack"; }
done
package=$(echo "$scratch"/one/*.deb)
cmp "$package" "$scratch/two/$(basename "$package")" || fail "packed twice, two packages"

control=$(dpkg-deb -f "$package")
echo "$control"
for wanted in "Package: swingloss" gnuplot-nox fonts-dejavu-core fontconfig libopencv-core libavcodec libc6; do
  grep -q -- "$wanted" <<< "$control" || fail "the package's control says nothing of $wanted"
done

root="$scratch/root with blanks"
dpkg-deb -x "$package" "$root"
for file in usr/bin/swingloss usr/share/man/man1/swingloss.1.gz usr/share/doc/swingloss/copyright \
  usr/share/bash-completion/completions/swingloss usr/share/zsh/vendor-completions/_swingloss \
  usr/share/fish/vendor_completions.d/swingloss.fish \
  usr/share/doc/swingloss/samples/typed-values.csv; do
  [ -s "$root/$file" ] || fail "no $file in the package"
done
if grep -qa -- "$(pwd)" "$root/usr/bin/swingloss"; then fail "the program names its sources' place"; fi

program="$root/usr/bin/swingloss"
"$program" --version
"$program" --help > "$scratch/help"
grep -q "Exit codes" "$scratch/help" || fail "--help"
"$program" new "$scratch/series"
[ -s "$scratch/series/specimens.csv" ] || fail "new wrote no specimens.csv"
"$program" rank "$root/usr/share/doc/swingloss/samples/typed-values.csv" --report "$scratch/report" \
  > "$scratch/ranking"
[ -s "$scratch/report/report.html" ] || fail "rank wrote no report"
[ -s "$scratch/report/charts/ranking.png" ] || fail "rank drew no chart"

# Where dpkg may be used as root: its own installation into an empty root, and what it says then.
if [ "$(id -u)" -eq 0 ]; then
  installed="$scratch/installed"
  mkdir -p "$installed/var/lib/dpkg/info" "$installed/var/lib/dpkg/updates"
  : > "$installed/var/lib/dpkg/status"
  dpkg --root="$installed" --log="$scratch/dpkg.log" --force-depends -i "$package" \
    > "$scratch/install" 2>&1 || { cat "$scratch/install"; fail "dpkg -i"; }
  status=$(dpkg-query --admindir="$installed/var/lib/dpkg" -W -f '${db:Status-Status}' swingloss)
  [ "$status" = installed ] || fail "dpkg says $status"
  "$installed/usr/bin/swingloss" --version
  dpkg --root="$installed" --log="$scratch/dpkg.log" --purge swingloss > /dev/null
  [ ! -e "$installed/usr/bin/swingloss" ] || fail "purge left the program"
fi
sha256sum "$package" | sed "s|$scratch/one/||"
