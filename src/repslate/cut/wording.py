"""Times, lengths and rates of the cut as an editor reads them."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from repslate.model.clock import write_clock
from repslate.model.quantity import write_number


def exact_clock(seconds: Fraction) -> str:
    """Return a time of the cut to the millisecond where it has any: "1:05", "1:05.040", from one hour on "1:00:05".

    Rounded up, so that a jump to a shot change never shows the shot before.
    """
    return write_clock(Fraction(ceil(seconds * 1000), 1000), thousandths=None)


def length_words(seconds: Fraction) -> str:
    """Return a length of time in words, to the hundredth of a second: "1.6 s"."""
    return f"{write_number(Fraction(round(seconds * 100), 100))} s"


def rate_words(rate: Fraction) -> str:
    """Return a frame rate as editors write it, to the thousandth: "25", "29.97", "23.976"."""
    return write_number(Fraction(round(rate * 1000), 1000))


def frame_words(seconds: Fraction, rate: Fraction) -> str:
    """Return a length of time in frames: "11 frames"."""
    frames = round(seconds * rate)
    return f"{frames} frame{'' if frames == 1 else 's'}"
