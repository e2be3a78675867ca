#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Holds the real includes of src/ to rooms.txt, and keeps the heart pure.

Usage: check_rooms.py [PROJECT]. Exit 1 with one line for each fault.

rooms.txt:  "room : rooms it may include directly",  "*N" = every room of storeys 1 to N,
"# storey N" opens a storey. The heart is storeys 0 to 5: no files, no clock, no printing, no memory
but base's own.
"""
import re
import sys
from pathlib import Path

from c_text import blank_comments, blank_comments_and_strings

HEART_TOP_STOREY = 5

HEART_HEADERS = {
    "assert.h", "float.h", "inttypes.h", "limits.h", "math.h", "stdalign.h", "stdarg.h",
    "stdbool.h", "stddef.h", "stdint.h", "stdlib.h", "stdnoreturn.h", "string.h",
}
BASE_ONLY_WORDS = {"malloc", "calloc", "realloc", "free", "aligned_alloc"}
HEART_FORBIDDEN_WORDS = {
    # printing and files
    "printf", "fprintf", "sprintf", "snprintf", "vprintf", "vfprintf", "vsprintf", "vsnprintf",
    "puts", "fputs", "putchar", "fputc", "fopen", "fclose", "fread", "fwrite", "scanf", "sscanf",
    "fscanf", "perror", "stdin", "stdout", "stderr",
    # numbers by the C library's locale
    "strtod", "strtof", "strtold", "atof", "atoi", "atol", "strtol", "strtoll", "strtoul",
    "strtoull", "setlocale", "localeconv",
    # clock, chance, surroundings
    "time", "clock", "gettimeofday", "clock_gettime", "localtime", "gmtime", "strftime", "rand",
    "srand", "random", "getenv", "system",
    # ways out
    "exit", "_Exit", "quick_exit", "abort", "atexit", "longjmp", "setjmp", "signal", "raise",
    # changing state behind the caller
    "strtok",
    # orders equal things differently in each C library
    "qsort",
}


class Rooms:
    def __init__(self, path):
        self.storey = {}
        self.allowed_words = {}
        storey = None
        for line in path.read_text(encoding="utf-8").splitlines():
            opened = re.match(r"#\s*storey\s+(\d+)", line)
            if opened:
                storey = int(opened.group(1))
            elif line.strip() and not line.startswith("#"):
                name, words = line.split(":", 1)
                self.storey[name.strip()] = storey
                self.allowed_words[name.strip()] = words.split()

    def allowed(self, room):
        names = {room}
        for word in self.allowed_words[room]:
            if word.startswith("*"):
                top = int(word[1:])
                names |= {name for name, storey in self.storey.items() if 1 <= storey <= top}
            else:
                names.add(word)
        return names


def include_faults(rooms, room, path, text):
    allowed = rooms.allowed(room)
    for number, line in enumerate(text.splitlines(), 1):
        found = re.match(r'\s*#\s*include\s+"([^"]+)"', line)
        if not found:
            continue
        target = found.group(1)
        other = target.split("/")[0]
        if "/" not in target:
            yield f'{path}:{number}: "{target}": write "room/file"'
        elif other not in rooms.storey:
            yield f'{path}:{number}: "{target}": no such room in rooms.txt'
        elif other not in allowed:
            yield f"{path}:{number}: {room} may not include {other}"
        elif other != room and target not in (f"{other}/{other}.h", "base/issue_codes.def"):
            yield f'{path}:{number}: "{target}" is not the public header of {other}'


def heart_faults(room, path, text, bare):
    for number, line in enumerate(text.splitlines(), 1):
        found = re.match(r"\s*#\s*include\s+<([^>]+)>", line)
        if found and found.group(1) not in HEART_HEADERS:
            yield f"{path}:{number}: <{found.group(1)}> is not for the heart"
    forbidden = HEART_FORBIDDEN_WORDS if room == "base" else HEART_FORBIDDEN_WORDS | BASE_ONLY_WORDS
    for number, line in enumerate(bare.splitlines(), 1):
        for before, word in re.findall(r"(\.|->|\b(?:struct|enum)\s+)?\b([A-Za-z_]\w*)\s*\(", line):
            if word in forbidden and not before:
                yield f"{path}:{number}: {word}() is not for the heart"
        for word in re.findall(r"\b(stdin|stdout|stderr|_Thread_local|_Atomic)\b", line):
            yield f"{path}:{number}: {word} is not for the heart"


def inside_faults(project, rooms):
    """ROOM_inside.h is for its room and its test only."""
    for folder in ("tests", "fuzz", "bench", "wasm"):
        for path in sorted((project / folder).rglob("*.[ch]")):
            text = blank_comments(path.read_text(encoding="utf-8", errors="replace"))
            shown = path.relative_to(project)
            for number, line in enumerate(text.splitlines(), 1):
                found = re.match(r'\s*#\s*include\s+"(\w+)/(\w+)\.h"', line)
                if not found or found.group(1) not in rooms.storey:
                    continue
                room, name = found.groups()
                own_test = folder == "tests" and path.stem.startswith(f"test_{room}")
                if name != room and not own_test:
                    yield f"{shown}:{number}: {room}/{name}.h is not public"


def main():
    project = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent)
    rooms = Rooms(project / "rooms.txt")
    faults = []
    files = 0
    for folder in sorted(path for path in (project / "src").iterdir() if path.is_dir()):
        room = folder.name
        if room not in rooms.storey:
            faults.append(f"src/{room}: no such room in rooms.txt")
            continue
        for path in sorted(folder.rglob("*")):
            if path.suffix not in (".c", ".h", ".def", ".inc"):
                continue
            files += 1
            raw = path.read_text(encoding="utf-8", errors="replace")
            shown = path.relative_to(project)
            text = blank_comments(raw)
            faults.extend(include_faults(rooms, room, shown, text))
            if rooms.storey[room] <= HEART_TOP_STOREY:
                faults.extend(heart_faults(room, shown, text, blank_comments_and_strings(raw)))
    faults.extend(inside_faults(project, rooms))
    for fault in faults:
        print(fault)
    print(f"rooms: {files} files of src/ read, {len(faults)} faults")
    return 1 if faults or files == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
