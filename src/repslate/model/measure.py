"""A figure or a range of figures with its unit, read from tokens.

Both grammars share it, so that a rest or a range is read the same way in a prescription and in a block's heading.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from repslate.model.clock import read_clock
from repslate.model.prescription import Tally
from repslate.model.quantity import NUMBER_WORDS, Range, read_number, write_range, write_seconds
from repslate.model.tokens import Kind, Place, Reader, Token, quote

LARGEST = 999_999  # six digits; whatever is longer is a slip of the keyboard
BARE_SECONDS_FROM = 10  # "rest 90" is seconds, "rest 2" may be minutes


class Unit(StrEnum):
    """What a figure counts; seconds and metres whatever was typed."""

    REPS = "reps"
    SECONDS = "s"
    METRES = "m"
    KILOGRAMS = "kg"
    POUNDS = "lb"
    PERCENT = "%"
    CALORIES = "cal"
    BREATHS = "breaths"
    STEPS = "steps"
    LENGTHS = "lengths"


_ONE = Decimal(1)
TALLIES = {Unit(tally.value): tally for tally in Tally}
TALLY_UNITS = {
    "cal": Unit.CALORIES, "cals": Unit.CALORIES, "calorie": Unit.CALORIES, "calories": Unit.CALORIES,
    "kcal": Unit.CALORIES, "breath": Unit.BREATHS, "breaths": Unit.BREATHS, "step": Unit.STEPS, "steps": Unit.STEPS,
    "length": Unit.LENGTHS, "lengths": Unit.LENGTHS,
}  # fmt: skip
_UNITS = (
    dict.fromkeys(("rep", "reps", "repetition", "repetitions"), (Unit.REPS, _ONE))
    | dict.fromkeys(("s", "sec", "secs", "second", "seconds", '"', "″", "”"), (Unit.SECONDS, _ONE))
    | dict.fromkeys(("min", "mins", "minute", "minutes"), (Unit.SECONDS, Decimal(60)))
    | dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), (Unit.SECONDS, Decimal(3600)))
    | dict.fromkeys(("m", "metre", "metres", "meter", "meters"), (Unit.METRES, _ONE))
    | dict.fromkeys(("km", "kilometre", "kilometres", "kilometer", "kilometers"), (Unit.METRES, Decimal(1000)))
    | dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"), (Unit.KILOGRAMS, _ONE))
    | dict.fromkeys(("lb", "lbs", "pound", "pounds", "#"), (Unit.POUNDS, _ONE))
    | dict.fromkeys(("%", "percent"), (Unit.PERCENT, _ONE))
    | {word: (unit, _ONE) for word, unit in TALLY_UNITS.items()}
)
# Metres to the unit, exact: international yard and pound agreement, 1959.
_FOREIGN = (
    dict.fromkeys(("yd", "yds", "yard", "yards"), Decimal("0.9144"))
    | dict.fromkeys(("ft", "foot", "feet"), Decimal("0.3048"))
    | dict.fromkeys(("mile", "miles"), Decimal("1609.344"))
)
_MINUTE_MARKS = ("'", "′", "’")
TALLY_WORDS = frozenset(TALLY_UNITS)
UNIT_WORDS = frozenset(_UNITS) | frozenset(_FOREIGN)


@dataclass(frozen=True, slots=True)
class Measure:
    """A range in `unit` (None where none was typed), with the tokens it was read from."""

    low: Decimal
    high: Decimal
    unit: Unit | None
    first: Token
    last: Token

    @property
    def place(self) -> Place:
        """The tokens it was read from."""
        return (self.first, self.last)

    def decimals(self) -> Range[Decimal]:
        """Return the range as it is."""
        return Range(self.low, self.high)

    def seconds(self) -> Range[Fraction]:
        """Return the range as exact fractions, as times are kept."""
        return Range(Fraction(self.low), Fraction(self.high))


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a range: `amount` times `factor` is in `unit`; `figure` and `word` are the two as typed."""

    amount: Decimal
    figure: str
    unit: Unit | None = None
    factor: Decimal = _ONE
    word: str = ""

    @property
    def typed(self) -> str:
        """The end as it was typed, with a blank before a unit."""
        return f"{self.figure} {self.word}".rstrip()


def read_measure(r: Reader, expected: str = "a figure", *, is_rest: bool = False) -> Measure | None:
    """Read "10", "10–12", "60 s to 90 s", "22,5 kg", "1:30", ":30", "1 min 30 s"; None after a finding.

    2' is minutes of a rest, but of work it may be feet.
    """
    first = r.here
    low = _read_end(r, expected, is_rest=is_rest)
    high = low
    if low and (r.here.is_dash or r.sees("to")) and r.ahead().is_number:
        r.take()
        high = _read_end(r, expected, is_rest=is_rest)
    if low is None or high is None:
        return None
    return _joined(r, low, high, first)


