#!/bin/bash
# SPDX-License-Identifier: Apache-2.0
# A million random plans, each a roof or one clear reason why not: any other end fails.
# Usage: tools/run_million_outlines.sh BUILD_DIR [COUNT]    (a build directory with -Dtests=true)
set -euo pipefail
build=${1:?a build directory}
count=${2:-1000000}
jobs=$(nproc)
share=$(((count + jobs - 1) / jobs))
pids=()
for ((i = 0; i < jobs; i++)); do
    EAVESMITH_SEED=$((1 + i * share)) EAVESMITH_OUTLINES=$share \
        "$build/tests/test_skeleton" >"$build/million-outlines.$i.txt" 2>&1 &
    pids+=($!)
done
failed=0
for ((i = 0; i < jobs; i++)); do
    wait "${pids[$i]}" || failed=$((failed + 1))
    grep -h '^# outlines\|^outline seed' "$build/million-outlines.$i.txt" || true
done
if [ "$failed" -gt 0 ]; then
    echo "$failed of $jobs parts failed: see $build/million-outlines.*.txt"
    exit 1
fi
echo "$count plans: 0 failures"
