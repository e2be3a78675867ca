# SPDX-License-Identifier: Apache-2.0
"""Reading C source as text: comments, strings, functions. Enough for our own style, no compiler."""
import re

TOKEN = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.S)


def _blank(text):
    return re.sub(r"[^\n]", " ", text)


def blank_comments(source):
    """Comments become blanks; line numbers and columns stay."""
    return TOKEN.sub(lambda m: _blank(m[0]) if m[0].startswith("/") else m[0], source)


def blank_comments_and_strings(source):
    return TOKEN.sub(lambda m: _blank(m[0]), source)


def _blank_directives(text):
    """Preprocessor lines with their continuations become blanks."""
    return re.sub(r"^[ \t]*#(?:[^\n\\]|\\\n|\\.)*", lambda m: _blank(m[0]), text, flags=re.M)


def _matching(text, at, opening, closing):
    depth = 0
    for index in range(at, len(text)):
        if text[index] == opening:
            depth += 1
        elif text[index] == closing:
            depth -= 1
            if depth == 0:
                return index
    return len(text) - 1


def _count_parameters(inside):
    if inside.strip() in ("", "void"):
        return 0
    depth = 0
    commas = 0
    for char in inside:
        if char in "([{":
            depth += 1
        elif char in ")]}":
            depth -= 1
        elif char == "," and depth == 0:
            commas += 1
    return commas + 1


class Function:
    def __init__(self, name, line, end_line, parameters):
        self.name = name
        self.line = line          # of the name
        self.end_line = end_line  # of the closing brace, or None for a declaration
        self.parameters = parameters

    @property
    def lines(self):
        return self.end_line - self.line + 1


def functions(source):
    """Functions declared or defined at the top level of a file."""
    text = _blank_directives(blank_comments_and_strings(source))
    found = []
    index = 0
    candidate = None
    while index < len(text):
        char = text[index]
        if char == "(":
            close = _matching(text, index, "(", ")")
            name = re.search(r"([A-Za-z_]\w*)\s*$", text[:index][-200:])
            if name and candidate is None and name.group(1) not in ("_Static_assert", "__attribute__"):
                line = text.count("\n", 0, index) + 1
                candidate = (name.group(1), line, _count_parameters(text[index + 1:close]))
            index = close + 1
        elif char == "{":
            close = _matching(text, index, "{", "}")
            if candidate:
                end_line = text.count("\n", 0, close) + 1
                found.append(Function(candidate[0], candidate[1], end_line, candidate[2]))
                candidate = None
            index = close + 1
        else:
            if char == "=":
                candidate = None
            if char == ";":
                if candidate:
                    found.append(Function(candidate[0], candidate[1], None, candidate[2]))
                candidate = None
            index += 1
    return found
