#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The tests, lane by lane. Called by ./test.sh, which installs what they need.

Usage: ./test.sh [--long] [--only LANE]...
  lanes   checks  rooms, sources, sizes, issue codes, plain text rules, shell syntax, format
          gcc     -O2 build, every test program, no changeable globals in any room
          clang   ASAN and UBSAN build, every test program
          server  knocks at every door of `serve` on that build: hostile, slow, many at once
          wasm    the heart for wasm32, its imports, its bytes against the native ones
          page    the page: types, build, lock, sizes, units (vitest), the main jobs in a browser (axe too)
          builds  random houses: gcc, clang and wasm32 give the same bytes, or it is said why not
          fuzz    each target: the kept corpus, then a fixed number of runs from a fixed seed
          tidy    clang-tidy over every source
          demo    ./demo.sh from an empty folder on a clean copy, and what it made
          bench   (only with --long, or when named) prints; counts of work are gated
  --long  more houses, a fresh seed, more fuzz runs, bench; writes docs/test-summary.md, of lanes named with --only
          their rows

Each test point (a TAP line), each check and each step counts once. A test program that prints no
plan, or fewer points than it planned, has failed. A skip fails when CI=true.
The last line is "N passed, N failed"; exit 1 when any failed.
"""
import argparse
import gzip
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import tap
from tidy import run_tidy

PROJECT = Path(__file__).resolve().parent.parent
JOBS = max(2, os.cpu_count() or 2)
IN_CI = os.environ.get("CI") == "true"


class Lane:
    """What one lane counted."""

    def __init__(self, name):
        self.name = name
        self.passed = 0
        self.failed = 0
        self.skipped = 0
        self.seconds = 0.0

    def count(self, good, what, details=""):
        if good:
            self.passed += 1
        else:
            self.failed += 1
            print(f"FAILED  {self.name}: {what}", flush=True)
            if details:
                lines = details.rstrip().splitlines()
                shown = lines if len(lines) <= 60 else lines[:20] + ["  ..."] + lines[-40:]
                print("\n".join(f"    {line}" for line in shown), flush=True)

    def skip(self, what):
        if IN_CI:
            self.count(False, f"{what}: skipped, and this is CI")
        else:
            self.skipped += 1
            print(f"skipped {self.name}: {what}", flush=True)


def run(command, timeout=1800, env=None, cwd=PROJECT):
    """(exit code, standard output, standard error); a program past its time has exit code -1."""
    try:
        done = subprocess.run([str(word) for word in command], cwd=cwd, timeout=timeout,
                              env={**os.environ, **(env or {})}, stdin=subprocess.DEVNULL,
                              capture_output=True, text=True, errors="replace", check=False)
        return done.returncode, done.stdout, done.stderr
    except subprocess.TimeoutExpired as late:
        def text(stream):
            return stream.decode(errors="replace") if isinstance(stream, bytes) else stream or ""
        return -1, text(late.stdout), text(late.stderr) + f"\nstopped after {timeout} s"
    except OSError as error:
        return -1, "", str(error)


def count_command(lane, what, command, **options):
    """One step that passes when the command exits 0."""
    code, out, err = run(command, **options)
    lane.count(code == 0, what, out + err)
    return code == 0, out


def build(lane, folder, options, compiler=None, targets=()):
    """Sets up (once) and compiles a build folder as far as it goes; both steps count. True when it
    was set up: what could not be compiled fails where it is run."""
    path = PROJECT / folder
    env = {"CC": compiler} if compiler else {}
    setup = ["meson", "setup", path, PROJECT, *options]
    if (path / "meson-private" / "coredata.dat").exists():
        setup.insert(2, "--reconfigure")
    code, out, err = run(setup, env=env)
    if code != 0 and "--reconfigure" in setup:
        subprocess.run(["rm", "-rf", str(path)], check=True)
        setup.remove("--reconfigure")
        code, out, err = run(setup, env=env)
    lane.count(code == 0, f"meson setup {folder}", out + err)
    if code != 0:
        return False
    count_command(lane, f"ninja -C {folder}",
                  ["ninja", "-C", path, f"-j{JOBS}", "-k0", "--quiet", *targets])
    return True


def introspect(folder, what):
    code, out, _ = run(["meson", "introspect", f"--{what}", PROJECT / folder])
    return json.loads(out) if code == 0 else []


def programs_named(folder, prefix):
    return sorted(Path(target["filename"][0]) for target in introspect(folder, "targets")
                  if target["type"] == "executable" and target["name"].startswith(prefix))


# ---- test programs ------------------------------------------------------------------------------

def run_test_programs(lane, folder, settings, extra_env):
    tests = introspect(folder, "tests")
    if not tests:
        lane.count(False, f"{folder} has no tests")
        return

    def one(test):
        env = {"CMOCKA_MESSAGE_OUTPUT": "TAP", **test.get("env", {}), **settings.env, **extra_env}
        timeout = (test.get("timeout") or 300) * (10 if settings.long else 2)
        where = test.get("workdir") or PROJECT / folder
        return test, run(test["cmd"], timeout=timeout, env=env, cwd=where)

    with ThreadPoolExecutor(JOBS) as pool:
        for test, (code, out, err) in pool.map(one, tests):
            name = test["name"]
            if test.get("protocol") != "tap":
                lane.count(code == 0, name, out + err)
                continue
            points = tap.read(out)
            for point in points.items:
                if point.skipped:
                    lane.skip(f"{name}: {point.name}")
                else:
                    lane.count(point.good, f"{name}: {point.name}", point.notes)
            for line in points.said:
                print(f"        {name}: {line}", flush=True)
            whole = tap.fault(points, code)
            if whole:
                lane.count(False, f"{name}: {whole}", out[-2000:] + err)
            elif err.strip() and any(not point.good and not point.skipped
                                     for point in points.items):
                print("\n".join(f"    {line}" for line in err.splitlines()[-20:]), flush=True)


GCC_OPTIONS = ["-Dtests=true", "-Dbuildtype=debugoptimized"]  # -O2 -g
CLANG_OPTIONS = ["-Dtests=true", "-Db_sanitize=address,undefined", "-Db_lundef=false"]


def lane_gcc(lane, settings):
    if not build(lane, "build-test-gcc", GCC_OPTIONS, "gcc"):
        return
    run_test_programs(lane, "build-test-gcc", settings,
                      {"EAVESMITH_HOUSES": "10000" if settings.long else "2000"})
    count_command(lane, "no changeable globals",
                  [sys.executable, "tools/check_globals.py", "build-test-gcc"])


def lane_clang(lane, settings):
    if not build(lane, "build-test-clang", CLANG_OPTIONS, "clang"):
        return
    run_test_programs(lane, "build-test-clang", settings, {
        "EAVESMITH_HOUSES": "1000" if settings.long else "200",
        "UBSAN_OPTIONS": "halt_on_error=1:print_stacktrace=1",
        "ASAN_OPTIONS": "detect_stack_use_after_return=1",
        # the painting libraries keep their caches to the end
        "LSAN_OPTIONS": f"suppressions='{PROJECT}/tools/leaks.txt':print_suppressions=0"})


def lane_server(lane, settings):
    if not build(lane, "build-test-clang", CLANG_OPTIONS, "clang", ["eavesmith"]):
        return
    words = ["--long", "--seed", settings.seed] if settings.long else []
    code, out, err = run([sys.executable, "tools/check_server.py",
                          PROJECT / "build-test-clang/eavesmith", *words])
    points = tap.read(out)
    for point in points.items:
        lane.count(point.good, point.name, point.notes)
    for line in points.said:
        print(f"        {line}", flush=True)
    whole = tap.fault(points, code)
    if whole:
        lane.count(False, f"check_server: {whole}", out[-2000:] + err)


# ---- the other lanes ----------------------------------------------------------------------------

def tracked(*suffixes):
    """Files of the project, committed or not, without what git ignores."""
    code, out, _ = run(["git", "ls-files", "-co", "--exclude-standard"])
    names = out.splitlines() if code == 0 else [
        str(path.relative_to(PROJECT)) for path in PROJECT.rglob("*")
        if path.is_file() and not path.relative_to(PROJECT).parts[0].startswith(("build", ".git"))]
    return sorted(name for name in set(names)
                  if (not suffixes or name.endswith(suffixes)) and (PROJECT / name).is_file())


def lane_checks(lane, settings):
    del settings
    for name in ("rooms", "sources", "sizes", "issues", "text"):
        good, out = count_command(lane, f"check_{name}",
                                  [sys.executable, f"tools/check_{name}.py"])
        if good:
            print("\n".join(f"        {line}" for line in out.splitlines()[-4:]))
    for script in [name for name in tracked(".sh") + [".ci/run"] if (PROJECT / name).exists()]:
        count_command(lane, f"bash -n {script}", ["bash", "-n", script])
    count_command(lane, "clang-format",
                  ["clang-format", "--dry-run", "--Werror", *tracked(".c", ".h")])


def lane_wasm(lane, settings):
    del settings
    if not build(lane, "build-test-wasm", ["--cross-file", PROJECT / "tools/wasm32.cross"],
                 targets=["wasm/heart.wasm"]):
        return
    module = PROJECT / "build-test-wasm/wasm/heart.wasm"
    native = PROJECT / "build-test-gcc/eavesmith"
    build(lane, "build-test-gcc", GCC_OPTIONS, "gcc", ["eavesmith"])  # an old one would differ
    code, out, err = run(["node", "wasm/node_compare.mjs", module, native, "examples"])
    points = tap.read(out)
    for point in points.items:
        lane.count(point.good, f"node: {point.name}", point.notes)
    for line in points.said:
        print(f"        {line}", flush=True)
    whole = tap.fault(points, code)
    if whole:
        lane.count(False, f"node_compare: {whole}", out[-2000:] + err)


PAGE_LIMITS = {".js": 60_000, ".wasm": 400_000}  # bytes, as gzip packs them


def lane_page(lane, settings):
    del settings
    lock = (PROJECT / "web/package-lock.json").read_text(encoding="utf-8")
    lane.count('"resolved"' not in lock, "the lock of the page names no address")
    folder = PROJECT / "build-test-page"
    code, out, err = run(["tools/build_page.sh", folder])
    good = code == 0
    lane.count(good, "build_page", out + err)
    page = folder / "page"
    if not good or not (page / "index.html").exists():
        lane.skip(" ".join(err.split()) or "the page was not built")
        return
    lane.count((page / "heart.wasm").exists(), "the page has its heart")
    text = (page / "index.html").read_text(encoding="utf-8")
    lane.count("style=" not in text and "<script>" not in text, "nothing inline in index.html")
    for suffix, limit in PAGE_LIMITS.items():
        packed = sum(len(gzip.compress(path.read_bytes())) for path in page.glob(f"*{suffix}"))
        lane.count(0 < packed <= limit, f"{suffix} of the page: {packed} bytes packed, at most {limit}")
        print(f"        {suffix}: {packed} bytes packed, at most {limit}", flush=True)
    native = PROJECT / "build-test-gcc/eavesmith"
    build(lane, "build-test-gcc", GCC_OPTIONS, "gcc", ["eavesmith"])
    count_units_of_page(lane, native)
    count_browser(lane, native, page)


def count_units_of_page(lane, native):
    """vitest: a job's text changed at its marks, the heart's own figures and readings."""
    code, out, err = run(["npx", "--no-install", "vitest", "run", "--reporter=json"], cwd=PROJECT / "web",
                         env={"EAVESMITH": str(native),
                              "HEART": str(PROJECT / "build-test-page/page/heart.wasm")})
    try:
        files = json.loads(out[out.index("{"):])["testResults"]
    except ValueError:
        lane.count(False, "vitest", out + err)
        return
    for file in files:
        if file["status"] != "passed" and not file["assertionResults"]:
            lane.count(False, f"vitest {Path(file['name']).name}", file.get("message", ""))
        for test in file["assertionResults"]:
            lane.count(test["status"] == "passed", f"vitest: {test['title']}",
                       "\n".join(test.get("failureMessages", [])))
    lane.count(code == 0, "vitest ends well", err)


def count_browser(lane, native, page):
    """The page in a browser; a folder of its own so that the program finds the page beside it."""
    browser = next((path for path in ("/usr/bin/chromium", "/usr/bin/chromium-browser")
                    if Path(path).exists()), None)
    if browser is None:
        lane.skip("chromium is not installed")
        return
    beside = PROJECT / "build-test-page/eavesmith"
    shutil.copy(native, beside)
    lane.count((page / "index.html").exists(), "the page stands beside the program")
    code, out, err = run(["node", "tests/page.mjs", beside, PROJECT / "examples", browser],
                         cwd=PROJECT / "web")
    points = tap.read(out)
    for point in points.items:
        lane.count(point.good, f"browser: {point.name}", point.notes)
    whole = tap.fault(points, code)
    if whole:
        lane.count(False, f"page.mjs: {whole}", out[-2000:] + err)


def lane_builds(lane, settings):
    optimised = ["-Dtests=true", "-Dbuildtype=debugoptimized"]
    houses = ["tests/solve_houses"]
    if not (build(lane, "build-test-gcc", GCC_OPTIONS, "gcc", houses)
            and build(lane, "build-test-clang-o2", optimised, "clang", houses)
            and build(lane, "build-test-wasm", ["--cross-file", PROJECT / "tools/wasm32.cross"],
                      targets=["wasm/heart.wasm"])):
        return
    first = settings.seed if settings.long else 20261125
    code, out, err = run([
        sys.executable, "tools/compare_builds.py", "--first", first,
        "--count", 10000 if settings.long else 200,
        "--program", f"gcc={PROJECT}/build-test-gcc/tests/solve_houses",
        "--program", f"clang={PROJECT}/build-test-clang-o2/tests/solve_houses",
        "--wasm", PROJECT / "build-test-wasm/wasm/heart.wasm"])
    lane.count(code == 0, "compare_builds", out + err)
    if code == 0:
        print("\n".join(f"        {line}" for line in out.splitlines()), flush=True)


FUZZ_SEED = 20260101


def lane_fuzz(lane, settings):
    options = ["-Dfuzz=true", "-Db_sanitize=address,undefined", "-Db_lundef=false",
               "-Dc_args=-fsanitize=fuzzer-no-link"]
    if not build(lane, "build-test-fuzz", options, "clang"):
        return
    targets = programs_named("build-test-fuzz", "fuzz_")
    for reader in ("job", "rain", "units"):  # the readers of a person's text
        lane.count(any(target.name == f"fuzz_{reader}" for target in targets),
                   f"there is a fuzz target for {reader}")
    found = PROJECT / "build-test-fuzz/found"
    found.mkdir(exist_ok=True)
    runs = 1000000 if settings.long else 20000
    common = ["-timeout=20", "-rss_limit_mb=2048", f"-artifact_prefix={found}/"]
    # the painting and parsing libraries are not ours to hold to account for leaks at exit
    env = {"LSAN_OPTIONS": f"suppressions='{PROJECT}/tools/leaks.txt':print_suppressions=0"}

    def one(target):
        corpus = PROJECT / "fuzz/corpus" / target.name.removeprefix("fuzz_")
        kept = sorted(path for path in corpus.rglob("*") if path.is_file())
        bad = sorted(path for path in (PROJECT / "tests/bad").rglob("*") if path.is_file())
        replay = run([target, *common, *kept, *bad], env=env) if kept or bad else None
        grown = found / f"{target.name}.corpus"
        grown.mkdir(exist_ok=True)
        folders = [grown] + ([corpus] if kept else [])
        seed = settings.seed if settings.long else FUZZ_SEED
        fuzzed = run([target, *common, f"-runs={runs}", f"-seed={seed}", "-max_len=4096",
                      *folders], env=env)
        return target.name, len(kept), len(bad), replay, fuzzed

    with ThreadPoolExecutor(JOBS) as pool:
        for name, kept, bad, replay, fuzzed in pool.map(one, targets):
            lane.count(kept > 0, f"{name} has a corpus in fuzz/corpus")
            if replay:
                lane.count(replay[0] == 0, f"{name} on {kept} kept and {bad} bad texts",
                           replay[2][-4000:])
            lane.count(fuzzed[0] == 0, f"{name} for {runs} runs", fuzzed[2][-4000:])


def lane_tidy(lane, settings):
    del settings
    if not build(lane, "build-test-clang", CLANG_OPTIONS, "clang"):
        return
    for name, good, out in run_tidy(PROJECT, PROJECT / "build-test-clang", JOBS):
        lane.count(good, f"clang-tidy {name}", out)


def lane_demo(lane, settings):
    del settings
    from demo_check import check_demo
    check_demo(lane, PROJECT, run, tracked())


def run_measured(command):
    """(exit code, seconds, peak memory in MB) of one run of a program."""
    start = time.monotonic()
    # a child of this process would inherit its peak: a small parent stands between
    code, _, err = run(["/usr/bin/time", "-f", "%M", *command])
    seconds = time.monotonic() - start
    return code, seconds, int(err.split()[-1]) / 1024


def time_command(lane, program):
    """The whole command on the demo house, starting and reading included; printed, never a gate."""
    house = PROJECT / "examples/demo/house.yaml"
    with tempfile.TemporaryDirectory() as folder:
        for name, words in (("solve", ["solve", house, "--json"]),
                            ("packet", ["packet", house, "-o", Path(folder) / "packet"])):
            runs = [run_measured([program, *words]) for _ in range(20)]
            lane.count(all(code == 0 for code, _, _ in runs), f"{name} of the demo house runs")
            print(f"        {name} of the demo house: best of {len(runs)} "
                  f"{1000 * min(seconds for _, seconds, _ in runs):.1f} ms, "
                  f"peak {max(peak for _, _, peak in runs):.1f} MB", flush=True)


def lane_bench(lane, settings):
    del settings
    if not build(lane, "build-test-bench", ["-Dbench=true", "-Dbuildtype=release"], "gcc"):
        return
    programs = programs_named("build-test-bench", "bench_")
    lane.count(bool(programs), "there are benchmarks")
    time_command(lane, PROJECT / "build-test-bench/eavesmith")
    for program in programs:  # one at a time: they measure
        good, out = count_command(lane, program.name, [program])
        if good:
            print("\n".join(f"        {line}" for line in out.splitlines()), flush=True)


LANES = {"checks": lane_checks, "gcc": lane_gcc, "clang": lane_clang, "server": lane_server,
         "wasm": lane_wasm, "page": lane_page, "builds": lane_builds, "fuzz": lane_fuzz,
         "tidy": lane_tidy, "demo": lane_demo, "bench": lane_bench}


# ---- the whole ----------------------------------------------------------------------------------

class Settings:
    def __init__(self, long):
        self.long = long
        self.seed = random.SystemRandom().randrange(1, 2**31)
        self.env = {}
        if long:
            self.env["EAVESMITH_LONG"] = "1"
            # a fresh seed, printed, so that a failure can be walked again
            self.env["EAVESMITH_SEED"] = os.environ.get("EAVESMITH_SEED", str(self.seed))
            self.seed = int(self.env["EAVESMITH_SEED"])


SUMMARY = PROJECT / "docs" / "test-summary.md"


def read_summary():
    """{lane: its row} of the last summary."""
    text = SUMMARY.read_text(encoding="utf-8") if SUMMARY.exists() else ""
    rows = {}
    for line in text.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 7 and cells[1].isdigit():
            rows[cells[0]] = cells
    return rows


def write_summary(lanes, settings, whole):
    """Of a whole run; or, where lanes were named, their rows anew among the last ones."""
    _, commit, _ = run(["git", "rev-parse", "--short", "HEAD"])
    _, changed, _ = run(["git", "status", "--porcelain", "--", ".", ":!docs/test-summary.md"])
    commit = commit.strip() + (" with changes" if changed.strip() else "")
    rows = {} if whole else read_summary()
    for lane in lanes:
        rows[lane.name] = [lane.name, str(lane.passed), str(lane.failed), str(lane.skipped),
                           f"{lane.seconds:.0f}", commit, str(settings.seed)]
    table = "\n".join(f"| {' | '.join(rows[name])} |" for name in LANES if name in rows)
    text = f"""<!-- SPDX-License-Identifier: Apache-2.0 -->
