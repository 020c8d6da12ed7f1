"""Exact quantities with their units, and ranges of them, read and written.

No floats: a figure must come out as it went in.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Generic, Literal, TypeVar

KILOGRAMS_PER_POUND = Decimal("0.45359237")  # exact: international avoirdupois pound, 1959 agreement
KILOMETRES_FROM = 1000  # metres; the trade says "400 m" and "5 km" (common practice, no source)
MINUTES_FROM = 120  # seconds; below two minutes the trade says seconds (common practice, no source)
VULGAR = {"¼": Decimal("0.25"), "½": Decimal("0.5"), "¾": Decimal("0.75")}
DIGITS = frozenset("0123456789")
UNITS = {
    word: value
    for value, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
        " eighteen nineteen".split(),
        1,
    )
}
TENS = {
    word: 10 * value for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), 2)
} | {"fourty": 40}  # as many spell it, and subtitles made by machines
_JOINED = {f"{ten}-{one}": TENS[ten] + UNITS[one] for ten in TENS for one in [*UNITS][:9]}
#: Every whole number below a hundred, as a word.
NUMBER_WORDS = UNITS | TENS | _JOINED
#: A pattern of them; "twenty-five" may have a blank in place of the hyphen.
NUMBER_WORD = rf"(?:(?:{'|'.join(TENS)})(?:[- ](?:{'|'.join([*UNITS][:9])})\b)?|{'|'.join(reversed(UNITS))})"

N = TypeVar("N", int, Fraction, Decimal)
MassUnit = Literal["kg", "lb"]


@dataclass(frozen=True, slots=True)
class Range(Generic[N]):
    """From `low` to `high`, both included; a single figure has low == high."""

    low: N
    high: N

    def meets(self, other: Range[N]) -> bool:
        """Tell whether the two ranges share at least one figure."""
        return self.low <= other.high and other.low <= self.high


@dataclass(frozen=True, slots=True)
class Mass:
    """A load as written: a range of `unit`, both ends exact decimals."""

    amount: Range[Decimal]
    unit: MassUnit

    def in_unit(self, unit: MassUnit) -> Range[Fraction]:
        """Return the range in `unit`, exact (rounding belongs to view.py)."""
        if unit == self.unit:
            factor = Fraction(1)
        elif unit == "kg":
            factor = Fraction(KILOGRAMS_PER_POUND)
        else:
            factor = 1 / Fraction(KILOGRAMS_PER_POUND)
        return Range(Fraction(self.amount.low) * factor, Fraction(self.amount.high) * factor)


def read_number(text: str) -> Decimal | None:
    """Read "22.5", "22,5", "1½" or "½"; None for anything else, other scripts' digits and signs included."""
    whole, extra = (text[:-1], VULGAR[text[-1]]) if text and text[-1] in VULGAR else (text, Decimal(0))
    if not whole and extra:
        return extra
    head, mark, tail = whole.replace(",", ".").partition(".")
    if not _is_digits(head) or (mark and (extra or not _is_digits(tail))):
        return None
    return Decimal(f"{head}.{tail or 0}") + extra


def number_in_words(text: str) -> int | None:
    """Read "twelve", "Twenty-five" or "twenty five", whole numbers below a hundred; None for anything else."""
    return NUMBER_WORDS.get(text.casefold().replace(" ", "-"))


def read_count(text: str) -> int:
    """Read a whole number in digits or as NUMBER_WORD has it; raises ValueError for anything else."""
    return number_in_words(text) or int(text)


def read_mass(low: str, unit: str, high: str = "") -> Mass:
    """Read a mass from its figures, "22.5" or "22,5", and its unit: kg, kilos, lb, pounds and the like."""
    ends = [Decimal(figure.replace(",", ".")) for figure in (low, high or low)]
    return Mass(Range(*ends), "kg" if unit.casefold().startswith("k") else "lb")


def write_number(value: Decimal | Fraction | int) -> str:
    """Write an exact figure with a decimal point and no needless zeros.

    Raises ValueError for a fraction that has no finite decimal form; nothing that is read here gives one.
    """
    exact = Fraction(value)
    places = 0
    while exact.denominator != 1:
        if places == 30:
            raise ValueError(f"{value} has no short decimal form")
        exact *= 10
        places += 1
    digits = str(abs(exact.numerator)).rjust(places + 1, "0")
    sign = "-" if exact < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def write_range(figures: Range[int] | Range[Decimal] | Range[Fraction], unit: str = "") -> str:
    """Write "10", "10–12" or, with a unit, "20–24 kg"."""
    low, high = write_number(figures.low), write_number(figures.high)
    text = low if low == high else f"{low}–{high}"
    return f"{text} {unit}".rstrip()


def write_seconds(seconds: Range[Fraction]) -> str:
    """Write "60–90 s", and "2–3 min" where both ends are whole or half minutes of two or more."""
    ends = (seconds.low, seconds.high)
    if all(end >= MINUTES_FROM and end % 30 == 0 for end in ends):
        return write_range(Range(seconds.low / 60, seconds.high / 60), "min")
    return write_range(seconds, "s")


def write_metres(metres: Range[Decimal]) -> str:
    """Write "400–800 m", and "1.5–2 km" where both ends are hundreds of a thousand metres or more."""
    if all(end >= KILOMETRES_FROM and end % 100 == 0 for end in (metres.low, metres.high)):
        return write_range(Range(metres.low / 1000, metres.high / 1000), "km")
    return write_range(metres, "m")


def _is_digits(text: str) -> bool:
    return bool(text) and DIGITS.issuperset(text)
