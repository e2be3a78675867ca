#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Caps on the size of functions and files, and how the sizes lie.

Usage: check_sizes.py [PROJECT]. Caps: a function 80 lines (unless the comment just above says
"long because ..."), 5 parameters (unless it says "many because ..."), a .c file 600 lines, a .h 250.
Exit 1 with one line for each fault. Tests, benchmarks and fuzz targets are held to them too.
"""
import sys
from pathlib import Path

from c_text import functions

FUNCTION_LINES = 80
SOURCE_LINES = 600
HEADER_LINES = 250
PARAMETERS = 5
LONG = "long because"
MANY = "many because"
FOLDERS = ("src", "tests", "fuzz", "bench", "wasm", "tools")


def is_excused(lines, function, words):
    """The comment that ends just above the function's head holds these words."""
    at = function.line - 2
    while at >= 0 and lines[at].strip() and not lines[at].rstrip().endswith("*/"):
        at -= 1  # the head may take several lines
    end = at
    while at >= 0 and lines[at].strip() and "/*" not in lines[at]:
        at -= 1
    return end >= at >= 0 and words in " ".join(lines[at:end + 1])


def share(sorted_values, part):
    return sorted_values[min(len(sorted_values) - 1, int(part * len(sorted_values)))]


def main():
    project = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent)
    faults = []
    lengths = []
    source_files = []
    for folder in FOLDERS:
        for path in sorted((project / folder).rglob("*.[ch]")):
            source = path.read_text(encoding="utf-8", errors="replace")
            lines = source.splitlines()
            shown = path.relative_to(project)
            if path.suffix == ".c" and len(lines) > SOURCE_LINES:
                faults.append(f"{shown}: {len(lines)} lines (cap {SOURCE_LINES})")
            if path.suffix == ".h" and len(lines) > HEADER_LINES:
                faults.append(f"{shown}: {len(lines)} lines (cap {HEADER_LINES})")
            if folder == "src" and path.suffix == ".c":
                source_files.append(len(lines))
            for function in functions(source):
                if function.parameters > PARAMETERS and not is_excused(lines, function, MANY):
                    faults.append(f"{shown}:{function.line}: {function.name} takes "
                                  f"{function.parameters} parameters (cap {PARAMETERS})")
                if function.end_line is None:
                    continue
                if folder == "src":
                    lengths.append(function.lines)
                if function.lines > FUNCTION_LINES and not is_excused(lines, function, LONG):
                    faults.append(f"{shown}:{function.line}: {function.name} is {function.lines} "
                                  f"lines long (cap {FUNCTION_LINES})")
    for fault in faults:
        print(fault)
    if lengths:
        lengths.sort()
        source_files.sort()
        print(f"functions of src/: {len(lengths)}, lines: median {share(lengths, 0.5)}, "
              f"90 % within {share(lengths, 0.9)}, longest {lengths[-1]}")
        print(f".c files of src/: {len(source_files)}, lines: median {share(source_files, 0.5)}, "
              f"longest {source_files[-1]}, together {sum(source_files)}")
    print(f"sizes: {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
