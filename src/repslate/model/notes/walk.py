"""The walk over the lines of one exercise: what is read goes into its parts, the words between into its name."""

from __future__ import annotations

from dataclasses import fields as fields_of
from dataclasses import replace

from repslate.model.notes.amounts import Typed, typed_line
from repslate.model.notes.dose import Dose, Fields, Figures, Found, TypedLoad
from repslate.model.notes.items import bare_item, item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.settled import settle, settle_all, tidy
from repslate.model.quantity import write_number
from repslate.model.tokens import Kind

WORK = frozenset({"reps", "seconds", "metres", "calories", "breaths", "steps", "is_max", "complex", "two_levels"})
_SIGNS = frozenset("× * @ & + - – — : ; , . / = | · ( ) [ ]".split())
_LEADING = _SIGNS | {"w"}
_LOOSE = _SIGNS | listed("loose")
_BREAKS = frozenset("();·•|=,:")
_PUT = frozenset(one.name for one in fields_of(Dose)) - {"words"}


class Walk:
    """Collects the parts and the words of one exercise."""

    def __init__(self) -> None:
        """Begin with one part that says nothing."""
        self.name = ""
        self.is_named = False
        self.parts: list[Dose] = [Dose()]
        self.later: list[str] = []
        self._is_new_line = False
        self._text = ""

    @property
    def dose(self) -> Dose:
        """The part at hand."""
        return self.parts[-1]

    def next_line(self) -> None:
        """Say that what is read next stands on a line of its own."""
        self._is_new_line = True

    def read(self, text: str) -> None:
        """Read one line from left to right."""
        self._text += f"{text}\n"
        typed = typed_line(text)
        at, run = 0, 0
        while at < typed.end:
            found = self._item(typed, at, has_name=bool(self.name) or run < at)
            if found:
                self._words(typed, run, at)
                self._take(found, typed, at)
                at = run = found.end
            elif typed.is_mark(at, "(") and (close := self._plain_bracket(typed, at)):
                at = close
            elif _breaks(typed, at):
                self._words(typed, run, at)
                at += 1
                run = at
            else:
                at += 1
        self._words(typed, run, at)

    def _item(self, typed: Typed, at: int, *, has_name: bool) -> Found | None:
        if self.dose == Dose():
            return bare_item(typed, at, has_name)
        return item(typed, at, self.dose, has_name=has_name)

    def _plain_bracket(self, typed: Typed, at: int) -> int:
        """Return where a bracket without any figure ends; 0 if it holds one."""
        depth = 0
        for step in range(at, typed.end):
            depth += typed.is_mark(step, "(") - typed.is_mark(step, ")")
            if not depth:
                has_figure = any(self._item(typed, inside, has_name=True) for inside in range(at + 1, step))
                return 0 if has_figure else step + 1
        return 0

    # ---- words

    def _words(self, typed: Typed, start: int, end: int) -> None:
        """Take a run of words that nothing was read from: the first is the name, any other is kept as typed."""
        while start < end and typed[start].word in (_LOOSE if start else _LEADING) and not _is_of_name(typed, start):
            start += 1
        while start < end and typed[end - 1].word in _LOOSE and not _closes(typed, start, end):
            if _is_letter(typed, end - 1):
                break
            end -= 1
        text = tidy(typed.typed(start, end))
        if not any(map(str.isalnum, text)):
            return
        if not self.is_named and not self.name and self._is_name(typed, start, end, text):
            self.name = text
        else:
            self.dose.words.append(text)

    def _is_name(self, typed: Typed, start: int, end: int, text: str) -> bool:
        if sum(map(str.isalpha, text)) < 2:
            return False
        if typed[start].is_number:
            only_unit = all(typed[at].kind is not Kind.WORD or typed.unit(at)[0] for at in range(start, end))
            is_compound = typed[start + 1].is_dash and typed[start + 1].glued and typed[start + 2].kind is Kind.WORD
            if only_unit or (self.dose.has_work and not is_compound):
                return False
        return text.lower() not in listed("says to do") or (text.lower() == "rest" and self.dose == Dose())

    # ---- figures

    def _take(self, found: Found, typed: Typed, at: int) -> None:
        """Put what was read into the part at hand, or into a new one where it begins another."""
        new = found.fields
        if "name" in new:  # read as a whole: "3 hang cleans + 1 split jerk"
            self.name = self.name or new["name"]
        if "parts" in new:
            self._many(new["parts"])
            return
        text = typed.typed(at, found.end)
        is_listed = typed[at - 1].text in (",", ";", "+", "/") or typed[at - 1].word in ("then", "and")
        begins = self._begins(found, is_listed=is_listed)
        if begins is None:
            self.dose.words.append(text)
            return
        if begins:
            is_warm_up = self.dose.role == "warm-up" and "role" not in new and not self._is_new_line
            is_warm_up = is_warm_up and typed[at - 1].word not in ("then", "into")
            self.parts.append(Dose(role="warm-up") if is_warm_up else Dose())
        self._is_new_line = False
        self._put_told(new, is_listed=typed[at - 1].text == ",")
        for key, value in new.items():
            if key in _PUT:
                self._put(key, value, text)
        self.dose.words += new.get("words", ())

    def _begins(self, found: Found, *, is_listed: bool) -> bool | None:
        """Tell whether what was read begins another part; None where it can be neither of this one nor of another."""
        new, adds = found.fields, found.fields.get("adds", False)
        begins = new.get("part", False) and (self.dose.has_work or self.dose.load is not None)
        if not self.dose.has_work or adds:
            return begins
        again = [key for key in new if key in WORK]
        is_told = ("load" in new and self.dose.load is not None) or ("sets" in new and self.dose.sets is not None)
        if begins or (self._is_new_line and (again or is_told)):
            return True
        if not again:
            return False
        is_same = getattr(self.dose, again[0]) not in (None, (), False)
        return True if found.may_begin or (is_same and is_listed) else None

    def _put_told(self, new: Fields, *, is_listed: bool) -> None:
        """Take what changes what was said before."""
        dose = self.dose
        if "sided_reps" in new:
            dose.reps = new["sided_reps"]
        if "is_hold" in new:
            dose.hold, dose.seconds = dose.seconds, None
        if "times" in new:
            self._times(new["times"], is_listed=is_listed)
        if "tm" in new and dose.load:
            for part in self.parts:
                if part.load and part.load.kind == "percent_1rm":
                    part.load = replace(part.load, kind="percent_tm")

    def _put(self, key: str, value: object, text: str) -> None:
        old = getattr(self.dose, key)
        if isinstance(value, TypedLoad) and key == "load" and isinstance(old, TypedLoad) and _is_in_words(old, value):
            self.dose.load = replace(value, words=f"{old.words} {value.words}".strip())
        elif isinstance(value, tuple) and key == "tempo" and old and _agree(old, value):
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
        self.parts += [replace(part, role=role, words=[*part.words]) for part in parts]
        self._is_new_line = False

    def _times(self, count: Figures, *, is_listed: bool) -> None:
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
        self.dose.words += self.later
        whole_name, self.name = settle_all(self.name, self.parts)
        for part in self.parts:
            settle(part, whole_name, self._text)
        return [part for part in self.parts if part != Dose()] or [Dose()]


