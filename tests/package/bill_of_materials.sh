#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# What the program is made of, for those who keep watch over their machines: every Debian package
# whose library it loads, and those that it runs or reads, with versions, as SPDX 2.3 JSON.
# SOURCE_DATE_EPOCH, where it is set, is the time of making, so that the same machine gives the
# same bytes.
# Usage: bill_of_materials.sh PROGRAM > swingloss.spdx.json
set -euo pipefail
program=$1

libraries=$(ldd "$program" | sed -n 's/.*=> \(.*\) (0x.*/\1/p; s/^\t\(\/.*\) (0x.*/\1/p')
# dpkg knows some files by the path without /usr, some by the one with it.
places=$(while read -r library; do
  real=$(realpath "$library")
  printf '%s\n' "$library" "$real" "${library#/usr}" "${real#/usr}" "/usr$library"
done <<< "$libraries" | sort -u)
linked=$(xargs -d '\n' dpkg-query -S <<< "$places" 2> /dev/null | cut -d: -f1 | sort -u || true)
run="gnuplot-nox fonts-dejavu-core fontconfig"
version=$("$program" --version | cut -d' ' -f2)
made=$(date -u -d "@${SOURCE_DATE_EPOCH:-$(date +%s)}" +%Y-%m-%dT%H:%M:%SZ)

id_of() { echo "SPDXRef-$(sed 's/[^A-Za-z0-9.-]/-/g' <<< "$1")"; }

package_entry() { # NAME VERSION REFERENCE
  printf '    {"name": "%s", "SPDXID": "%s", "versionInfo": "%s", "downloadLocation": "NOASSERTION",' \
    "$1" "$(id_of "$1")" "$2"
  printf ' "filesAnalyzed": false, "licenseConcluded": "NOASSERTION", "licenseDeclared": "%s",' "$3"
  printf ' "copyrightText": "NOASSERTION"'
  if [ "$1" != swingloss ]; then
    printf ', "externalRefs": [{"referenceCategory": "PACKAGE-MANAGER", "referenceType": "purl",'
    printf ' "referenceLocator": "pkg:deb/debian/%s@%s"}]' "${1//+/%2B}" "${2//+/%2B}"
  fi
  printf '}'
}

cat << END
{
  "spdxVersion": "SPDX-2.3", "dataLicense": "CC0-1.0", "SPDXID": "SPDXRef-DOCUMENT",
  "name": "swingloss-$version", "documentNamespace": "urn:swingloss:bill-of-materials:$version",
  "creationInfo": {"created": "$made", "creators": ["Tool: bill_of_materials.sh"]},
  "packages": [
END
package_entry swingloss "$version" Apache-2.0
for name in $linked $run; do
  known=$(dpkg-query -W -f '${Version}\n' "$name" 2> /dev/null | head -n 1 || true)
  printf ',\n'
  package_entry "$name" "${known:-not installed}" NOASSERTION
done
printf '\n  ],\n  "relationships": [\n'
printf '    {"spdxElementId": "SPDXRef-DOCUMENT", "relationshipType": "DESCRIBES",'
printf ' "relatedSpdxElement": "SPDXRef-swingloss"}'
for name in $linked; do
  printf ',\n    {"spdxElementId": "SPDXRef-swingloss", "relationshipType": "DYNAMIC_LINK",'
  printf ' "relatedSpdxElement": "%s"}' "$(id_of "$name")"
done
for name in $run; do
  printf ',\n    {"spdxElementId": "SPDXRef-swingloss", "relationshipType": "DEPENDS_ON",'
  printf ' "relatedSpdxElement": "%s"}' "$(id_of "$name")"
done
printf '\n  ]\n}\n'