def whole(r: Reader, measure: Measure, what: str) -> Range[int] | None:
    """Return the range as whole numbers of `what`; None after a finding, where it has another unit or decimals."""
    if measure.unit not in (None, Unit.REPS):
        r.error(
            "notation-unit",
            measure.place,
            f"found “{r.typed(measure.place)}”, expected a number of {what}",
            f"write {what} without a unit",
        )
        return None
    if measure.low % 1 or measure.high % 1:
        fix = "write a whole number; a comma between two parts wants a blank behind it"
        if what == "reps":
            fix += ", reps that change from set to set are written “12/10/8”"
        message = f"found “{r.typed(measure.place)}”, expected a whole number of {what}"
        r.error("notation-figure", measure.place, message, fix)
        return None
    return Range(int(measure.low), int(measure.high))


def single(r: Reader, measure: Measure, what: str) -> int | None:
    """Return one whole number of `what`; None after a finding, where it is a range or not whole."""
    count = whole(r, measure, what)
    if count is None:
        return None
    if count.low == count.high:
        return count.low
    message = f"found “{r.typed(measure.place)}”, expected one number of {what}, not a range"
    r.error("notation-unclear", measure.place, message, f"write one of the two, {count.low} or {count.high}")
    return None


def read_whole(r: Reader, what: str) -> Range[int] | None:
    """Read a whole number or range of `what`; None after a finding."""
    measure = read_measure(r, f"a number of {what}")
    return None if measure is None else whole(r, measure, what)


def read_rest(r: Reader) -> Range[Fraction] | None:
    """Read the time behind the word "rest", as seconds; None after a finding."""
    begin = r.last
    r.take_any(":", "=", "of", "for")
    if r.here.kind is Kind.WORD and r.here.word not in NUMBER_WORDS:  # "rest as needed"
        beside = r.beside((begin, r.end_of_part()), "write a time, as in “rest 60–90 s”, or take the words out")
        r.unexpected("a time such as “60–90 s”", beside)
        return None
    measure = read_measure(r, "a time such as “60–90 s”", is_rest=True)
    return None if measure is None else as_time(r, measure, bare=1)


def as_time(r: Reader, measure: Measure, *, bare: int) -> Range[Fraction] | None:
    """Return a measure as seconds; one without a unit counts as `bare` seconds each, with a note, if that is clear."""
    if measure.unit is Unit.SECONDS:
        return measure.seconds()
    typed, shown = r.typed(measure.place), write_range(measure.decimals())
    if measure.unit is not None:
        fix = "write a time as in “rest 60–90 s”"
        if measure.last.word == "m":
            fix = r.fixed(measure.place, f"{typed.removesuffix('m').rstrip()} min", otherwise=fix)
        r.error("notation-unit", measure.place, f"found “{typed}”, expected a time in s or min", fix)
        return None
    if bare == 1 and measure.low < BARE_SECONDS_FROM and measure.high > 0:
        fix = r.fixed(measure.place, f"{typed} min") + f", or “{typed} s” if seconds are meant"
        r.error("notation-unclear", measure.place, f"{shown} can be seconds or minutes, expected a unit", fix)
        return None
    message = f"{shown} without a unit is read as {'seconds' if bare == 1 else 'minutes'}"
    fix = r.fixed(measure.place, f"{typed} {'s' if bare == 1 else 'min'}")
    r.note("notation-assumed", measure.place, message, fix)
    return replace(measure, low=measure.low * bare, high=measure.high * bare).seconds()


def _read_end(r: Reader, expected: str, *, is_rest: bool) -> _End | None:
    if not r.here.is_number:
        r.unexpected(expected)
        return None
    token = r.take()
    if token.kind is Kind.CLOCK:
        return _clock_end(r, token)
    amount = read_number(token.text)
    if amount is None or r.refuses_letters(token) or not _is_plain(r, token):
        return None
    end = _with_unit(r, amount, token.text, is_rest=is_rest)
    smaller = _UNITS.get(r.ahead().word) if r.here.kind is Kind.FIGURE and end.factor > 1 else None
    if end.unit is Unit.SECONDS and smaller and smaller[0] is Unit.SECONDS and smaller[1] < end.factor:
        more = _read_end(r, expected, is_rest=is_rest)  # "1 min 30 s"
        total = end.amount * end.factor + more.amount * more.factor if more else None
        return _End(total, f"{end.typed} {more.typed}", Unit.SECONDS) if more and total is not None else None
    return end


def _clock_end(r: Reader, token: Token) -> _End | None:
    seconds = read_clock(f"0{token.text}" if token.text.startswith(":") else token.text)
    if isinstance(seconds, str):
        r.error(
            "notation-figure", (token, token), f"found {quote(token)}, expected minutes and seconds such as 1:30",
            "write two digits below 60 behind each colon",
        )  # fmt: skip
        return None
    if token.text.count(":") == 1:
        r.take_any("min", "mins", "minute", "minutes")
    return _End(Decimal(seconds.numerator), token.text, Unit.SECONDS)