def _breaks(typed: Typed, at: int) -> bool:
    """Tell whether a sign ends a run of words."""
    piece, following = typed[at], typed[at + 1]
    if piece.text in _BREAKS:
        return True
    if piece.is_dash or piece.text in ("/", "*"):
        return not piece.glued and not following.glued
    return piece.text in (".", "…", "!") and (not following.glued or not following.text)


def _is_of_name(typed: Typed, at: int) -> bool:
    """Tell whether a loose word belongs to a name here: "med ball", "A-skips"."""
    if typed.sees(at, "kept"):
        return True
    return typed[at].kind is Kind.WORD and typed[at + 1].is_dash and typed[at + 1].glued and typed[at + 2].glued


def _is_letter(typed: Typed, at: int) -> bool:
    """Tell whether the last word of a name is a capital that numbers it: "Sun salutation A"."""
    text = typed[at].text
    return at > 0 and len(text) == 1 and text.isupper() and text != "X" and not typed.text.isupper()


def _closes(typed: Typed, start: int, end: int) -> bool:
    return typed.is_mark(end - 1, ")") and any(typed.is_mark(at, "(") for at in range(start, end))


def _is_in_words(old: TypedLoad, new: TypedLoad) -> bool:
    """Tell whether a load said before is in words only, to which a figure may come: "VO2 @ 115 % FTP"."""
    return old.kind == "words" or (
        old.kind == "pace" and new.value is not None and not any(map(str.isdigit, old.words[:1]))
    )


def _agree(old: tuple[str, ...], new: tuple[str, ...]) -> bool:
    """Tell whether two readings of a tempo name no phase twice."""
    return len(old) == len(new) and all("?" in pair or pair[0] == pair[1] for pair in zip(old, new, strict=True))
