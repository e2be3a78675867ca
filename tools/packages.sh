# SPDX-License-Identifier: Apache-2.0
# Sourced by demo.sh and test.sh. Installs Debian packages by name, only those that are missing.

say() {
    printf '%s\n' "$*" >&2
}

# What dpkg does not know as installed, of the names given.
missing_packages() {
    local name
    for name in "$@"; do
        case "$(dpkg-query -W -f='${db:Status-Abbrev}' "$name" 2>/dev/null)" in
        ii*) ;;
        *) printf '%s ' "$name" ;;
        esac
    done
}

run_as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        env DEBIAN_FRONTEND=noninteractive "$@"
    elif command -v sudo >/dev/null 2>&1; then
        sudo env DEBIAN_FRONTEND=noninteractive "$@"
    else
        say "This needs root or sudo: $*"
        return 1
    fi
}

# need_packages NAME...: returns 1 when one of them could not be installed.
need_packages() {
    if ! command -v dpkg-query >/dev/null 2>&1; then
        say "Not a Debian system: taking for granted what these packages hold: $*"
        return 0
    fi
    local missing
    missing=$(missing_packages "$@")
    if [ -z "$missing" ]; then
        say "      nothing to install"
        return 0
    fi
    say "      installing: $missing"
    local log
    log=$(mktemp)
    # A list that cannot be renewed is no reason to stop: the old one may do.
    run_as_root apt-get -q update >"$log" 2>&1 || say "      (the list of packages could not be renewed)"
    # shellcheck disable=SC2086 # one word a package
    if ! run_as_root apt-get -q install -y --no-install-recommends $missing >>"$log" 2>&1; then
        tail -n 20 "$log" >&2
        say "These packages could not be installed: $missing"
        rm -f "$log"
        return 1
    fi
    rm -f "$log"
}

# What the program itself is built from; the same list for demo.sh and test.sh.
program_packages() {
    printf '%s ' libc6-dev meson ninja-build pkgconf libfyaml-dev libcairo2-dev libfreetype-dev \
        libmicrohttpd-dev fonts-crosextra-carlito
    # Any C compiler will do; gcc is fetched when there is none.
    if ! command -v cc >/dev/null 2>&1 && ! command -v gcc >/dev/null 2>&1 &&
        ! command -v clang >/dev/null 2>&1; then
        printf '%s ' gcc
    fi
}

# True when the node on the path is new enough for the page's tools.
node_is_new() {
    command -v node >/dev/null 2>&1 && node -e 'const [a, b] = process.versions.node.split(".").map(Number);
        process.exit(a > 22 || (a === 22 && b >= 12) || (a === 20 && b >= 19) ? 0 : 1)'
}

# need_node PROJECT: where Debian's node is too old for the page's tools, the one of tools/node, as locked
# there, goes before it on the path. Returns 1 when there is none either.
need_node() {
    node_is_new && return 0
    command -v npm >/dev/null 2>&1 || return 1
    local folder=$1/tools/node kept bin
    kept=$folder/node_modules/.package-lock-kept.json
    if ! cmp -s "$folder/package-lock.json" "$kept"; then
        (cd "$folder" && npm ci --ignore-scripts --no-audit --no-fund) >/dev/null 2>&1 || return 1
        cp "$folder/package-lock.json" "$kept"
    fi
    for bin in "$folder"/node_modules/node-linux-*/bin; do
        PATH=$bin:$PATH
    done
    export PATH
    hash -r
    node_is_new
}
