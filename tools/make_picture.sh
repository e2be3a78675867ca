#!/bin/bash
# SPDX-License-Identifier: Apache-2.0
# Makes docs/picture.png from a page of the demo house's packet. Usage: tools/make_picture.sh [PAGE]
# Run ./demo.sh first; needs pdftoppm (package poppler-utils).
set -euo pipefail

project=$(cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/.." && pwd)
page=${1:-3}
pdftoppm -r 90 -f "$page" -l "$page" -singlefile -png \
    "$project/build/demo-packet/packet.pdf" "$project/docs/picture"
printf '%s\n' "$project/docs/picture.png"
