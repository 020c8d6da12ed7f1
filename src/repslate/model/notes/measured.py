"""A typed line in pieces with what each may mean, and the single figures in it with their units."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from repslate.model.notes.lexicon import meanings, plain
from repslate.model.notes.pieces import Piece, pieces
from repslate.model.quantity import NUMBER_WORDS, VULGAR, number_in_words, read_number
from repslate.model.tokens import Kind

TIMES_OF = {"s": 1, "min": 60, "hour": 3600}
LENGTHS_OF = {
    "m": Decimal(1),
    "km": Decimal(1000),
    "mile": Decimal("1609.344"),  # exact, like the foot: international yard and pound agreement, 1959
    "ft": Decimal("0.3048"),
    "yd": Decimal("0.9144"),
}
_OTHER = ("cal", "breath", "step", "length", "kg", "lb", "percent", "cm", "rep", "set", "round", "spm", "rpm", "watt")
#: Of two units with the same spelling the first counts.
_UNITS = (*TIMES_OF, *LENGTHS_OF, *_OTHER)
_RANKS = {unit: -rank for rank, unit in enumerate(_UNITS)}
_GLUED_ONLY = frozenset({"k", "w", "in"})  # too short to be a unit with a blank before it
#: The names of numbers in the files of words.
_COUNTS = {count: f"n{count}" for count in range(2, 13)}
_LONGEST_FIGURE = 9  # characters; what is longer counts nothing that a coach asks

Number = tuple[Decimal, int, str]
"""A value, the piece behind it, and "s" where it is a clock time."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a range, in the unit typed behind it, with the piece behind both."""

    value: Decimal
    unit: str
    end: int
    is_clock: bool = False


