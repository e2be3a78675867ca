#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Plain rules for every file: an SPDX line at the top, no trailing blanks, links that lead somewhere.

Usage: check_text.py [PROJECT]. Exit 1 with one line for each fault.
"""
import re
import sys
from pathlib import Path

CODE = {".c", ".h", ".def", ".inc", ".py", ".sh", ".mjs", ".js", ".cross"}
CODE_NAMES = {"meson.build", "run"}
TEXT = CODE | {".md", ".yaml", ".yml"}
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")


def project_files(project):
    for path in sorted(project.rglob("*")):
        parts = path.relative_to(project).parts
        top = parts[0]
        if top == ".git" or top.startswith("build") or {"__pycache__", "node_modules"} & set(parts):
            continue
        if parts[:2] == ("tests", "bad"):
            continue  # broken on purpose
        if path.is_file():
            yield path


def faults_of(project, path):
    shown = path.relative_to(project)
    lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    if path.suffix in CODE or path.name in CODE_NAMES:
        if not any("SPDX-License-Identifier: Apache-2.0" in line for line in lines[:2]):
            yield f"{shown}:1: no SPDX line"
    for number, line in enumerate(lines, 1):
        if line != line.rstrip():
            yield f"{shown}:{number}: blanks at the end of the line"
    if path.suffix == ".md":
        for number, line in enumerate(lines, 1):
            for target in LINK.findall(line):
                place = target.split("#")[0]
                if "://" in target or not place:
                    continue
                if not (path.parent / place).exists():
                    yield f"{shown}:{number}: {target} leads nowhere"


def main():
    project = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent)
    faults = []
    count = 0
    for path in project_files(project):
        if path.suffix in TEXT or path.name in CODE_NAMES:
            count += 1
            faults.extend(faults_of(project, path))
    for fault in faults:
        print(fault)
    print(f"texts: {count} files read, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
