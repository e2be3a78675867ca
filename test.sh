#!/bin/bash
# SPDX-License-Identifier: Apache-2.0
# Installs what the tests need and runs them. Usage: ./test.sh [--long] [--only LANE]... [--help]
# The lanes and what each of them counts are in tools/run_lanes.py.
set -euo pipefail

project=$(cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")" && pwd)
# shellcheck source=tools/packages.sh
. "$project/tools/packages.sh"

packages="python3 gcc clang clang-format clang-tidy libclang-rt-14-dev lld-14 wasi-libc"
packages="$packages libclang-rt-14-dev-wasm32 libcmocka-dev libgsl-dev poppler-utils qpdf binutils"
for argument in "$@"; do
    if [ "$argument" = --long ] || [ "$argument" = bench ]; then
        packages="$packages time" # of the benchmarks
    fi
done
command -v node >/dev/null 2>&1 || packages="$packages nodejs"
command -v chromium >/dev/null 2>&1 || packages="$packages chromium"
command -v npm >/dev/null 2>&1 || packages="$packages npm"

say "packages"
# shellcheck disable=SC2046,SC2086 # one word a package
need_packages $(program_packages) $packages
need_node "$project" || say "      no node that the page's tools could run with"

exec python3 "$project/tools/run_lanes.py" "$@"
