"""Chapter markers matched to what they show: which exercise or block begins at which second of the cut."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Chapter:
    """A named stretch of the cut; `start` in exact seconds.

    `exercise` is the id of the exercise it shows, `block` the index of the block it announces; both None for a chapter
    such as "Welcome".
    """

    start: Fraction
    title: str
    span: Span
    exercise: str | None = None
    block: int | None = None
