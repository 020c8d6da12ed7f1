"""One typed line, or the lines of one exercise, to its label, its name and what each part of it asks.

The line is walked from left to right. Where one of the readers of items.py knows what stands there, its figures go
into the part at hand; what none knows stays as words: the first of them are the name, the others are carried as typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from repslate.model.notes.amounts import Typed, typed_line
from repslate.model.notes.dose import Dose, TypedExercise, TypedLoad
from repslate.model.notes.items import Found, item
from repslate.model.quantity import Range, write_number
from repslate.model.tokens import Kind

_BULLET = re.compile(r"^[\s>]*(?:(?:[-*•+▪●◦○·‣✓✔☑☐✅→–—,]|\[[ xX]?\])\s*(?=\S))*(?<![-–—*])|^\s*[-–—*•+]+\s+")
_THEN = re.compile(r"(?i)^(?:then|and then|now|next)[,:]?\s+(?=\d|\w+\s+\w)")
_LEADER = re.compile(r"\s*(?:\.{3,}|(?:\. ){3,}|_{3,})\s*(?=\S)")
_LABEL = re.compile(
    r"""\s*(?:
      (?P<sign>[A-Ka-k]\s?\d{1,2}[a-h]?|\d{1,2}[A-Fa-f]?|[A-Za-z])\s?(?:\.(?!\d)|\)|:(?!\d)|\s?[-–—](?=\s))+\s*(?=[^\s\d]|\d)
    | \((?P<round>[A-Za-z]?\d{0,2}[a-z]?)\)\s+
    | (?P<bare>[A-H]\d{1,2}|\d{1,2}[A-F])\s+(?=[^\W\d])
    | (?P<named>(?:min(?:ute)?\s*\d{1,2}(?:-\d{1,2}|\s*[,&/]\s*\d{1,2})*|(?:odd|even)(?:\s+min(?:ute)?s?)?|partner\s?(?:\d|[ab]\b)
        |buy[-\s]?in|cash[-\s]?out|station\s?\d{1,2}|p\d)(?![\w]))\s*[:.)–—-]*\s*
    )""",
    re.VERBOSE | re.IGNORECASE,
)
_LOOSE = frozenset(
    "for of x × * with w @ at then and & + - – — : ; , . / = | · in on the a an do to by each ( ) [ ]"
    " con mit med à a de com avec o et y e und och".split()
)
_WORK = frozenset({"reps", "seconds", "metres", "calories", "breaths", "steps", "is_max", "complex", "two_levels"})
_SINGLES = {word: Range(Decimal(at), Decimal(at)) for at, word in enumerate(("single", "double", "triple"), 1)}
_SIGNS_ONLY = frozenset("× * w @ & + - – — : ; , . / = | · ( ) [ ]".split())
_FIGURED = frozenset(
    {"reps", "seconds", "metres", "calories", "breaths", "steps", "is_max", "complex", "two_levels"}
) | frozenset(
    "sets times parts rest intra_rest rest_metres every clock hold tempo drops mini_sets cluster effort sided_reps role".split()
)
_VERBS = frozenset("stay hold repeat do this rest switch complete perform cap time total relax".split())


def read_lines(lines: list[str]) -> TypedExercise:
    """Read an exercise from the lines that belong to it, the first of which holds its name or a part."""
    label, text = split_label(strip_bullet(lines[0]))
    walk = _Walk()
    is_name_alone = len(lines) > 1 and text.rstrip().endswith(":")
    if is_name_alone or (len(lines) > 1 and not has_figures(text)):
        walk.name = _tidy(text.rstrip().rstrip(":").strip("*_"))
        walk.is_named = True
    else:
        walk.read(_first_column(text, walk))
    for line in lines[1:]:
        walk.next_line()
        walk.read(strip_bullet(line))
    parts = walk.finished()
    return TypedExercise(label, walk.name, parts)


def _first_column(text: str, walk: _Walk) -> str:
    """Return a line without the columns of later weeks, which are kept as words."""
    if len(re.findall(r"\d\s*[x×]\s*\d+\S*(?:\s+(?:s|sec|min|m))?(?=\s+\d+\s*[x×]|\s*$)", text)) > 2 and not re.search(
        r"[,;+]", text
    ):
        name = re.match(r"[^\d]*", text)
        is_sets = re.findall(r"(\d+)\s*[x×]\s*\d+(?:\s*[x×]\s*\d+\s*%|\s*(?:s|sec|min)\b)", text)
        if name and len(is_sets) > 2 and name[0].strip():  # sets of one day, or of three weeks
            walk.later = [text[name.end() :].strip()]
            return name[0]
    columns = [_WEEK.sub("", column) for column in re.split(r"\s{3,}|\s*[\t|]\s*", text)]
    doses = [column for column in columns[1:] if re.match(r"\d+\s*[x×]\s*\d", column.strip())]
    if len(doses) < 2 or len(doses) < len(columns) - 1:
        return (
            _GAP.sub(", ", text) if not re.search(r"[\t|]", text) else _table_row(columns) if len(columns) > 2 else text
        )
    if re.search(r"\d+\s*[x×]\s*\d+\S*\s*$", columns[0]):
        walk.later = [column.strip() for column in columns[1:]]
        return columns[0]
    walk.later = [column.strip() for column in columns[2:]]
    return f"{columns[0]} {columns[1]}"


_GAP = re.compile(r"(?<=[^\s,;:–—-])\s{3,}(?=\S)")
_WEEK = re.compile(r"(?i)^\s*(?:wk|week)\s*\d+\s*:?\s*")


def _table_row(columns: list[str]) -> str:
    """Write a row of a table as a line: a count of sets stands before "×" and the repetitions."""
    cells = [column.strip() for column in columns if column.strip()]
    row: list[str] = []
    for cell in cells:
        if row and row[-1].isdigit() and len(row[-1]) < 3 and re.match(r"\d", cell):
            row[-1] = f"{row[-1]} x {cell}"
        else:
            row.append(cell)
    return ", ".join(row)


def strip_bullet(text: str) -> str:
    """Return a line without the signs that begin an item of a list."""
    found = _BULLET.match(text)
    text = _THEN.sub("", text[found.end() :] if found else text)
    return _LEADER.sub(" – ", text)


def split_label(text: str) -> tuple[str, str]:
    """Return the letter or number in front of a line, and the rest: "A1) Row" → "A1", "Row"."""
    found = _LABEL.match(text)
    if not found or found.end() == len(text):
        return "", text
    label = next(filter(None, found.groups()), "")
    is_loose = found["sign"] and ")" not in found[0] and "." not in found[0] and ":" not in found[0]
    if is_loose and label.isdigit() and text[found.end() :][:1].isdigit():
        return "", text  # "5 - 10" and the like
    return label, text[found.end() :]


def has_figures(text: str) -> bool:
    """Tell whether anything in a line is read as a figure of a prescription."""
    typed = typed_line(text)
    found = (item(typed, at, Dose(), has_name=at > 0) for at in range(typed.end))
    return any(one and one.fields.keys() & _FIGURED for one in found)


class _Walk:
    """Collects the parts and the words of one exercise."""

    def __init__(self) -> None:
        self.name = ""
        self.is_named = False
        self.parts: list[Dose] = [Dose()]
        self.later: list[str] = []
        self._is_new_line = False

    @property
    def dose(self) -> Dose:
        return self.parts[-1]

    def next_line(self) -> None:
        self._is_new_line = True

    def read(self, text: str) -> None:
        typed = typed_line(text)
        at, run = 0, 0
        while at < typed.end:
            found = item(typed, at, self.dose, has_name=bool(self.name) or run < at)
            if found:
                self._words(typed, run, at)
                self._take(found, typed, at)
                at = run = found.end
            elif typed.is_mark(at, "(") and (close := self._plain_bracket(typed, at)):
                at = close
            elif self._breaks(typed, at):
                self._words(typed, run, at)
                at += 1
                run = at
            else:
                at += 1
        self._words(typed, run, at)

    def _plain_bracket(self, typed: Typed, at: int) -> int:
        """Return where a bracket without any figure ends; 0 if it holds one."""
        depth = 0
        for step in range(at, typed.end):
            depth += typed.is_mark(step, "(") - typed.is_mark(step, ")")
            if not depth:
                has_figure = any(item(typed, inside, self.dose, has_name=True) for inside in range(at + 1, step))
                return 0 if has_figure else step + 1
        return 0

    def _breaks(self, typed: Typed, at: int) -> bool:
        token = typed[at]
        if token.text in "()" or token.text in ";·•|=" or token.text == ",":
            return bool(token.text.strip())
        if token.is_dash or token.text in "/+*":
            return not token.glued and not typed[at + 1].glued and not token.text == "+"
        if token.text == ":":
            return True
        return token.text in ".…!" and (not typed[at + 1].glued or not typed[at + 1].text)

    def _words(self, typed: Typed, start: int, end: int) -> None:
        """Take a run of words that nothing was read from: the first is the name, any other is kept as typed."""
        while start < end and typed[start].word in (_LOOSE if start else _SIGNS_ONLY):
            start += 1
        while start < end and (typed[end - 1].word in _LOOSE) and not self._closes(typed, start, end):
            end -= 1
        text = _tidy(typed.typed(start, end))
        if not any(map(str.isalnum, text)):
            return
        letters = sum(map(str.isalpha, text))
        only_unit = all(typed[at].kind is not Kind.WORD or typed.unit(at)[0] for at in range(start, end))
        is_name = letters > 1 and not (only_unit and typed[start].is_number)
        is_compound = typed[start + 1].is_dash and typed[start + 1].glued and typed[start + 2].kind is Kind.WORD
        if typed[start].is_number and self.dose.has_work and not is_compound:
            is_name = False
        if text.lower() in _VERBS and not (text.lower() == "rest" and self.dose == Dose()):
            is_name = False
        if is_name and not self.is_named and not self.name:
            self.name = text
        else:
            self.dose.words.append(text)

    @staticmethod
    def _closes(typed: Typed, start: int, end: int) -> bool:
        return typed.is_mark(end - 1, ")") and any(typed.is_mark(at, "(") for at in range(start, end))

    def _take(self, found: Found, typed: Typed, at: int) -> None:
        """Put what was read into the part at hand, or into a new one where it begins another."""
        new = dict(found.fields)
        if "name" in new:  # read as a whole: "3 hang cleans + 1 split jerk"
            self.name = self.name or str(new.pop("name"))
        if "parts" in new:
            self._many(new.pop("parts"))  # type: ignore[arg-type]
            return
        adds = bool(new.pop("adds", False))
        begins = bool(new.pop("part", False)) and (self.dose.has_work or self.dose.load is not None)
        if self._is_new_line and not adds and new.keys() & (_WORK | {"load", "sets"}) and self.dose.has_work:
            begins = True
        again = [key for key in new if key in _WORK and self.dose.has_work]
        if again and not begins and not adds:
            is_same = getattr(self.dose, again[0]) not in (None, (), False)
            is_listed = typed[at - 1].text in (",", ";", "+", "/") or typed[at - 1].word in ("then", "and")
            begins = found.may_begin or (is_same and is_listed)
            if not begins:
                self.dose.words.append(typed.typed(at, found.end))
                return
        if begins:
            self.parts.append(Dose(role="warm-up") if self.dose.role == "warm-up" and not self._is_new_line else Dose())
        self._is_new_line = False
        if "sided_reps" in new:
            self.dose.reps = new.pop("sided_reps")  # type: ignore[assignment]
        if "times" in new:
            self._times(new.pop("times"), is_listed=typed[at - 1].text == ",")  # type: ignore[arg-type]
        if new.pop("tm", False) and self.dose.load:
            for part in self.parts:
                if part.load and part.load.kind == "percent_1rm":
                    part.load = replace(part.load, kind="percent_tm")
        for key, value in new.items():
            self._put(key, value, typed.typed(at, found.end))

    def _put(self, key: str, value: object, text: str) -> None:
        old = getattr(self.dose, key)
        if key == "words":
            self.dose.words += value  # type: ignore[arg-type]
        elif key == "load" and isinstance(old, TypedLoad) and isinstance(value, TypedLoad) and old.kind == "words":
            self.dose.load = replace(value, words=f"{old.words} {value.words}".strip())
        elif key == "tempo" and old and isinstance(value, tuple) and _agree(old, value):
            self.dose.tempo = tuple(b if a == "?" else a for a, b in zip(old, value, strict=True))
        elif old not in (None, (), False, "") and old != value:
            self.dose.words.append(text)
        else:
            setattr(self.dose, key, value)

    def _many(self, parts: list[Dose]) -> None:
        """Take parts that were read together; a role in front of them is that of each."""
        role = self.dose.role if not self.dose.has_work else ""
        if self.dose == Dose(role=role):
            self.parts.pop()
        for part in parts:
            part.role = role
        self.parts += parts
        self._is_new_line = False

    def _times(self, count: Range[Decimal], *, is_listed: bool) -> None:
        """Take "x 4": the sets where the work is known, else the repetitions; behind a comma the next set."""
        if is_listed and self.dose.reps and self.dose.load and self.dose.sets is None:
            self.parts.append(replace(self.dose, reps=(count,), words=[]))
        elif self.dose.has_work and self.dose.sets is None:
            self.dose.sets = count
        elif not self.dose.has_work:
            self.dose.reps = (count,)
        else:
            self.dose.words.append(f"x {write_number(count.low)}")

    def finished(self) -> list[Dose]:
        """Return the parts, with what was said of all of them in its place."""
        if any(part.tempo for part in self.parts):
            self.name = re.sub(r"(?i)^tempo\s+", "", self.name)
        name = self.name
        self.dose.words += self.later
        plural = re.search(r"(?i)\s+(single|double|triple)s$", self.name)
        if plural and self.dose.reps == (_SINGLES[plural[1].lower()],):
            self.name = self.name[: plural.start()]
        units = {part.load.kind for part in self.parts if part.load and part.load.kind in ("kg", "lb")}
        for part in self.parts:
            if part.load and part.load.kind == "mass" and len(units) == 1:
                part.load = replace(part.load, kind=next(iter(units)))
            _settle(part, name)
        return [part for part in self.parts if part != Dose()] or [Dose()]


def _agree(old: tuple[str, ...], new: tuple[str, ...]) -> bool:
    """Tell whether two readings of a tempo name no phase twice."""
    return len(old) == len(new) and all("?" in pair or pair[0] == pair[1] for pair in zip(old, new, strict=True))


_BY_THE_CLOCK = frozenset({"percent_ftp", "percent_hrmax", "pace", "zone", "rate_spm", "rate_rpm"})


def _settle(part: Dose, name: str) -> None:
    """Decide what only the whole line tells: figures joined by + are a complex of several movements, or one cluster."""
    bare = len(part.reps) == 1 and part.reps[0].low == part.reps[0].high and part.sets is not None
    by_clock = part.load is not None and part.load.kind in _BY_THE_CLOCK
    typed = typed_line(name)
    is_hold = any(typed.sees(at, "timed") for at in range(typed.end)) and part.reps and part.reps[0].low >= 15
    if bare and (by_clock or is_hold) and not part.per_side:  # minutes, metres or seconds, which nobody wrote
        part.words.insert(0, f"× {write_number(part.reps[0].low)}")
        part.reps = ()
    if part.complex:
        movements = len(re.split(r"\s*(?:\+|&|,|\band\b)\s*", name.strip("()"))) if name else 0
        is_sum = part.rest_pause or part.myo or part.cluster == (-1,) or (movements == 1 and "complex" not in name)
        if is_sum and name:
            part.cluster, part.complex = part.complex, ()
            total = Decimal(sum(part.cluster))
            part.reps = part.reps or (Range(total, total),)
            part.sets = part.sets or (Range(Decimal(1), Decimal(1)) if part.myo or part.rest_pause else None)
    if part.cluster == (-1,):
        part.cluster = ()
        part.words.append("clusters")
    if part.rest and part.intra_rest is None and (part.cluster or part.myo) and part.rest.high <= 30:
        part.intra_rest, part.rest = part.rest, None


def _tidy(text: str) -> str:
    text = re.sub(r"\(\s*\)", "", text).strip(" \t,;:·•|/=–—*-")
    if text.count("(") > text.count(")"):
        text = text.replace("(", "") if text.startswith("(") else text + ")"
    return text.strip()


def each_set(parts: list[Dose]) -> Iterator[Dose]:
    """Yield the parts that are work, no warm-up sets."""
    return (part for part in parts if part.role != "warm-up")
