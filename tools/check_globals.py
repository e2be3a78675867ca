#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""No room keeps a changeable global: .data and .bss of every room's library must be empty.

Usage: check_globals.py BUILD, a build folder without sanitizers. Exit 1 with one line for each.
"""
import re
import subprocess
import sys
from pathlib import Path

CHANGEABLE = re.compile(r"^\S+\s+\S.{6}\s+\.(?:data(?!\.rel\.ro)\S*|t?bss\S*)\s+([0-9a-f]+)\s+(\S+)$")


def main():
    libraries = sorted(Path(sys.argv[1]).rglob("libroom_*.a"))
    faults = []
    for library in libraries:
        table = subprocess.run(["objdump", "-t", str(library)], capture_output=True, text=True,
                               check=True).stdout
        for line in table.splitlines():
            found = CHANGEABLE.match(line)
            if found and int(found.group(1), 16) > 0:
                faults.append(f"{library.name}: {found.group(2)} can be changed")
    for fault in faults:
        print(fault)
    print(f"globals: {len(libraries)} rooms read, {len(faults)} faults")
    return 1 if faults or not libraries else 0


if __name__ == "__main__":
    sys.exit(main())
