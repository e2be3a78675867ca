# SPDX-License-Identifier: Apache-2.0
"""Reads the lines a test program prints in the Test Anything Protocol, as cmocka does."""
import re

POINT = re.compile(r"^(not )?ok\b\s*(\d*)\s*-?\s*(.*)$")
PLAN = re.compile(r"^1\.\.(\d+)")


class Point:
    def __init__(self, good, name, skipped):
        self.good = good
        self.name = name
        self.skipped = skipped
        self.notes = ""


class Points:
    def __init__(self):
        self.items = []
        self.planned = None  # several groups in one program: their plans add up
        self.said = []       # "# say: ..." lines, meant for people


def read(out):
    points = Points()
    notes = []
    for line in out.splitlines():
        plan = PLAN.match(line)
        point = POINT.match(line)
        if plan:
            points.planned = (points.planned or 0) + int(plan.group(1))
        elif point:
            name = point.group(3)
            # cmocka prints a skipped test as "not ok N # SKIP name"
            skipped = re.search(r"#\s*skip\b", line, re.I) is not None
            name = re.sub(r"#\s*skip\S*\s*", "", name, flags=re.I).strip()
            points.items.append(Point(point.group(1) is None, name, skipped))
            if point.group(1) and not skipped:
                points.items[-1].notes = "\n".join(notes)
            notes = []
        elif line.startswith("# say:"):
            points.said.append(line[len("# say:"):].strip())
        else:
            # cmocka explains a failure before or after its line: keep it for whichever has none
            notes.append(line)
            if points.items and not points.items[-1].good and not points.items[-1].notes:
                points.items[-1].notes = line
            elif points.items and not points.items[-1].good and line.startswith("#"):
                points.items[-1].notes += "\n" + line
    return points


def fault(points, exit_code):
    """What is wrong with the run as a whole, beside its points; None when nothing is."""
    if points.planned is None:
        return f"printed no plan (exit {exit_code})"
    if len(points.items) != points.planned:
        return f"planned {points.planned} tests, ran {len(points.items)} (exit {exit_code})"
    if points.planned == 0:
        return "has no test"
    if exit_code != 0 and all(point.good or point.skipped for point in points.items):
        return f"exit {exit_code} though every test passed"
    return None
