#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every code of src/base/issue_codes.def must be named in some file under tests/.

Usage: check_issues.py [PROJECT]. Exit 1 with the codes that no test names. Also holds the list
itself to its form: each code once, known severity, and raised somewhere in src/.
"""
import re
import sys
from pathlib import Path

from c_text import blank_comments

ISSUE = re.compile(r"^ISSUE\(\s*(\w+)\s*,\s*(\w+)\s*,", re.M)
SEVERITIES = {"STOP", "MUST", "SHOULD", "NOTE", "ASSUMED"}


def words_under(folder, suffixes=None):
    words = set()
    for path in folder.rglob("*"):
        if path.is_file() and (suffixes is None or path.suffix in suffixes):
            text = path.read_text(encoding="utf-8", errors="replace")
            if path.suffix in (".c", ".h"):
                text = blank_comments(text)
            words |= set(re.findall(r"\w+", text))
    return words


def main():
    project = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent)
    source = blank_comments((project / "src/base/issue_codes.def").read_text(encoding="utf-8"))
    codes = ISSUE.findall(source)
    tested = words_under(project / "tests")
    raised = words_under(project / "src", {".c", ".h"})
    faults = []
    seen = set()
    for code, severity in codes:
        if code in seen:
            faults.append(f"{code} stands twice in the list")
        seen.add(code)
        if severity not in SEVERITIES:
            faults.append(f"{code} has no known severity: {severity}")
        if code not in tested and f"BASE_ISSUE_{code}" not in tested:
            faults.append(f"{code} is named by no test")
        if f"BASE_ISSUE_{code}" not in raised:
            faults.append(f"{code} is raised nowhere in src/")
    for fault in faults:
        print(fault)
    print(f"issue codes: {len(codes)}, {len(faults)} faults")
    return 1 if faults or not codes else 0


if __name__ == "__main__":
    sys.exit(main())
