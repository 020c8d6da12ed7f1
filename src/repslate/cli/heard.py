"""Says which figures were heard."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.spoken import worded
from repslate.model.clock import HOUR, write_clock
from repslate.model.quantity import Range
from repslate.speech.heard import Heard, HeardFigure

_SURE = Fraction(3, 4)  # of what is heard less surely, the listing says "perhaps"
_WIDEST = 60  # characters of a quotation in the listing


def listing(heard: Heard | None) -> Iterator[str]:
    """Yield a line for each figure: when, of what, the figure in words, and the words that were said."""
    if heard is None or not heard.figures:
        yield "no figure was heard"
        return
    hours = heard.figures[-1].time >= HOUR
    rows = [
        (write_clock(one.time, hours=hours), _owner(one, heard), _figure(one), _quoted(one.quote))
        for one in heard.figures
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    for clock, owner, figure, words in rows:
        yield f"{clock:>{widths[0]}}  {owner:<{widths[1]}}  {figure:<{widths[2]}}  {words}"
    if heard.coarse:
        yield "the times are those of a transcript's paragraphs, so they are coarse"


def _owner(figure: HeardFigure, heard: Heard) -> str:
    if figure.exercise:
        return figure.exercise.name
    return heard.plan[figure.part].name if figure.part is not None else "the workout"


def _figure(figure: HeardFigure) -> str:
    text = worded(figure.field, Range(figure.low, figure.high)) + (" per side" if figure.per_side else "")
    return text if figure.confidence >= _SURE else f"perhaps {text}"


def _quoted(words: str) -> str:
    return f"“{words if len(words) <= _WIDEST else words[: _WIDEST - 1].rstrip() + '…'}”"
