"""Figures in a typed line: numbers in digits and words, their units, ranges, and lists such as 12/10/8 or 1+1+1."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from repslate.model.notes.lexicon import meanings, plain
from repslate.model.notes.pieces import Piece, pieces
from repslate.model.quantity import NUMBER_WORDS, VULGAR, Range, number_in_words, read_number
from repslate.model.tokens import Kind

_TIME = {"s": 1, "min": 60, "hour": 3600}
_LENGTH = {
    "m": Decimal(1),
    "km": Decimal(1000),
    "mile": Decimal("1609.344"),  # exact, like the foot: international yard and pound agreement, 1959
    "ft": Decimal("0.3048"),
    "yd": Decimal("0.9144"),
}
_OTHER = ("cal", "breath", "step", "length", "kg", "lb", "percent", "cm", "rep", "set", "round", "spm", "rpm", "watt")
_UNITS = frozenset((*_TIME, *_LENGTH, *_OTHER))
_GLUED_ONLY = frozenset({"k", "w", "in"})  # too short to be a unit with a blank before it
_WORDY = frozenset({"in"})
_TO = frozenset({"to"})
_NOT_IN_WORDS = frozenset({"one"})


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure or range with its unit: "s", "m" (both converted), "cal", "kg", … or "" where none stands there.

    `start` and `end` are tokens; `is_open` tells of "5+", `is_plural` of "24s" and "21's", `typed_unit` what stood there.
    """

    low: Decimal
    high: Decimal
    unit: str
    start: int
    end: int
    is_open: bool = False
    is_plural: bool = False
    is_clock: bool = False

    @property
    def figures(self) -> Range[Decimal]:
        """From low to high."""
        return Range(self.low, self.high)

    @property
    def is_single(self) -> bool:
        """Whether it is no range."""
        return self.low == self.high


@dataclass(frozen=True, slots=True)
class Figures:
    """Two or more figures joined by one sign: "12/10/8", "21-15-9", "1+1+1", "12, 10, 8"; `ranges` keeps "6-8/10-12"."""

    ranges: tuple[Range[Decimal], ...]
    sign: str
    unit: str
    start: int
    end: int
    is_open: bool = False

    @property
    def values(self) -> tuple[Decimal, ...]:
        """The lower figure of each."""
        return tuple(one.low for one in self.ranges)


