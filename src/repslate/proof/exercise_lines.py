"""Where a published file speaks of which exercise: its list of the workout, and the part that each exercise has.

Names and labels are found in the text, whatever mark-up is round them, so that a copy from a website reads the same.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from repslate.model.prescription import Prescription
from repslate.proof.doses import read_block_facts, read_dose
from repslate.proof.expected import Expected
from repslate.proof.reading import Document, Piece, Role
from repslate.proof.wording import behind, figures, key, normal

_LABEL = re.compile(r"[A-Z]{1,2}\d{1,2}")
_LABELLED = re.compile(rf"(?P<label>{_LABEL.pattern})\b[.:)]?\s+(?P<rest>\S.*)", re.DOTALL)
_LONGEST = 7  # words of a name
_CONTENTS = 3  # names in a row, at the least
_BEHIND = " \t:·|,;–—-("
_FIGURE = re.compile(r"\s*(?::|[·|(@]|\b\d|\bmax\b)")


@dataclass(frozen=True, slots=True)
class Entry:
    """A line that names an exercise or a block: `key` is the name as it compares, `rest` what stands behind it.

    `is_bare` tells that the episode has nothing to say behind it, as of an exercise that a scheme says all about.
    """

    key: str
    label: str
    name: str
    rest: str
    piece: int
    is_block: bool
    is_bare: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """An entry and the pieces that belong to it, by index, up to the next one."""

    entry: Entry
    pieces: range


def _longest_first(name: str) -> tuple[int, str]:
    return -len(name), name


class Names:
    """The names that an episode has, to be found in any text."""

    def __init__(self, expected: Expected) -> None:
        """Take the names from the episode; the longest is looked for first."""
        self._labelled = {one.exercise.label: one.exercise.name for one in expected.exercises}
        self._words = {one.exercise.name: one.exercise.prescription.words for one in expected.exercises}
        self._exercises = sorted(set(self._labelled.values()), key=_longest_first)
        self._blocks = sorted({one.block.name for one in expected.blocks}, key=_longest_first)
        self._title = expected.episode.title
        self._bare = {one.exercise.label for one in expected.exercises if one.exercise.prescription == Prescription()}

    def entry(self, piece: Piece, index: int) -> Entry | None:
        """Return what a piece names at its beginning, None for other text."""
        if len(piece.cells) > 1 and _LABEL.fullmatch(piece.cells[0]):
            label, name = piece.cells[:2]
            rest, is_bare = " ".join(piece.cells[2:]), self._is_bare(label, name)
            return Entry(key(name), label, name, rest, index, is_block=False, is_bare=is_bare)
        labelled = _LABELLED.fullmatch(piece.text)
        if labelled is None:
            is_title = key(piece.text) == key(self._title)
            return self._block(piece, index) or (None if is_title else self._exercise(piece, index, "", piece.text))
        return self._exercise(piece, index, labelled["label"], labelled["rest"]) or _unknown(piece, index, labelled)

    def _exercise(self, piece: Piece, index: int, label: str, text: str) -> Entry | None:
        """Return the exercise that a text behind a label, or without one, begins with: of that label, or any."""
        own = self._labelled.get(label)
        for name in [*([own] if own else []), *self._exercises]:
            rest = behind(name, text)
            if rest is None:
                continue
            found, told = text[: len(text) - len(rest)], rest.strip(_BEHIND)
            is_alone = not told and piece.role in (Role.HEADING, Role.ROW, Role.ITEM)  # else it may be equipment
            if label or is_alone or (told and read_dose(told, self._words[name])):
                is_bare = self._is_bare(label, name)
                return Entry(key(found), label, found, told, index, is_block=False, is_bare=is_bare)
        return None

    def _is_bare(self, label: str, name: str) -> bool:
        return label in self._bare and key(self._labelled[label]) == key(name)

    def _block(self, piece: Piece, index: int) -> Entry | None:
        for name in self._blocks:
            rest = behind(name, piece.text)
            if rest is None:
                continue
            found, told = piece.text[: len(piece.text) - len(rest)], rest.strip(_BEHIND)
            if not told or (read_block_facts(told) and _is_heading(rest)):
                return Entry(key(found), "", found, told, index, is_block=True)
        return None


def _unknown(piece: Piece, index: int, labelled: re.Match[str]) -> Entry | None:
    """Return what stands behind a label where the episode has no such name."""
    text = labelled["rest"]
    end = _FIGURE.search(text)
    name = text[: end.start()] if end else text
    if not _is_name(name, text[len(name) :], piece.role):
        return None
    return Entry(key(name), labelled["label"], name.strip(), text[len(name) :].strip(_BEHIND), index, is_block=False)


def _is_name(name: str, behind: str, role: Role) -> bool:
    """Tell whether what stands behind a label is a name that the episode does not have, not a sentence."""
    if role in (Role.HEADING, Role.ROW) or read_dose(behind.strip(_BEHIND)):
        return True
    is_short = name[:1].isupper() and len(name.split()) <= _LONGEST and not name.endswith((".", "!", "?"))
    return is_short and (not behind or behind.startswith(":"))


def _is_heading(behind: str) -> bool:
    return normal(behind)[:1] in "·|,;(-:" or normal(behind).startswith(("rest ", "for ", "in "))


def entries(document: Document, names: Names) -> tuple[Entry, ...]:
    """Return every entry of a file, in order."""
    found = (names.entry(piece, at) for at, piece in document.visible() if piece.role is not Role.CAPTION)
    return tuple(entry for entry in found if entry)


def split(document: Document, found: Sequence[Entry]) -> tuple[tuple[Entry, ...], tuple[Part, ...]]:
    """Return the list of the workout, and the parts that an article has for each block and exercise.

    Parts begin with headings. A name that is in none, or any in a text without headings, has its part where it is met
    for the second time.
    """
    headed = any(piece.role is Role.HEADING for piece in document.pieces)
    if headed:
        contents = _contents(document, found)
        found = [entry for entry in found if entry not in contents]
    in_headings = {entry.key for entry in found if document.pieces[entry.piece].role is Role.HEADING}
    listed: list[Entry] = []
    heads: list[Entry] = []
    seen: set[str] = set()
    for entry in found:
        again = entry.key in seen and not entry.rest
        seen.add(entry.key)
        if entry.key in in_headings:
            is_head = document.pieces[entry.piece].role is Role.HEADING
        else:
            is_head = again or (bool(heads) and not headed)
        (heads if is_head else listed).append(entry)
    return tuple(listed), parts(document, heads)


def _contents(document: Document, found: Sequence[Entry]) -> list[Entry]:
    """Return the names of a table of contents: some in a row with nothing behind them, each met elsewhere again."""

    def is_bare(entry: Entry) -> bool:
        if entry.rest or document.pieces[entry.piece].role is Role.HEADING:
            return False
        below = document.pieces[entry.piece + 1].seen if entry.piece + 1 < len(document.pieces) else ""
        return not (read_dose(below) or (entry.is_block and figures(below)))

    contents: list[Entry] = []
    for bare, run in groupby(found, key=is_bare):
        names = list(run)
        others = {entry.key for entry in found if entry not in names}
        is_known = {entry.key for entry in names} <= others and not all(entry.is_bare for entry in names)
        if bare and len(names) >= _CONTENTS and is_known:
            contents += names
    return contents


def parts(document: Document, heads: Sequence[Entry]) -> tuple[Part, ...]:
    """Return each entry with the pieces up to the next, or up to a heading of another part of the page."""
    starts = {entry.piece for entry in heads}
    level = max((document.pieces[at].level for at in starts), default=0)
    others = [
        index
        for index, piece in enumerate(document.pieces)
        if index not in starts and 0 < piece.level < max(level, 3) and piece.role is Role.HEADING
    ]
    ends = sorted([*starts, *others, len(document.pieces)])
    return tuple(Part(entry, range(entry.piece + 1, next(end for end in ends if end > entry.piece))) for entry in heads)
