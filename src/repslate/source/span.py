"""A place in a source file."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A run of characters on one line.

    `file` is the path relative to the episode's folder, with forward slashes ("workout.md", "../series.yaml").
    `line` and `column` count from 1, columns in code points; `length` is in code points and at least 1.
    """

    file: str
    line: int = 1
    column: int = 1
    length: int = 1

    def part(self, start: int, length: int) -> Span:
        """Return the span of `length` characters that begins `start` characters into this one."""
        return Span(self.file, self.line, self.column + start, max(1, length))

    def within(self, text: str, first: int, last: int) -> Span:
        """Return the span of the characters `first` to `last` of a text that begins here; of lines the first."""
        line = text.count("\n", 0, first)
        column = first - text.rfind("\n", 0, first) - 1 + (1 if line else self.column)
        length = len(text[first:last].split("\n", maxsplit=1)[0])
        return Span(self.file, self.line + line, column, max(1, length))
