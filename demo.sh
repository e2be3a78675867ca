#!/bin/bash
# SPDX-License-Identifier: Apache-2.0
# Builds the program and makes the packet of the demo house. Starts from a bare Debian 12; quick when
# there is nothing to do. Usage: ./demo.sh
set -euo pipefail

project=$(cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")" && pwd)
build=$project/build
packet=$build/demo-packet
# shellcheck source=tools/packages.sh
. "$project/tools/packages.sh"

# The build folder knows which folder it was made for; one that was moved or copied is of no use.
build_is_of_this_project() {
    [ -f "$build/build.ninja" ] && [ -f "$build/meson-info/meson-info.json" ] &&
        grep -qF "\"source\": \"$project\"" "$build/meson-info/meson-info.json"
}

# Without tests, fuzz targets and benchmarks: their sources and packages are not the demo's business.
set_up_build() {
    if [ -d "$build/meson-private" ]; then
        rm -rf "$build"
    fi
    local log
    log=$(mktemp)
    meson setup "$build" "$project" -Dtests=false -Dfuzz=false -Dbench=false >"$log" 2>&1 ||
        { cat "$log" >&2 && rm -f "$log" && return 1; }
    rm -f "$log"
}

compile() {
    ninja -C "$build" eavesmith >&2
}

say "[1/3] packages"
# shellcheck disable=SC2046 # one word a package
need_packages $(program_packages)

say "[2/3] program"
build_is_of_this_project || set_up_build
# A folder set up long ago may be past reconfiguring: then once more from nothing.
compile || { say "      setting the build folder up again" && set_up_build && compile; }

"$project/tools/build_page.sh" "$build"

say "[3/3] packet of examples/demo/house.yaml"
"$build/eavesmith" packet "$project/examples/demo/house.yaml" -o "$packet"
say "The packet lies in:"
printf '%s\n' "$packet"
