"""Several exercises on one line: behind a heading, behind a title, in a row of dashes or arrows."""

from __future__ import annotations

import re

from repslate.model.notes.head import details
from repslate.model.notes.lines import has_dose, name_of, strip_bullet

_APART = re.compile(r"\s*[,;]\s+|\s+→\s+|\s*→\s*|\s+/\s+")
_AND = re.compile(r"\s+[&+]\s+|\s+and\s+")
_PLUS = re.compile(r"\s+\+\s+")
_ARROW = re.compile(r"\s*(?:→|->)\s*")
_DASH = re.compile(r"\s+[–—-]\s+")
_COUNTED = re.compile(r"\d+\s?(?:km|m|cal|s|sec|min)?\s+[^\W\d_]")
_TIMES_TITLE = re.compile(r"(?i)\s*x\s*(\d{1,2})\s*$")
_FEWEST = 3  # pieces that dashes or arrows make a list of
_LONGEST_TITLE = 6  # words
#: Forms whose exercises "&", "+" and "and" join as commas do.
_JOINED = frozenset(
    "superset tri-set giant-set for-time rounds-for-time amrap circuit complex chipper".split()
)  # in the names of others "and" belongs to the name

#: Forms in which "+" joins what is counted on both sides; in those by the clock it may stand inside one turn.
_ROLES = frozenset({"warm-up", "cool-down", "finisher", "straight"})


def split_exercises(text: str, form: str) -> list[str]:
    """Return the exercises of a list on one line: by commas, arrows or slashes, in a superset by "&" and "+" too."""
    text = text.strip().strip("()")
    if pieces := dashed(text):
        return pieces
    pieces = _pieces(_APART, text)
    if len(pieces) < 2 and form in _JOINED:
        pieces = _pieces(_AND, text)
    elif len(pieces) < 2 and form in _ROLES and all(map(_COUNTED.match, _PLUS.split(text))):
        pieces = _PLUS.split(text)
    elif form == "complex":
        pieces = [one for piece in pieces for one in _PLUS.split(piece)]
    named = [bool(name_of(piece)) for piece in pieces]
    if all(named):
        return pieces
    if len(pieces) > 1 and any(named[1:]) and not named[-1]:
        return _joined(pieces, named)
    if named[0] and all(details(piece) for piece in pieces[1:]):
        return pieces
    return [text]


def _pieces(pattern: re.Pattern[str], text: str) -> list[str]:
    return [piece for piece in pattern.split(text) if piece.strip()]


def _joined(pieces: list[str], named: list[bool]) -> list[str]:
    """Return the pieces with each that has no name, and tells nothing of the block, behind the one it adds to."""
    joined = [pieces[0]]
    for piece, is_named in zip(pieces[1:], named[1:], strict=True):
        if is_named or details(piece):
            joined.append(piece)
        else:
            joined[-1] += f", {piece}"
    return joined


def titled(text: str) -> tuple[str, list[str]] | None:
    """Return title and exercises of "Drills: high knees 2x20 m, butt kicks 2x20 m"; None for any other line."""
    title, colon, rest = strip_bullet(text).partition(": ")
    if not colon or len(title.split()) > _LONGEST_TITLE or has_dose(_TIMES_TITLE.sub("", title)):
        return None
    pieces = _pieces(_APART, rest)
    if len(pieces) < 2 or not all(has_dose(piece) and name_of(piece) for piece in pieces):
        return None
    return (title + ":" if _TIMES_TITLE.search(title) else title), pieces


def dashed(text: str) -> list[str]:
    """Return the exercises of a line that lists them: "40 sit-ups – 30 lunges – 20 hops"; [] for any other."""
    pieces = _DASH.split(text)
    return pieces if len(pieces) >= _FEWEST and all(map(_COUNTED.match, pieces)) else []


def in_turn(text: str) -> list[str]:
    """Return the names of a flow: "cat-cow → child's pose → cobra"; [] for any other line."""
    pieces = list(filter(None, _ARROW.split(text)))
    return pieces if len(pieces) >= _FEWEST and not has_dose(text) else []
