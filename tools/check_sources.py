#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every SRC-nn tag used must stand in docs/sources.md; sources nobody uses are listed.

Usage: check_sources.py [PROJECT]. A source is made by a line of docs/sources.md that begins with its
tag (after |, #, -, * or blanks). Exit 1 when a tag is unknown or made twice.
"""
import re
import sys
from pathlib import Path

FOLDERS = ("src", "tests", "data", "examples", "fuzz", "bench", "wasm", "docs")
SUFFIXES = {".c", ".h", ".def", ".inc", ".csv", ".md", ".yaml", ".json", ".txt", ".tsv"}
TAG = re.compile(r"\bSRC-[0-9A-Z]+\b")
MAKES = re.compile(r"^[\s|#*\-`]*(SRC-[0-9A-Z]+)\b")


def main():
    project = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent)
    list_path = project / "docs" / "sources.md"
    if not list_path.exists():
        print("docs/sources.md is missing")
        return 1
    faults = []
    made = {}
    for number, line in enumerate(list_path.read_text(encoding="utf-8").splitlines(), 1):
        found = MAKES.match(line)
        if found and found.group(1) in made:
            faults.append(f"docs/sources.md:{number}: {found.group(1)} is made twice")
        elif found:
            made[found.group(1)] = number
    used = {}
    for folder in FOLDERS:
        for path in sorted((project / folder).rglob("*")):
            if path.suffix not in SUFFIXES or path == list_path or not path.is_file():
                continue
            text = path.read_text(encoding="utf-8", errors="replace")
            for number, line in enumerate(text.splitlines(), 1):
                for tag in TAG.findall(line):
                    used.setdefault(tag, f"{path.relative_to(project)}:{number}")
    for tag, place in sorted(used.items()):
        if tag not in made:
            faults.append(f"{place}: {tag} is not in docs/sources.md")
    for fault in faults:
        print(fault)
    idle = sorted(set(made) - set(used))
    if idle:
        print(f"sources nobody uses: {' '.join(idle)}")
    print(f"sources: {len(made)} made, {len(used)} used, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
