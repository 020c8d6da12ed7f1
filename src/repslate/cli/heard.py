"""Says which figures were heard, as a listing and as fields of JSON."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from repslate.checks.spoken import worded
from repslate.cut.timecode import write_clock
from repslate.model.quantity import Range
from repslate.speech.heard import Heard, HeardFigure

_SURE = Fraction(3, 4)  # of what is heard less surely, the listing says "perhaps"
_WIDEST = 60  # characters of a quotation in the listing


def fields(heard: Heard | None) -> dict[str, Any]:
    """Return the figures as fields of the JSON document, times in seconds, numbers plain."""
    figures = heard.figures if heard else ()
    return {
        "figures": [
            {
                "time": round(float(one.time), 3),
                "field": one.field,
                "low": _number(one.low),
                "high": _number(one.high),
                "per_side": one.per_side,
                "exercise": one.exercise.name if one.exercise else None,
                "block": heard.plan[one.part].name if heard and one.part is not None else None,
                "quote": one.quote,
                "confidence": float(one.confidence),
            }
            for one in figures
        ],
        "coarse": bool(heard and heard.coarse),
    }


def listing(heard: Heard | None) -> Iterator[str]:
    """Yield a line for each figure: when, of what, the figure in words, and the words that were said."""
    if heard is None or not heard.figures:
        yield "no figure was heard"
        return
    hours = heard.figures[-1].time >= 3600
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


def _number(figure: Fraction) -> int | float:
    return int(figure) if figure.denominator == 1 else float(figure)
