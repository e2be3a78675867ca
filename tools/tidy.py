# SPDX-License-Identifier: Apache-2.0
"""clang-tidy over every source, as many at a time as there are cores. A file that was clean, and has
not changed since (nor any header, nor the rules), is not read again."""
import hashlib
import json
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path


def _hash_of(*parts):
    digest = hashlib.sha256()
    for part in parts:
        digest.update(part)
        digest.update(b"\0")
    return digest.hexdigest()


def run_tidy(project, build, jobs):
    """Yields (file, clean, output) for each source of the build's compile_commands.json."""
    commands = json.loads((build / "compile_commands.json").read_text(encoding="utf-8"))
    sources = {}
    for command in commands:
        path = (Path(command["directory"]) / command["file"]).resolve()
        # generated files are not ours to mend; the tool that makes them is
        if path.is_relative_to(project) and not path.is_relative_to(build):
            sources[path] = command["command"].encode()
    headers = b"".join(path.read_bytes() for folder in ("src", "tests", "fuzz", "bench")
                       for path in sorted((project / folder).rglob("*"))
                       if path.suffix in (".h", ".def", ".inc"))
    rules = b"".join(path.read_bytes() for path in sorted(project.glob("**/.clang-tidy"))
                     if not path.is_relative_to(build))
    cache = build / "tidy-clean"
    cache.mkdir(exist_ok=True)

    def one(path):
        key = cache / _hash_of(path.read_bytes(), headers, rules, sources[path])
        name = str(path.relative_to(project))
        if key.exists():
            return name, True, ""
        done = subprocess.run(["clang-tidy", "--quiet", "--warnings-as-errors=*", "-p", str(build),
                               f"--header-filter={project}/(src|tests|fuzz|bench)/.*", str(path)],
                              capture_output=True, text=True, errors="replace", check=False)
        clean = done.returncode == 0
        if clean:
            key.touch()
        return name, clean, done.stdout + ("" if done.stdout.strip() else done.stderr)

    with ThreadPoolExecutor(jobs) as pool:
        yield from pool.map(one, sorted(sources))
