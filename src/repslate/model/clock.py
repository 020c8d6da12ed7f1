"""Times as a clock shows them, "1:05" or "1:02:03.500", to exact seconds and back: one reader, one writer."""

from __future__ import annotations

import re
from fractions import Fraction
from math import floor

HOUR = 3600
# At most five digits of hours or minutes and nine of a fraction: more is a slip of the keyboard, not a film.
_CLOCK = re.compile(r"(?:([0-9]{1,5}):)?([0-9]{1,5}):([0-9]{1,5})(?:[.,]([0-9]{1,9}))?")


def read_clock(text: str) -> Fraction | str:
    """Return the seconds that `M:SS` or `H:MM:SS` says, or the reason why it says none.

    A fraction of a second follows a full stop or a comma ("1:02.5"). Minutes run on past 59 where no hours are
    written: "75:00" is 4500 s.
    """
    found = _CLOCK.fullmatch(text)
    if not found:
        return "expected M:SS or H:MM:SS"
    hours, minutes, seconds, fraction = found.groups()
    if len(seconds) != 2:
        return f"found “{seconds}”, expected two digits for the seconds"
    if int(seconds) > 59:
        return f"found “{seconds}”, expected seconds from 00 to 59"
    if hours and (len(minutes) != 2 or int(minutes) > 59):
        return f"found “{minutes}”, expected minutes from 00 to 59 after the hours"
    whole = int(hours or 0) * HOUR + int(minutes) * 60 + int(seconds)
    return whole + Fraction(int(fraction or 0), 10 ** len(fraction or ""))


def write_clock(
    seconds: Fraction | int, *, hours: bool | None = None, thousandths: bool | None = False, mark: str = "."
) -> str:
    """Write seconds as `M:SS` or `H:MM:SS`, rounded down so that a jump never lands past the start.

    `hours` stand from the first hour on where it is None, else always or never. `thousandths` stand behind `mark`
    always, never, or (None) where there are any. Raise ValueError below zero, which no reader lets through.
    """
    if seconds < 0:
        raise ValueError(f"a time before the start of the film: {seconds} s")
    whole, rest = divmod(floor(seconds * 1000), 1000)
    tail = f"{mark}{rest:03}" if thousandths or (rest and thousandths is None) else ""
    minutes, second = divmod(whole, 60)
    if not (seconds >= HOUR if hours is None else hours):
        return f"{minutes}:{second:02}{tail}"
    hour, minute = divmod(minutes, 60)
    return f"{hour}:{minute:02}:{second:02}{tail}"


def write_stamp(seconds: Fraction, mark: str = ".") -> str:
    """Write seconds as tracks have them, `HH:MM:SS.mmm` with `mark` before the thousandths, rounded down."""
    return write_clock(seconds, hours=True, thousandths=True, mark=mark).rjust(12, "0")
