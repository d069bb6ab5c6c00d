#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Installs what is missing, builds program and tests (preset release) and runs the tests.
# Usage: tests/run.sh [CTEST OPTION]...      for instance: tests/run.sh -L swing
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

tests/support/install_packages.sh
tests/support/install_packages.sh --browser || echo "Tests in a browser will be skipped." >&2
cmake --preset release
cmake --build --preset release
ctest --preset release --parallel "$(nproc)" "$@"
