"""What the YAML library complains of, in the trainer's words."""

from __future__ import annotations

import re
from typing import Any

from repslate.source.finding import Finding


class Trouble(Exception):  # noqa: N818 it never leaves mapping.py: it ends the reading of a stretch, not a run
    """Why a stretch of the text cannot be read."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


def explain(error: Exception, text: str, start: int, end: int) -> tuple[int, int, str, str]:
    """Return from where to where in `text` the trouble lies, what was found and how to fix it.

    `start` and `end` bound the stretch that the library was given.
    """
    problem = str(getattr(error, "problem", None) or "")
    context = str(getattr(error, "context", None) or "")
    opened = _index(error, "context_mark", start, end)
    at = _index(error, "problem_mark", start, end)
    line_end = _line_end(text, at, end)
    if "quoted scalar" in context:
        return _quoted(text, problem, opened, at, end)
    if "flow" in context:
        if "node" in context:  # then the library's mark is where it gave up, not the bracket
            opened = max(text.rfind("[", start, at), text.rfind("{", start, at), start)
        message = "a bracket is opened here and not closed as expected"
        help_ = 'write lists as [a, b, c]; put quotes around an item with a sign in it: ["#legs", "a: b"]'
        return opened, _line_end(text, opened, end), message, help_
    if match := re.search(r"character '(\\t|.)'", problem):
        return _bad_beginning(text, match.group(1), at, line_end)
    if isinstance(error, (ValueError, OverflowError)):
        message = "an escape in this value names no character"
        return start, _line_end(text, start, end), message, "type the character itself"
    message, help_ = "this line cannot be read as “key: value”", "check its indent, its colon and its quotes"
    before = text[text.rfind("\n", 0, at) + 1 : at].rstrip()
    if "mapping values are not allowed" in problem and ":" not in before:
        message = "this key is indented below an entry that has its value already"
        help_ = "move the line to the left, in line with the entry above it"
    elif "mapping values are not allowed" in problem:
        message, help_ = "there is a second colon in this entry, expected one “key: value”", _in_quotes(text, at)
    elif before.endswith(('"', "'")):
        message = "there is text after the closing quotation mark"
        help_ = "use the other kind of quotation mark around the whole value"
    elif before.endswith(("}", "]")):
        message, help_ = "there is text after the closing bracket", _in_quotes(text, at)
    return at, line_end, message, help_


def _index(error: Exception, name: str, start: int, end: int) -> int:
    mark: Any = getattr(error, name, None)
    offset = mark.index if mark is not None else getattr(error, "position", 0)
    return min(start + int(offset), end)


def _line_end(text: str, at: int, end: int) -> int:
    found = text.find("\n", at, end)
    return end if found < 0 else found


def _quoted(text: str, problem: str, opened: int, at: int, end: int) -> tuple[int, int, str, str]:
    if "end of stream" in problem:
        message = "a quotation mark is opened here and not closed"
        return opened, _line_end(text, opened, end), message, "close it at the end of the value, or leave both out"
    message = "a backslash in quotes stands before a character it does not go with"
    return at, _line_end(text, at, end), message, "double the backslash, or use ' in place of \""


def _in_quotes(text: str, at: int) -> str:
    """Return the line to type where a value has to be in quotes: `title: "Legs: part two"`."""
    line = text[text.rfind("\n", 0, at) + 1 :].split("\n", 1)[0]
    key, colon, value = line.partition(":")
    if not colon or not value.strip() or "'" in value or '"' in value:
        return "put quotes around the whole value"
    return f'type “{key.strip()}: "{value.strip()}"”, with the straight quotes'


def _bad_beginning(text: str, sign: str, at: int, line_end: int) -> tuple[int, int, str, str]:
    if sign == "\\t":
        return at, at + 1, "a tab stands here, expected spaces", "indent with spaces: two for each level"
    rest = text[at:line_end].strip().replace('"', "'")
    return at, line_end, f"a value cannot begin with “{sign}” unless it is in quotes", f'put quotes around it: "{rest}"'
