"""Several exercises on one line: behind a heading, behind a title, in a row of dashes or arrows."""

from __future__ import annotations

import re
from dataclasses import dataclass

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.dose import Figures
from repslate.model.notes.head import details
from repslate.model.notes.items import bare_item
from repslate.model.notes.lines import has_dose, name_of, read_lines, strip_bullet

_APART = re.compile(r"\s*[,;]\s+|\s*→\s*|\s+//?\s+")
_AND = re.compile(r"\s+[&+]\s+|\s+and\s+")
_PLUS = re.compile(r"\s+\+\s+")
_ARROW = re.compile(r"\s*(?:→|->)\s*")
_DASH = re.compile(r"\s+[–—-]\s+")
_COUNTED = re.compile(r"\d+\s?(?:km|m|cal|s|sec|min)?\s+[^\W\d_]")
_TIMES_TITLE = re.compile(r"(?i)\s*x\s*(\d{1,2})\s*$")
_GROUPED = re.compile(
    r"(?i)(?:([^:()]{2,60}):\s*)?(\d{1,2})\s*(?:x|×|sets?\s+of|rounds?\s+of|times)\s*\(([^()]+)\)(.*)"
)
_PARTED = re.compile(r"\s*[,;]\s+|\s+→\s+|\s*/\s*(?=\S+\s)|\s*/\s+|\s+\+\s+|\s+then\s+")
_PAIRED = re.compile(r"(?i)(.{2,60}?\S)\s+(?:ss'?d?|super-?set(?:ted)?|paired)\s*(?:w/|with|\+|&)\s*([^\W\d_].{1,80})")
_EACH = re.compile(r"(?i)\s*\b(?:each|ea)(?:\s+exercise)?\s*$")
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


@dataclass(frozen=True, slots=True)
class Group:
    """What a line does so many times: "Title: 5 x (2 min jog / 2 min walk), 3 min between sets"."""

    title: str
    rounds: int
    pieces: list[str]
    behind: str

    @property
    def is_timed(self) -> bool:
        """Whether each piece is a time or a length, as intervals are."""
        works = [read_lines([one]).parts[0] for one in self.pieces]
        return all(work.seconds or work.metres for work in works)


def grouped(text: str) -> Group | None:
    """Read a line that does all that stands in a bracket so many times; None for any other."""
    found = _GROUPED.fullmatch(strip_bullet(text))
    if not found or len((found[1] or "").split()) > _LONGEST_TITLE:
        return None
    whole = read_lines([found[3]])
    is_one = len(whole.parts) == 1 and whole.parts[0].sets and whole.parts[0].has_work and not whole.parts[0].words
    pieces = [found[3]] if is_one else _pieces(_PARTED, found[3])
    if not is_one and (len(pieces) < 2 or not all(_is_work(piece) for piece in pieces)):
        return None
    return Group((found[1] or "").strip(), int(found[2]), pieces, found[4].strip(" ,;-–—"))


def _is_work(piece: str) -> bool:
    """Tell whether a piece says how much of what, so that it is one exercise of several."""
    exercise = read_lines([piece])
    dose = exercise.parts[0]
    has_unit = bool(dose.seconds or dose.metres or dose.calories)
    return len(exercise.parts) == 1 and not dose.sets and (has_unit or (bool(dose.reps) and bool(exercise.name)))


def rest_of_all(text: str) -> Figures | None:
    """Return the rest that ends a list, in seconds: "60 s rest all"; None for anything else."""
    typed = typed_line(text)
    found = bare_item(typed, 0, True)
    is_whole = found and (found.end == typed.end or typed[found.end].word in ("all", "each", "throughout"))
    return found.fields.get("rest") if found and is_whole else None


def paired(text: str) -> list[str]:
    """Return both exercises of "Dips ss w/ push-downs 3x12", with the dose that stands behind both; [] for none."""
    found = _PAIRED.fullmatch(strip_bullet(text))
    if not found:
        return []
    first, second = read_lines([found[1]]), read_lines([found[2]])
    if not first.name or not second.name or not second.parts[0].has_work:
        return []
    if first.parts[0].has_work:
        return [found[1], found[2]]
    dose = found[2][len(second.name) :] if found[2].startswith(second.name) else ""
    dose = _EACH.sub("", dose)
    return [f"{found[1]} {dose.strip()}", f"{second.name} {dose.strip()}"] if dose and not has_dose(found[1]) else []


def titled(text: str) -> tuple[str, list[str]] | None:
    """Return title and exercises of "Drills: high knees 2x20 m, butt kicks 2x20 m"; None for any other line."""
    title, colon, rest = strip_bullet(text).partition(": ")
    if not colon or len(title.split()) > _LONGEST_TITLE or has_dose(_TIMES_TITLE.sub("", title)):
        return None
    pieces = _pieces(_APART, rest)
    if any(part.partials for part in read_lines([text]).parts):
        return None  # "Curl: 7 bottom half, 7 top half, 7 full": one set
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
