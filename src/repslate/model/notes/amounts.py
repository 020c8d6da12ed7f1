"""Figures in a typed line: ranges with their units, and lists such as 12/10/8 or 1+1+1."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from repslate.model.notes.lexicon import listed
from repslate.model.notes.measured import LENGTHS_OF, TIMES_OF, End, Measured
from repslate.model.quantity import Range
from repslate.model.tokens import Kind


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure or range with its unit: "s", "m" (both converted), "cal", "kg", … or "" where none stands there.

    `start` and `end` are pieces; `is_open` tells of "5+", `is_plural` of "21's", `is_clock` of "1:30".
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
    """Two or more figures joined by one sign: "12/10/8", "21-15-9", "1+1+1"; `ranges` keeps "6-8/10-12"."""

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


_WIDEST = 3  # times its lower end; what is wider is no range where "à" may mean "at" too
_Listed = tuple[Range[Decimal], str, int]
"""One figure of a list, its unit, and the piece behind it."""


class Typed(Measured):
    """A typed line with its amounts and lists."""

    def __init__(self, text: str) -> None:
        """Cut the line into pieces."""
        super().__init__(text)
        self._amounts: dict[int, Amount | None] = {}
        self._figures: dict[tuple[int, str], Figures | None] = {}

    # ---- ranges

    def amount(self, at: int) -> Amount | None:
        """Return the figure or range that begins at `at`, with its unit; None where there is none."""
        if at not in self._amounts:
            first = self.ended(at)
            self._amounts[at] = self._amount(at, first) if first else None
        return self._amounts[at]

    def _amount(self, at: int, first: End) -> Amount:
        end = first.end
        is_open = self.is_mark(end, "+") and self[end].glued and not self._adds(end + 1)
        if not is_open and (found := self._range(at, first)):
            return found
        low, unit = _converted(first, first.unit)
        behind = end + is_open
        if first.unit == "" and self[behind].text == "'" and self[behind + 1].word == "s" and self[behind + 1].glued:
            return Amount(low, low, "", at, behind + 2, is_plural=True)
        return Amount(low, low, unit, at, behind, is_open=is_open, is_clock=first.is_clock)

    def _range(self, at: int, first: End) -> Amount | None:
        end = first.end
        is_dashed = self[end].is_dash and (self[end].glued or not self[end + 1].glued)
        is_dashed = is_dashed or (self[end].is_dash and not first.unit and bool(self.sees(end + 2, *TIMES_OF)))
        if is_dashed and not self[end].glued and self[end + 1].is_number:
            is_numbering = self[at - 1].word in listed("numbered words") and not self[end + 1].glued
            if self[at].kind is Kind.WORD or is_numbering:
                return None  # "series of five – 10 reps", "Warrior 2 - 5 breaths"
        is_slashed = first.is_clock and self.is_mark(end, "/")
        separator = end + 1 if is_dashed else self.sees(end, "to") or (end + 1 if is_slashed else 0)
        second = self.ended(separator) if separator else None
        joined = _joined(first, second) if second else None
        if second is None or joined is None:
            return None
        if self[end].word in ("à", "a") and self._is_at(at, first, second, joined):
            return None
        if self[separator - 1].is_dash and self[second.end].is_dash and self._is_figure(second.end + 1):
            return None  # "10-8-6" is a list
        return Amount(*joined, at, second.end, is_clock=first.is_clock)

    def _is_at(self, at: int, first: End, second: End, joined: tuple[Decimal, Decimal, str]) -> bool:
        """Tell whether "à" or "a" joins no range but work and its load: "5 x 5 à 72,5 kg", "3 series de 10 a 20 kg"."""
        is_counted = self[at - 1].is_times or bool(at > 1 and self.sees(at - 2, "set"))
        is_load = second.unit in ("kg", "lb", "percent") and not first.unit
        return joined[1] > _WIDEST * joined[0] or (is_load and is_counted)

    def _adds(self, at: int) -> bool:
        """Tell whether behind "+" another figure of the same kind stands: "5+5", but not "5+ 52.5 kg"."""
        following = self.ended(at) if self._is_figure(at) else None
        is_load = following and not self[at].glued and following.unit in ("kg", "lb", "percent")
        return self._is_figure(at) and not is_load

    def _is_figure(self, at: int) -> bool:
        return self[at].is_number or (self[at].text == ":" and self[at + 1].kind is Kind.FIGURE)

    # ---- lists

    def figures(self, at: int, signs: str = "/-+,") -> Figures | None:
        """Return two or more figures joined by one of these signs; None where there are none."""
        first = self.ended(at)
        if first is None or not (self[first.end].is_dash or self.is_mark(first.end, signs)):
            return None
        key = (at, signs)
        if key not in self._figures:
            self._figures[key] = self._list(at, signs)
        return self._figures[key]

    def _list(self, at: int, signs: str) -> Figures | None:
        following = self._listed(at)
        sign = self._sign(following[2]) if following else ""
        if sign not in signs or not sign:
            return None
        found: list[_Listed] = []
        end, is_open = at, False
        while following:
            found.append(following)
            end = following[2]
            if len(found) > 1 and sign != "+" and self.is_mark(end, "+") and not self._is_figure(end + 1):
                end, is_open = end + 1, True
                break
            is_apart = sign == "+" and self[end + 1].glued != self[end].glued  # "4x6 +20 kg"
            goes_on = self._sign(end) == sign and not is_apart
            following = self._listed(end + 1, ranges=sign != "-") if goes_on else None
        units = {unit for _, unit, _ in found if unit}
        if len(found) < 2 or len(units) > 1:
            return None
        return Figures(tuple(one for one, _, _ in found), sign, next(iter(units), ""), at, end, is_open)

    def _sign(self, at: int) -> str:
        return "-" if self[at].is_dash else self[at].text

    def _listed(self, at: int, *, ranges: bool = True) -> _Listed | None:
        """Return one figure of a list, in its own unit; a range only where the list is not joined by dashes."""
        first = self.ended(at)
        if first is None:
            return None
        if ranges and self[first.end].is_dash and self[first.end].glued and (found := self._listed_range(at, first)):
            return found
        value, unit = _converted(first, first.unit)
        return Range(value, value), unit, first.end

    def _listed_range(self, at: int, first: End) -> _Listed | None:
        """Read one "6-8" of "6-8/10-12"."""
        second = self.ended(first.end + 1)
        joined = _joined(first, second) if second else None
        if second is None or joined is None or self[second.end].is_dash:
            return None
        is_listed = "/" in (self[second.end].text, self[at - 1].text) or self[second.end].text in ("", ",", "+")
        return (Range(joined[0], joined[1]), joined[2], second.end) if is_listed else None


def _converted(one: End, unit: str) -> tuple[Decimal, str]:
    """Return an end in the unit that figures are kept in."""
    if unit in TIMES_OF:
        return one.value * TIMES_OF[unit], "s"
    if unit in LENGTHS_OF:
        return one.value * LENGTHS_OF[unit], "m"
    return one.value, unit


def _joined(low: End, high: End) -> tuple[Decimal, Decimal, str] | None:
    """Return both ends in one unit; None where they make no range. "2-3 min" has its unit behind both."""
    first, unit = _converted(low, low.unit or ("" if low.is_clock else high.unit))
    second, second_unit = _converted(high, high.unit or low.unit)
    return (first, second, unit) if unit == second_unit and first <= second else None


@lru_cache(maxsize=64)
def typed_line(text: str) -> Typed:
    """Return a line in pieces; the same line is looked at several times before it is clear what it is."""
    return Typed(text)