class Typed:
    """A typed line in pieces, with readers that look from a piece on and never move."""

    def __init__(self, text: str) -> None:
        """Cut the line into pieces."""
        self.text = text
        self.tokens: tuple[Piece, ...] = pieces(plain(text))
        self.end = len(self.tokens) - 1
        self._last = self.tokens[-1]
        self._meanings = meanings(self.tokens)
        self._numbers: dict[int, tuple[Decimal, int, str] | None] = {}
        self._amounts: dict[int, Amount | None] = {}
        self._figures: dict[tuple[int, str], Figures | None] = {}
        self._begun: dict[int, frozenset[str]] = {}

    def __getitem__(self, at: int) -> Piece:
        return self.tokens[at if at > 0 else 0] if at < self.end else self._last

    def means(self, at: int) -> dict[str, int]:
        """Return what the phrases that begin at `at` may mean, each with the piece behind it."""
        return self._meanings[at] if 0 <= at < self.end else {}

    def sees(self, at: int, *meanings: str) -> int:
        """Return where a phrase of one of these meanings that begins at `at` ends; 0 for none."""
        if not 0 <= at < self.end:
            return 0
        known = self._meanings[at]
        if not known:
            return 0
        end = 0
        for meaning in meanings:
            if meaning in known and known[meaning] > end:
                end = known[meaning]
        return end

    def begins(self, at: int) -> frozenset[str]:
        """Return all that a reader may begin by at `at`: the word or sign, its meanings, and "number"."""
        found = self._begun.get(at)
        if found is None:
            piece = self[at]
            is_number = piece.is_number or self.number(at) is not None
            found = frozenset((piece.word, *self.means(at), *(("number",) if is_number else ())))
            self._begun[at] = found
        return found

    def is_mark(self, at: int, signs: str) -> bool:
        """Tell whether one of these signs stands there."""
        piece = self[at]
        return piece.kind is Kind.MARK and piece.text in signs

    def typed(self, start: int, end: int) -> str:
        """Return what was typed from token `start` up to `end`."""
        if start >= end:
            return ""
        return " ".join(self.text[self[start].start : self[end - 1].end].split())

    # ---- figures

    def number(self, at: int) -> tuple[Decimal, int, str] | None:
        """Return a bare number, the piece behind it, and "s" where it is a clock time; None for anything else."""
        if at not in self._numbers:
            self._numbers[at] = self._read_number(at)
        return self._numbers[at]

    def _read_number(self, at: int) -> tuple[Decimal, int, str] | None:
        token = self[at]
        if token.kind is Kind.CLOCK:
            return (seconds, at + 1, "s") if (seconds := _clock(token.text)) is not None else None
        if (
            token.text == ":"
            and self[at + 1].kind is Kind.FIGURE
            and self[at + 1].glued
            and len(self[at + 1].text) == 2
        ):
            return Decimal(self[at + 1].text), at + 2, "s"
        if token.kind is Kind.FIGURE:
            value = _figure(token.text)
            following = self[at + 1]
            if value is not None and following.text in VULGAR and not following.glued:  # "2 ½"
                return value + VULGAR[following.text], at + 2, ""
            return None if value is None else (value, at + 1, "")
        if token.kind is not Kind.WORD:
            return None
        if token.word == "half" and self[at + 1].word in ("a", "an") and self.sees(at + 2, "min", "hour"):
            return Decimal("0.5"), at + 2, ""
        if token.word == "a" and self.sees(at + 1, "min", "hour"):
            return Decimal(1), at + 1, ""
        if token.word in NUMBER_WORDS and not (self[at + 1].is_dash and self[at + 1].glued and self[at + 2].glued):
            return Decimal(NUMBER_WORDS[token.word]), at + 1, ""
        if token.word in NUMBER_WORDS and (both := number_in_words(f"{token.word}-{self[at + 2].word}")):
            return Decimal(both), at + 3, ""
        if token.word in NUMBER_WORDS and self.sees(at + 2, *_UNITS):  # "eight-time"
            return Decimal(NUMBER_WORDS[token.word]), at + 1, ""
        return None

    def unit(self, at: int) -> tuple[str, int]:
        """Return the unit that stands at `at` and the token behind it; "" and `at` for none."""
        step = at + 1 if self[at].is_dash and self[at].glued and self[at + 1].glued else at
        token = self[step]
        if token.text == "#" and token.glued and step == at:
            end = step + 1
            while self[end].text == "#":
                end += 1
            return ("lb", end) if self[end].kind is not Kind.FIGURE else ("", at)
        if token.text in ("'", '"') and step == at and self[at - 1].kind is not Kind.WORD:
            return self._primes(at)
        known = self._meanings[min(step, self.end)]
        ends = {unit: known[unit] for unit in known.keys() & _UNITS}
        longest = max(ends.values(), default=0)
        if not longest or (token.word in _GLUED_ONLY and not token.glued) or (step != at and longest == step):
            return "", at
        return next(unit for unit in (*_TIME, *_LENGTH, *_OTHER) if ends.get(unit) == longest), longest

    def _primes(self, at: int) -> tuple[str, int]:
        if self[at].text == '"':
            return "s", at + 1
        if self[at + 1].text == "'" and self[at + 1].glued:
            return "s", at + 2
        if self[at + 1].glued and self[at + 1].word == "s":  # "21's"
            return "", at
        return "min", at + 1

    def amount(self, at: int) -> Amount | None:
        """Return the figure or range that begins at `at`, with its unit; None where there is none."""
        if at not in self._amounts:
            self._amounts[at] = self._read_amount(at)
        return self._amounts[at]

    def _read_amount(self, at: int) -> Amount | None:
        first = self._end(at)
        if first is None:
            return None
        end = first.end
        is_open = self.is_mark(end, "+") and self[end].glued and not self._is_figure(end + 1)
        behind = end + is_open
        is_range = self[behind].is_dash and (self[behind].glued or not self[behind + 1].glued)
        separator = behind + 1 if is_range else self.sees(behind, *_TO)
        if not separator and first.is_clock and self.is_mark(behind, "/"):
            separator = behind + 1
        second = self._end(separator) if separator and not is_open else None
        if second is not None:
            is_dashed = self[separator - 1].is_dash
            is_list = is_dashed and self[second.end].is_dash and self._is_figure(second.end + 1)
            joined = _joined(first, second)
            if joined and not is_list:
                return Amount(*joined, at, second.end, is_clock=first.is_clock)
        low, unit = _converted(first, first.unit)
        if first.unit == "" and self[behind].text == "'" and self[behind + 1].word == "s" and self[behind + 1].glued:
            return Amount(low, low, "", at, behind + 2, is_plural=True)
        return Amount(low, low, unit, at, behind, is_open=is_open, is_clock=first.is_clock)

    def _end(self, at: int) -> _End | None:
        """Return one end of a range as typed."""
        found = self.number(at)
        if found is None:
            return None
        value, end, clock = found
        unit, behind = self.unit(end)
        if clock:
            return _End(value, "s", behind if unit in ("s", "min") else end, is_clock=True)
        if unit == "min" and self[end].text == "'" and self[behind].kind is Kind.FIGURE and self[behind].glued:
            seconds = _figure(self[behind].text)  # 2'30"
            if seconds is not None and seconds < 60:
                behind += 1
                while self[behind].text in ("'", '"'):
                    behind += 1
                return _End(value * 60 + seconds, "s", behind, is_clock=True)
        minutes = self[behind]
        if unit == "hour" and minutes.kind is Kind.FIGURE and minutes.glued and len(minutes.text) == 2:  # "2h30"
            step = behind + 1
            return _End(
                value * 3600 + Decimal(minutes.text) * 60, "s", step + (self[step].word in ("min", "m")), is_clock=True
            )
        if unit == "m" and value < 10 and len(self[at].text) == 5 and self[at].text[1] in ".,":
            value *= 1000  # 1.500 m, as written on the continent
        return _End(value, unit, behind)

    def _is_figure(self, at: int) -> bool:
        return self[at].is_number or (self[at].text == ":" and self[at + 1].kind is Kind.FIGURE)

    def figures(self, at: int, signs: str = "/-+,") -> Figures | None:
        """Return two or more figures joined by one of these signs; None where there are none."""
        key = (at, signs)
        if key not in self._figures:
            self._figures[key] = self._read_figures(at, signs)
        return self._figures[key]

    def _read_figures(self, at: int, signs: str) -> Figures | None:
        first = self._listed(at)
        if first is None:
            return None
        one, unit, end = first
        sign = "-" if self[end].is_dash else self[end].text
        if sign not in signs or not sign:
            return None
        found, opened, units = [one], False, [unit]
        while ("-" if self[end].is_dash else self[end].text) == sign:
            if sign == "+" and self[end + 1].glued != self[end].glued:
                break  # "4x6 +20 kg"
            following = self._listed(end + 1, ranges=sign != "-")
            if following is None:
                if sign == "+":
                    break
                break
            one, unit, end = following
            found.append(one)
            units.append(unit)
            if self.is_mark(end, "+") and sign != "+" and not self._is_figure(end + 1):
                opened, end = True, end + 1
                break
        named = {unit for unit in units if unit}
        if len(found) < 2 or len(named) > 1:
            return None
        return Figures(tuple(found), sign, next(iter(named), ""), at, end, opened)

    def _listed(self, at: int, *, ranges: bool = True) -> tuple[Range[Decimal], str, int] | None:
        """Return one figure of a list, in its own unit; a range only where the list is not joined by dashes."""
        first = self._end(at)
        if first is None:
            return None
        if ranges and self[first.end].is_dash and self[first.end].glued:
            second = self._end(first.end + 1)
            is_listed = second and ("/" in (self[second.end].text, self[at - 1].text) or self[second.end].text in ",+")
            if second and is_listed and not self[second.end].is_dash and (joined := _joined(first, second)):
                return Range(joined[0], joined[1]), joined[2], second.end
        value, unit = _converted(first, first.unit)
        return Range(value, value), unit, first.end


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a range, in the unit typed behind it."""

    value: Decimal
    unit: str
    end: int
    is_clock: bool = False


def _converted(one: _End, unit: str) -> tuple[Decimal, str]:
    """Return an end in the unit that figures are kept in."""
    if unit in _TIME:
        return one.value * _TIME[unit], "s"
    if unit in _LENGTH:
        return one.value * _LENGTH[unit], "m"
    return one.value, unit


def _joined(low: _End, high: _End) -> tuple[Decimal, Decimal, str] | None:
    """Return both ends in one unit; None where they make no range. "2-3 min" has its unit behind both."""
    first, unit = _converted(low, low.unit or ("" if low.is_clock else high.unit))
    second, second_unit = _converted(high, high.unit or low.unit)
    return (first, second, unit) if unit == second_unit and first <= second else None


@lru_cache(maxsize=64)
def typed_line(text: str) -> Typed:
    """Return a line in tokens; the same line is looked at several times before it is clear what it is."""
    return Typed(text)


def _clock(text: str) -> Decimal | None:
    parts = text.split(":")
    if len(parts) > 3 or any(len(part) != 2 for part in parts[1:]) or len(parts[0]) > 3:
        return None
    seconds = Decimal(0)
    for part in parts:
        seconds = seconds * 60 + Decimal(part)
    return seconds


def _figure(text: str) -> Decimal | None:
    if len(text) > 9:
        return None
    return read_number(text)
