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