class Measured:
    """A typed line in pieces, with readers that look from a piece on and never move."""

    def __init__(self, text: str) -> None:
        """Cut the line into pieces."""
        self.text = text
        self.tokens: tuple[Piece, ...] = pieces(plain(text))
        self.end = len(self.tokens) - 1
        self._last = self.tokens[-1]
        self._meanings = meanings(self.tokens)
        self._numbers: dict[int, Number | None] = {}
        self._ends: dict[int, End | None] = {}
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
        """Return what was typed from piece `start` up to `end`."""
        if start >= end:
            return ""
        return " ".join(self.text[self[start].start : self[end - 1].end].split())

    # ---- numbers

    def number(self, at: int) -> Number | None:
        """Return a bare number in digits or in words; None for anything else."""
        if at not in self._numbers:
            piece = self[at]
            if piece.kind is Kind.WORD:
                self._numbers[at] = self._in_words(at, piece.word)
            elif piece.kind is Kind.CLOCK:
                self._numbers[at] = None if (seconds := _clock(piece.text)) is None else (seconds, at + 1, "s")
            else:
                self._numbers[at] = self._in_digits(at, piece)
        return self._numbers[at]

    def _in_digits(self, at: int, piece: Piece) -> Number | None:
        following = self[at + 1]
        if piece.text == ":" and following.glued and len(following.text) == 2 and following.text.isdecimal():
            return Decimal(following.text), at + 2, "s"  # ":30"
        value = figure(piece.text) if piece.kind is Kind.FIGURE else None
        if value is None:
            return None
        if following.text in VULGAR and not following.glued:  # "2 ½"
            return value + VULGAR[following.text], at + 2, ""
        return value, at + 1, ""

    def _in_words(self, at: int, word: str) -> Number | None:
        if word == "half" and self[at + 1].word in ("a", "an") and self.sees(at + 2, "min", "hour"):
            return Decimal("0.5"), at + 2, ""
        if word == "a" and self.sees(at + 1, "min", "hour"):
            return Decimal(1), at + 1, ""
        if word not in NUMBER_WORDS:
            return self._in_another_language(at)
        alone = Decimal(NUMBER_WORDS[word]), at + 1, ""
        if not (self[at + 1].is_dash and self[at + 1].glued and self[at + 2].glued):
            return alone
        if both := number_in_words(f"{word}-{self[at + 2].word}"):
            return Decimal(both), at + 3, ""
        return alone if self.sees(at + 2, *_UNITS) else None  # "eight-minute"

    def _in_another_language(self, at: int) -> Number | None:
        """Return "vier" in "vier Serien"; before a unit only, since such words mean other things too."""
        count = next((count for count, name in _COUNTS.items() if name in self.means(at)), 0)
        is_counted = count and (self.sees(at + 1, *_UNITS) or self.sees(at + 1, "to"))
        return (Decimal(count), at + 1, "") if is_counted else None

    # ---- units

    def unit(self, at: int) -> tuple[str, int]:
        """Return the unit that stands at `at` and the piece behind it; "" and `at` for none."""
        piece = self[at]
        if piece.kind is Kind.MARK:
            if piece.is_dash and piece.glued and self[at + 1].glued:
                unit, end = self._named_unit(at + 1)
                return (unit, end) if unit else ("", at)
            if piece.text == "#" and piece.glued:
                return self._pounds(at)
            if piece.text in ("'", '"') and self[at - 1].kind is not Kind.WORD:
                return self._primes(at)
        return self._named_unit(at)

    def _named_unit(self, at: int) -> tuple[str, int]:
        known = self.means(at)
        if self[at].text == "H" and self[at].glued:
            return "", at  # "2H swing" is of two hands
        if not known or (self[at].word in _GLUED_ONLY and not self[at].glued):
            return "", at
        longest, _, unit = max(((known[one], _RANKS[one], one) for one in known if one in _RANKS), default=(at, 0, ""))
        return unit, longest

    def _pounds(self, at: int) -> tuple[str, int]:
        end = at + 1
        while self[end].text == "#":
            end += 1
        return ("lb", end) if self[end].kind is not Kind.FIGURE else ("", at)

    def _primes(self, at: int) -> tuple[str, int]:
        if self[at].text == '"':
            return "s", at + 1
        if self[at + 1].text == "'" and self[at + 1].glued:
            return "s", at + 2
        if self[at + 1].glued and self[at + 1].word == "s":  # "21's"
            return "", at
        return "min", at + 1

    # ---- both

    def ended(self, at: int) -> End | None:
        """Return a number with its unit; "2'30"" and "2h30" are read as a clock time in seconds."""
        if at not in self._ends:
            found = self.number(at)
            self._ends[at] = None if found is None else self._measured(at, found)
        return self._ends[at]

    def _measured(self, at: int, found: Number) -> End:
        value, end, clock = found
        unit, behind = self.unit(end)
        if clock:
            return End(value, "s", behind if unit in ("s", "min") else end, is_clock=True)
        if (unit in ("min", "hour")) and (clocked := self._glued_clock(value, unit, end, behind)):
            return clocked
        if unit == "min" and (clocked := self._and_seconds(value, behind)):
            return clocked
        if unit in ("m", "") and _has_thousands(self[at].text) and (unit or "." in self[at].text):
            value *= 1000  # 1.500 m, as written on the continent
        return End(value, unit, behind)

    def _and_seconds(self, minutes: Decimal, at: int) -> End | None:
        """Read "1 min 15" and "1 min 30 s": two digits of seconds, behind which no unit of other work stands."""
        piece = self[at]
        if piece.kind is not Kind.FIGURE or len(piece.text) != 2 or not piece.text.isdecimal() or piece.text > "59":
            return None
        seconds = self.sees(at + 1, "s")
        if seconds and self.sees(seconds, "off", "rest") and self[at - 3].is_times:
            return None  # "3x2min 30s off": a rest of its own
        if not seconds and not (
            self[at + 1].text in ("", ",", ";", ")") or self.sees(at + 1, "between", "easybetween", "rest")
        ):
            return None
        return End(minutes * 60 + Decimal(piece.text), "s", seconds or at + 1, is_clock=True)

    def _glued_clock(self, value: Decimal, unit: str, end: int, behind: int) -> End | None:
        smaller = self[behind]
        count = figure(smaller.text) if smaller.kind is Kind.FIGURE and smaller.glued else None
        step = behind + 1
        if count is None:
            return None
        if unit == "min" and self[end].text == "'" and count < 60:  # 2'30"
            while self[step].text in ("'", '"'):
                step += 1
            return End(value * 60 + count, "s", step, is_clock=True)
        if unit == "hour" and len(smaller.text) == 2:  # "2h30"
            return End(value * 3600 + count * 60, "s", step + (self[step].word in ("min", "m")), is_clock=True)
        return None


def _has_thousands(text: str) -> bool:
    """Tell whether a figure is one such as "1.500": a point and three digits, no fraction of one."""
    return text[0] in "123456789" and text[-4:-3] in (".", ",") and len(text) in (5, 6)


def _clock(text: str) -> Decimal | None:
    parts = text.split(":")
    if len(parts) > 3 or any(len(part) != 2 for part in parts[1:]) or len(parts[0]) > 3:
        return None
    seconds = Decimal(0)
    for part in parts:
        seconds = seconds * 60 + Decimal(part or 0)  # ":30"
    return seconds


def figure(text: str) -> Decimal | None:
    """Return a figure in digits; None for what is too long to be one."""
    return read_number(text) if len(text) <= _LONGEST_FIGURE else None
