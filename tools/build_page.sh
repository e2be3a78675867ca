#!/bin/bash
# SPDX-License-Identifier: Apache-2.0
# Builds the page into the folder page/ of a build folder: the heart as wasm, then the static files.
# Says so and does nothing when node, npm or clang for wasm32 are not there: the program works without.
# Usage: tools/build_page.sh [BUILD]
set -euo pipefail

project=$(cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/.." && pwd)
build=$(readlink -m "${1:-$project/build}")
heart=$build/heart
# shellcheck source=tools/packages.sh
. "$project/tools/packages.sh"

skip() {
    printf '      the page is not built: %s\n' "$*" >&2
    exit 0
}

for tool in node npm; do
    command -v "$tool" >/dev/null 2>&1 || skip "$tool is not installed"
done
need_node "$project" || skip "it needs node 20.19 or newer"

log=$(mktemp)
trap 'rm -f "$log"' EXIT

# Packages exactly as locked, fetched again only when the lock has changed.
kept=$project/web/node_modules/.package-lock-kept.json
if ! cmp -s "$project/web/package-lock.json" "$kept"; then
    (cd "$project/web" && npm ci --ignore-scripts --no-audit --no-fund) >"$log" 2>&1 ||
        { tail -n 5 "$log" >&2 && skip "its packages could not be installed"; }
    cp "$project/web/package-lock.json" "$kept"
fi
(cd "$project/web" && npm run --silent build -- --outDir "$build/page" --emptyOutDir) >"$log" 2>&1 ||
    { cat "$log" >&2 && exit 1; }

# Without a heart of its own the page asks the server for each answer, and says so.
if [ ! -f "$heart/build.ninja" ]; then
    meson setup "$heart" "$project" --cross-file "$project/tools/wasm32.cross" >"$log" 2>&1 || {
        rm -rf "$heart"
        printf '      page built without its heart: clang for wasm32 is not installed\n' >&2
        exit 0
    }
fi
ninja -C "$heart" wasm/heart.wasm >"$log" 2>&1 || { cat "$log" >&2 && exit 1; }
cp "$heart/wasm/heart.wasm" "$build/page/heart.wasm"
printf '      page built: %s serve FOLDER\n' "$build/eavesmith" >&2
