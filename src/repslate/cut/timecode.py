"""SMPTE timecode and frame rates to exact seconds and back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from repslate.model.clock import write_clock

_RATE = re.compile(r"([0-9]{2})(?:[.,]([0-9]{1,3}))?(?:\s*fps)?(?:[\s-]+(drop|df|non-?drop|ndf))?", re.IGNORECASE)
_TIMECODE = re.compile(r"([0-9]{2})[:;.,]([0-9]{2})[:;.,]([0-9]{2})([:;.,])([0-9]{2})")


@dataclass(frozen=True, slots=True)
class Rate:
    """A frame rate: `exact` frames a second, `nominal` frames that a label counts to a second.

    `drop` labels are left out at the start of every minute that ten does not divide: 2, 4, or 0 for none.
    """

    exact: Fraction
    nominal: int
    drop: int

    @property
    def day(self) -> int:
        """Frames of the 24 h that labels can name."""
        return self.nominal * 86_400 - self.drop * 9 * 6 * 24

    def counted(self, *, drop: bool) -> Rate:
        """Return the same rate counted with or without drop frames; itself where its labels never drop any."""
        return Rate(self.exact, self.nominal, self.nominal // 15 if drop and self.may_drop else 0)

    @property
    def may_drop(self) -> bool:
        """Tell whether drop-frame labels exist: at 29.97 and 59.94 only (SMPTE ST 12-1)."""
        return self.exact.denominator == 1001 and self.nominal % 30 == 0


RATES: dict[str, Rate] = {
    "23.976": Rate(Fraction(24_000, 1001), 24, 0),
    "24": Rate(Fraction(24), 24, 0),
    "25": Rate(Fraction(25), 25, 0),
    "29.97": Rate(Fraction(30_000, 1001), 30, 0),
    "29.97 drop": Rate(Fraction(30_000, 1001), 30, 2),
    "30": Rate(Fraction(30), 30, 0),
    "50": Rate(Fraction(50), 50, 0),
    "59.94": Rate(Fraction(60_000, 1001), 60, 0),
    "59.94 drop": Rate(Fraction(60_000, 1001), 60, 4),
}


def read_rate(text: str) -> Rate | str:
    """Return the rate that "25", "23.98", "29.97 drop" or "30000/1001" says, or the reason why it says none."""
    plain = " ".join(text.split())
    for rate in RATES.values():
        if plain == str(rate.exact) and not rate.drop:
            return rate
    found = _RATE.fullmatch(plain)
    whole, decimals, counting = found.groups() if found else ("", "", "")
    decimals = (decimals or "").rstrip("0")
    key = {"23.98": "23.976"}.get(name := f"{whole}.{decimals}" if decimals else whole, name)
    if key not in RATES:
        return f"found “{text[:40]}”, expected one of {', '.join(RATES)}"
    rate = RATES[key]
    drop = (counting or "").lower() in ("drop", "df")
    if drop and not rate.may_drop:
        return f"found “{text[:40]}”, expected drop-frame counting only at 29.97 and 59.94"
    return rate.counted(drop=drop)


def read_timecode(label: str, rate: Rate) -> int | str:
    """Return the frames from 00:00:00:00 to an SMPTE label, or the reason why there is no such label.

    `rate` says how labels count; a `;`, `.` or `,` before the frames says drop-frame and is refused where `rate`
    drops none. Source: SMPTE ST 12-1.
    """
    found = _TIMECODE.fullmatch(label)
    if not found:
        return f"found “{label[:40]}”, expected HH:MM:SS:FF"
    hours, minutes, seconds, frames = (int(found[part]) for part in (1, 2, 3, 5))
    for what, value, most in (("hours", hours, 23), ("minutes", minutes, 59), ("seconds", seconds, 59)):
        if value > most:
            return f"found {value} in “{label}”, expected {what} from 00 to {most}"
    if frames >= rate.nominal:
        return f"found {frames} in “{label}”, expected frames from 00 to {rate.nominal - 1:02}"
    if found[4] != ":" and not rate.drop:
        return f"found “{label}”, expected a colon before the frames where none are dropped"
    if seconds == 0 and frames < rate.drop and minutes % 10:
        first = f"{found[1]}:{found[2]}:00;{rate.drop:02}"
        return f"found “{label}”, which does not exist, expected {first} as the minute's first drop-frame label"
    minutes += 60 * hours
    return rate.nominal * (60 * minutes + seconds) + frames - rate.drop * (minutes - minutes // 10)


def write_timecode(frames: int, rate: Rate) -> str:
    """Write the SMPTE label of the frame that lies `frames` after 00:00:00:00.

    Raise ValueError outside of the 24 h that have labels, which the caller has to keep within.
    """
    if not 0 <= frames < rate.day:
        raise ValueError(f"a frame outside of the day: {frames}")
    if rate.drop:
        tens, rest = divmod(frames, rate.nominal * 600 - 9 * rate.drop)
        later = max(0, rest - rate.drop) // (rate.nominal * 60 - rate.drop)
        frames += rate.drop * (9 * tens + later)
    seconds, frame = divmod(frames, rate.nominal)
    mark = ";" if rate.drop else ":"
    return f"{write_clock(Fraction(seconds), hours=True):0>8}{mark}{frame:02}"


def to_seconds(frames: int, rate: Rate) -> Fraction:
    """Return the exact seconds that a count of frames lasts."""
    return frames / rate.exact
