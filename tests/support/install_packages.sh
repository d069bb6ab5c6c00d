#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Installs with apt-get what is missing to build, run and test swingloss on Debian 12, and
# nothing when nothing is missing. The one list of packages; demo/run.sh and tests/run.sh use it.
# With --browser: what the tests of the desk in a browser want, where a command of it is missing;
# that one fails without harm, and those tests then skip.
set -euo pipefail

packages=(
  g++ cmake ninja-build pkg-config                                # build
  libeigen3-dev libceres-dev libboost-math-dev                    # matrices, fits, distributions
  libopencv-dev                                                   # pictures and tags
  libavformat-dev libavcodec-dev libavutil-dev libswscale-dev     # clips
  nlohmann-json3-dev libcli11-dev                                 # files and arguments
  libcpp-httplib-dev                                              # the desk's local server
  gnuplot-nox fonts-dejavu-core fontconfig                        # charts and their letters
  catch2                                                          # tests
)

if [ "${1:-}" = --browser ]; then
  packages=()
  command -v node > /dev/null || packages+=(nodejs)
  command -v npm > /dev/null || packages+=(npm)
  command -v chromium > /dev/null || packages+=(chromium)
  [ ${#packages[@]} -gt 0 ] || exit 0
fi

if ! command -v dpkg-query > /dev/null || ! command -v apt-get > /dev/null; then
  echo "This system has no apt-get. Install by its own means what these Debian packages hold:" >&2
  echo "  ${packages[*]}" >&2
  exit 0 # the configure step names what is really missing
fi

missing=()
for package in "${packages[@]}"; do
  status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2> /dev/null || true)
  [ "$status" = installed ] || missing+=("$package")
done
[ ${#missing[@]} -gt 0 ] || exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo > /dev/null; then
    echo "Missing: ${missing[*]}. Run this once as root, or install them and start again." >&2
    exit 2
  fi
  as_root=(sudo)
fi
echo "Installing with apt-get: ${missing[*]}"
"${as_root[@]}" apt-get update -q
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
  apt-get install -y -q --no-install-recommends "${missing[@]}"
