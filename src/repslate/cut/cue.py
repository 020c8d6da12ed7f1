"""One subtitle, and how its readers speak of what they find."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from repslate.model.clock import write_stamp
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Cue:
    """Words shown from `start` to `end`, in exact seconds of the film.

    `text` is plain, without tags, with a line feed between its lines; `id` is the number or name above the times, ""
    if there is none. `span` is the line of the times.
    """

    start: Fraction
    end: Fraction
    text: str
    span: Span
    id: str = ""


def unreadable(span: Span, message: str, help_: str, because: str) -> Finding:
    """Return the error for what is left out because it has no single meaning."""
    return Finding("subtitle-unreadable", Severity.ERROR, span, message, help_, because)


def unusual(span: Span, message: str, help_: str, because: str) -> Finding:
    """Return the warning for what is read all the same; those with the same `help_` are told once a file."""
    return Finding("subtitle-unusual", Severity.WARNING, span, message, help_, because)


def cue_time(seconds: Fraction, point: str = ",") -> str:
    """Write seconds as HH:MM:SS,mmm with that `point`, rounded to the nearest millisecond."""
    return write_stamp(Fraction(round(seconds * 1000), 1000), point)
