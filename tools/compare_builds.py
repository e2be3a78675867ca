#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Do all builds give the same bytes? Random houses through several builds of the heart.

Usage: compare_builds.py --program NAME=SOLVE_HOUSES [--program ...] [--wasm HEART.wasm]
                         [--first SEED] [--count N]
The first program is what the others are held to. For each house result.json is compared byte by
byte. A difference is explained when every leaf that differs is one figure apart in its last place
and its value, before it was rounded, lies on the edge between the two (within 1/1000 of the last
place): there the last bit of a math library decides. Each is printed: the path, both values, the
value before rounding. Figures of the profile solver may stop apart by its own tolerance; such
houses are counted by themselves, and may be 1 in 50. So are houses where a last bit sends a valley
to another eave (known, the roof has no dead band there yet), and may be 1 in 250. Exit 1 when a
difference is not explained, or a build breaks.
"""
import argparse
import json
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
CHUNK = 250
EDGE = Decimal("0.001")  # of the last place
SHOWN = 40
# How far apart the profile solver may stop: depths to 0.05 mm, where a jump falls on this or that side
# of a station; where it is deepest is ill-posed, for the water is nearly level there; and the
# residual is what is left, that is noise. Rains that just go over are kept to four figures and their
# years to three: the last of them may turn.
SOLVER = {"holds_s": Decimal("1"), "still_depth_m": Decimal("5e-5"), "end_depth_m": Decimal("5e-5"),
          "greatest_depth_m": Decimal("5e-5"), "freeboard_m": Decimal("5e-5"),
          "greatest_depth_at_m": Decimal("0.25"), "over_x_m": Decimal("Infinity"),
          "years": Decimal("1"), "residual_1": Decimal("Infinity")}
# One in the fourth figure, one in the third.
FIGURES = {"rain_mps": Decimal("1.01e-3"), "share_m": Decimal("1.01e-2"),
           "load_water_n": Decimal("1.01e-2"), "load_ice_n": Decimal("1.01e-2"),
           "screws_water_1": Decimal("1.01e-2"), "screws_ice_1": Decimal("1.01e-2"),
           "sliding_nm": Decimal("1.01e-2")}
SOLVER_SHARE = 50
VALLEY_SHARE = 250


def read_results(data):
    """{seed: (status, bytes)} of a stream of results."""
    results = {}
    at = 0
    while at < len(data):
        end = data.index(b"\n", at)
        _, seed, status, length = data[at:end].split(b" ")
        at = end + 1 + int(length)
        results[int(seed)] = (int(status), data[end + 1:at])
    return results


def run(command, data=None):
    done = subprocess.run([str(word) for word in command], input=data, capture_output=True,
                          check=False, timeout=1800)
    return done.returncode, done.stdout


def solve_native(program, first, count):
    """A house that brings the program down has status 4; the rest is solved without it."""
    code, out = run([program, "results", first, count])
    if code == 0:
        return read_results(out)
    if count == 1:
        return {first: (4, b"")}
    half = count // 2
    return {**solve_native(program, first, half),
            **solve_native(program, first + half, count - half)}


def flatten(value, path=""):
    if isinstance(value, dict):
        leaves = {}
        for key, child in value.items():
            leaves.update(flatten(child, f"{path}/{key}" if path else key))
        return leaves
    return {path: value}


def read_leaves(text):
    return flatten(json.loads(text, parse_float=Decimal, parse_int=Decimal))


def raw_values(program, seed):
    _, out = run([program, "leaves", seed])
    return dict(line.split("\t") for line in out.decode().splitlines())


def judge(path, ours, theirs, raw):
    """"edge": one figure apart, the value before rounding half way between the two. "solver":
    within its tolerance. Else why not."""
    if path.endswith("/often/over_run"):
        return "solver"  # a pool is level round its corner: the place in it, over_x_m, is the last bit's
    if not isinstance(ours, Decimal) or not isinstance(theirs, Decimal):
        return "NOT EXPLAINED: words"
    apart = abs(ours - theirs)
    quantum = Decimal(1).scaleb(ours.as_tuple().exponent)
    if raw is not None and apart == quantum:
        if abs(Decimal(raw) - (ours + theirs) / 2) <= quantum * EDGE:
            return "edge"
    field = path.rsplit("/", 1)[-1]
    if apart <= SOLVER.get(field, 0) or apart <= FIGURES.get(field, 0) * abs(ours):
        return "solver"
    return "NOT EXPLAINED"


class Count:
    def __init__(self, name):
        self.name = name
        self.same = 0
        self.edges = 0  # houses whose differences all lie on an edge
        self.solver = 0  # ... or are the solver's
        self.valley = 0  # a last bit sent a valley another way
        self.broken = 0
        self.shown = 0

    def show(self, line):
        """The first ones, and all that is not explained."""
        self.shown += 1
        if self.shown <= SHOWN or "NOT" in line:
            print(f"  {line}")


def explain(count, program, seed, ours, theirs):
    """The judgements of every leaf that differs."""
    if ours[0] != theirs[0]:
        count.show(f"{count.name}, seed {seed}: status {ours[0]} here, {theirs[0]} there: NOT "
                   "EXPLAINED")
        return {"NOT EXPLAINED"}
    one, other = read_leaves(ours[1]), read_leaves(theirs[1])
    if list(one) != list(other):
        path = next((path for path in (*one, *other) if path not in one or path not in other),
                    "order of leaves")
        count.show(f"{count.name}, seed {seed}: {path} is "
                   f"{'' if path.startswith('pours/') else 'NOT '}in one only")
        return {"valley" if path.startswith("pours/") else "NOT EXPLAINED"}
    raw = raw_values(program, seed)
    found = set()
    for path in one:
        if one[path] == other[path]:
            continue
        why = judge(path, one[path], other[path], raw.get(path))
        if path.startswith("pours/") and why not in ("edge", "solver"):
            why = "valley"
        found.add(why)
        if "valley" not in found:
            count.show(f"{count.name}, seed {seed}: {path}: {one[path]} and {other[path]}, before "
                       f"rounding {raw.get(path, 'an integer')}: {why}")
        elif why == "valley":
            count.show(f"{count.name}, seed {seed}: {path}: {one[path]} and {other[path]}: {why}")
    return found or {"NOT EXPLAINED"}


def compare(count, program, ours, theirs):
    for seed, answer in ours.items():
        other = theirs.get(seed, (4, b""))
        if answer == other:
            count.same += 1
            continue
        found = explain(count, program, seed, answer, other)
        if "valley" in found:  # all behind it follows
            count.valley += 1
            continue
        count.edges += found == {"edge"}
        count.solver += "solver" in found and found <= {"edge", "solver"}
        count.broken += not found <= {"edge", "solver"}


def compare_all(programs, wasm, first, end):
    name, program = programs[0]
    counts = [Count(f"{other} against {name}") for other, _ in programs[1:]]
    counts += [Count(f"wasm32 against {name}")] if wasm else []
    fell = 0
    for seed in range(first, end, CHUNK):
        size = min(CHUNK, end - seed)
        ours = solve_native(program, seed, size)
        fell += sum(status == 4 for status, _ in ours.values())
        answers = [solve_native(other, seed, size) for _, other in programs[1:]]
        if wasm:
            jobs = run([program, "jobs", seed, size])[1]
            code, out = run(["node", PROJECT / "wasm/node_houses.mjs", wasm], jobs)
            answers.append(read_results(out) if code == 0 else {})
        for count, theirs in zip(counts, answers):
            compare(count, program, ours, theirs)
    if fell:
        print(f"  {fell} houses bring the build {name} down")
    return counts


def main():
    parser = argparse.ArgumentParser(description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--program", action="append", required=True, metavar="NAME=PATH")
    parser.add_argument("--wasm", type=Path)
    parser.add_argument("--first", type=int, default=20261125)
    parser.add_argument("--count", type=int, default=200)
    arguments = parser.parse_args()
    programs = [tuple(word.split("=", 1)) for word in arguments.program]
    counts = compare_all(programs, arguments.wasm, arguments.first,
                         arguments.first + arguments.count)
    for count in counts:
        print(f"{count.name}: {count.same} of {arguments.count} houses the same bytes, "
              f"{count.edges} differ on a rounding edge, {count.solver} within the profile solver's "
              f"tolerance, {count.valley} by a valley, {count.broken} not explained")
    good = bool(counts) and all(count.broken == 0 and
                                count.solver * SOLVER_SHARE <= arguments.count + SOLVER_SHARE and
                                count.valley * VALLEY_SHARE <= arguments.count + VALLEY_SHARE
                                for count in counts)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