# Last long run of the tests

Written by `./test.sh --long`; not by hand. A lane run again alone has its own commit and seed.

- Date: {time.strftime('%Y-%m-%d')}

| lane | passed | failed | skipped | seconds | commit | seed |
|---|---|---|---|---|---|---|
{table}

{sum(int(row[1]) for row in rows.values())} passed, {sum(int(row[2]) for row in rows.values())} failed
"""
    SUMMARY.write_text(text, encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(prog="./test.sh", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--long", action="store_true", help="every count, a fresh seed, bench")
    parser.add_argument("--only", action="append", choices=list(LANES), metavar="LANE",
                        help="only this lane (may be given again)")
    arguments = parser.parse_args()
    settings = Settings(arguments.long)
    names = arguments.only or [name for name in LANES if name != "bench" or arguments.long]
    if settings.long:
        print(f"EAVESMITH_SEED={settings.seed}", flush=True)
    lanes = []
    for name in names:
        lane = Lane(name)
        lanes.append(lane)
        print(f"---- {name}", flush=True)
        start = time.monotonic()
        try:
            LANES[name](lane, settings)
        except Exception as error:  # a lane that breaks has failed; the others still run
            lane.count(False, f"the lane itself broke: {type(error).__name__}: {error}")
        lane.seconds = time.monotonic() - start
        print(f"     {name}: {lane.passed} passed, {lane.failed} failed, {lane.skipped} skipped "
              f"in {lane.seconds:.0f} s", flush=True)
    if settings.long:
        write_summary(lanes, settings, whole=not arguments.only)
    failed = sum(lane.failed for lane in lanes)
    print(f"skipped: {sum(lane.skipped for lane in lanes)}")
    print(f"{sum(lane.passed for lane in lanes)} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
