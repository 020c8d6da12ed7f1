"""Clock text to exact seconds and back. Stands first in this stage: every other file of the cut tells time with it."""

from __future__ import annotations

import re
from fractions import Fraction
from math import floor

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
        return f"expected two digits for the seconds, found “{seconds}”"
    if int(seconds) > 59:
        return f"expected seconds from 00 to 59, found “{seconds}”"
    if hours and (len(minutes) != 2 or int(minutes) > 59):
        return f"expected minutes from 00 to 59 after the hours, found “{minutes}”"
    whole = int(hours or 0) * 3600 + int(minutes) * 60 + int(seconds)
    return whole + Fraction(int(fraction or 0), 10 ** len(fraction or ""))


def write_clock(seconds: Fraction, *, hours: bool) -> str:
    """Write seconds as `M:SS`, or as `H:MM:SS` with `hours`, rounded down so that a jump never lands past the start.

    Raise ValueError below zero, which no reader lets through.
    """
    if seconds < 0:
        raise ValueError(f"a time before the start of the film: {seconds} s")
    minutes, second = divmod(floor(seconds), 60)
    if not hours:
        return f"{minutes}:{second:02}"
    hour, minute = divmod(minutes, 60)
    return f"{hour}:{minute:02}:{second:02}"