def _is_plain(r: Reader, token: Token) -> bool:
    """Refuse over six digits, and three or more behind the mark: "1,000 m" is a thousand to some and one to others."""
    head, _, tail = token.text.replace(",", ".").partition(".")
    if len(head) <= 6 and len(tail) <= 2:
        return True
    limit = "at most six digits" if len(head) > 6 else "at most two digits behind a decimal point or comma"
    fix = "write a smaller figure" if len(head) > 6 else "write thousands without a comma or point"
    r.error("notation-figure", (token, token), f"found {quote(token)}, expected {limit}", fix)
    return False


def _with_unit(r: Reader, amount: Decimal, figure: str, *, is_rest: bool) -> _End:
    if r.here.is_dash and r.here.glued and r.ahead().glued and r.ahead().word in _UNITS:
        r.take()  # "10-minute"
    word = r.here.word
    if word in _UNITS and not (_UNITS[word][0] is Unit.REPS and r.ahead().text == ":"):  # "Sets: 3 reps: 10"
        r.take()
        return _End(amount, figure, *_UNITS[word], word)
    if r.take_all("per", "cent"):
        return _End(amount, figure, Unit.PERCENT, word="%")
    if figure == "21" and r.here.text in _MINUTE_MARKS and r.ahead().word == "s" and r.ahead().glued:
        r.take()  # "21's" is written for 21s
        return _End(amount, figure, *_UNITS["s"], r.take().word)
    if word in _FOREIGN:
        return _End(amount, figure, Unit.METRES, _FOREIGN[word], r.take().word)
    if r.here.text in _MINUTE_MARKS and r.here.glued:
        return _minutes_end(r, amount, figure, is_rest=is_rest)
    return _End(amount, figure)


def _minutes_end(r: Reader, amount: Decimal, figure: str, *, is_rest: bool) -> _End:
    """Read the mark of 2', minutes of a rest; of work it may be feet."""
    place = (r.last, r.take())
    if not is_rest and (r.here.word not in ("rest", "off") or r.ahead().is_number):
        fix = r.fixed(place, f"{figure} min") + ", or metres if feet are meant"
        r.error("notation-unclear", place, f"found “{r.typed(place)}”, expected a unit such as min or m", fix)
    return _End(amount, figure, Unit.SECONDS, Decimal(60), "min")


def _joined(r: Reader, low: _End, high: _End, first: Token) -> Measure | None:
    """Make one measure of two ends; an end without a unit has the other's."""
    turned = _turned(low, high)
    if low.unit is None:
        low = replace(high, amount=low.amount)
    elif high.unit is None:
        high = replace(low, amount=high.amount)
    measure = Measure(low.amount * low.factor, high.amount * high.factor, low.unit, first, r.last)
    if low.unit is not high.unit:
        r.error(
            "notation-unit", (first, r.last), f"found a range from {low.unit} to {high.unit}, expected one unit",
            "write the unit once, behind the second figure",
        )  # fmt: skip
    elif low.word in _FOREIGN or high.word in _FOREIGN:
        _refuse_foreign(r, measure, high.word if high.word in _FOREIGN else low.word)
    elif measure.low > measure.high:
        r.error(
            "notation-range", (first, r.last), f"found a range from {_write_end(low)} down to {_write_end(high)}, "
            "expected the lower figure first", r.fixed((first, r.last), turned),
        )  # fmt: skip
    elif measure.high > LARGEST:
        r.error(
            "notation-figure", (first, r.last), f"found {_write(measure)}, expected at most six digits",
            "write a smaller figure",
        )  # fmt: skip
    else:
        return measure
    return None


def _turned(low: _End, high: _End) -> str:
    """Write a range with its ends the other way round, its figures as they were typed."""
    if low.unit is None and high.factor == 60 and low.amount <= high.amount * 60:
        return f"{low.figure} s – {high.typed}"  # "90–2 min" is from 90 s to 2 min
    if low.unit is None or high.unit is None:
        return f"{high.figure}–{low.figure} {high.word or low.word}".rstrip()
    return f"{high.typed} – {low.typed}"


def _refuse_foreign(r: Reader, measure: Measure, unit: str) -> None:
    metres = write_range(Range(max(1, round(measure.low)), max(1, round(measure.high))), "m")
    r.error(
        "notation-unit", measure.place, f"found a distance in “{unit}”, expected metres: about {metres}",
        r.fixed(measure.place, metres, keeps=False),
        "1 yd = 0.9144 m, 1 ft = 0.3048 m, exactly (international yard and pound agreement, 1959)",
    )  # fmt: skip


def _write_end(end: _End) -> str:
    value = end.amount * end.factor
    return _write_in(Range(value, value), end.unit)


def _write(measure: Measure) -> str:
    return _write_in(measure.decimals(), measure.unit)


def _write_in(figures: Range[Decimal], unit: Unit | None) -> str:
    if unit is Unit.SECONDS:
        return write_seconds(Range(Fraction(figures.low), Fraction(figures.high)))
    return write_range(figures, unit or "")
