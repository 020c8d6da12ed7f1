"""One typed line, or the lines of one exercise, to its label, its name and what each part of it asks.

The line is walked from left to right. Where one of the readers of items.py knows what stands there, its figures go
into the part at hand; what none knows stays as words: the first of them are the name, the others are carried as typed.
"""

from __future__ import annotations

import re
from functools import lru_cache

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.columns import first_column
from repslate.model.notes.dose import Dose, TypedExercise
from repslate.model.notes.items import bare_item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.settled import tidy
from repslate.model.notes.walk import WORK, Walk

_BULLET = re.compile(r"^[\s>]*(?:(?:[-*•+▪●◦○·‣✓✔☑☐✅→–—,]|\[[ xX]?\])\s*(?=\S))*(?<![-–—*])|^\s*[-–—*•+]+\s+")
_THEN = re.compile(r"(?i)^(?:then|and then|now|next)[,:]?\s+(?=\d|\w+\s+\w)")
_STAY = re.compile(r"(?i)^(?:rest|relax|stay)\s+in\s+(?!between\b|the\b|an?\b|\d)")  # "Rest in child's pose (2 min)"
_LEADER = re.compile(r"\s*(?:\.{3,}|(?:\. ){3,}|_{3,})\s*(?=\S)")
_LABEL = re.compile(
    r"""\s*(?:
      (?P<sign>[A-K]\s?\d{1,2}[a-h]?|\d{1,2}[A-F]?|[A-Z])
        \s?(?:\.(?!\d)|\)|:(?!\d)|\s?[-–—](?=\s))+\s*(?=[^\s\d]|\d)
    | \((?P<round>[A-Z]?\d{0,2}[a-z]?)\)\s+
    | (?P<bare>[A-H]\d{1,2}|\d{1,2}[A-F])\s+(?=[^\W\d])
    | (?P<named>(?:\d(?:st|nd|rd|th)\s+min(?:ute)?|min(?:ute)?\s*\d{1,2}(?:-\d{1,2}|\s*[,&/]\s*\d{1,2})*
        |(?:odd|even)(?:\s+min(?:ute)?s?)?
        |partner\s?(?:\d|[ab]\b)|buy[-\s]?in|cash[-\s]?out|station\s?\d{1,2}|p\d)(?!\w))\s*[:.)–—-]*\s*
    )""",
    re.VERBOSE | re.IGNORECASE,
)
_FEWEST_WEEKS = 3
_MOST_SETS = 14  # of one exercise in one day (common practice, no source)
#: What makes a line a dose, if only one of these is read from it.
_FIGURED = WORK | frozenset(
    "sets times parts rest intra_rest rest_metres every clock hold tempo drops mini_sets cluster effort sided_reps"
    " role".split()
)


def read_lines(lines: list[str]) -> TypedExercise:
    """Read an exercise from the lines that belong to it, the first of which holds its name or a part."""
    label, text = split_label(strip_bullet(lines[0]))
    text = _STAY.sub("", text)
    walk = Walk()
    is_name_alone = len(lines) > 1 and text.rstrip().endswith(":")
    if is_name_alone or (len(lines) > 1 and not has_figures(text)):
        walk.name = tidy(text.rstrip().rstrip(":").strip("*_"))
        walk.is_named = True
    else:
        column, walk.later = first_column(text)
        walk.read(column)
    for line in lines[1:]:
        walk.next_line()
        walk.read(strip_bullet(line))
    parts = walk.finished()
    if _may_be_weeks(parts):
        parts = [Dose(words=[line.strip() for line in (lines[1:] if walk.is_named else lines)])]
    return TypedExercise(label, walk.name, parts, tuple(line.strip() for line in lines))


def _may_be_weeks(parts: list[Dose]) -> bool:
    """Tell whether lines of sets may be of one week after the other, since nobody does all of them in one day."""
    if len(parts) < _FEWEST_WEEKS or any(part.role or part.sets is None for part in parts):
        return False
    sets = [part.sets.low for part in parts if part.sets]
    return min(sets) > 1 and sum(sets) > _MOST_SETS


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


@lru_cache(maxsize=256)
def has_figures(text: str) -> bool:
    """Tell whether anything in a line is read as a figure of a prescription."""
    typed = typed_line(text)
    found = (bare_item(typed, at, at > 0) for at in range(typed.end))
    return any(one and one.fields.keys() & _FIGURED for one in found)


@lru_cache(maxsize=256)
def has_dose(text: str) -> bool:
    """Tell whether anything in a line is read at all."""
    typed = typed_line(text)
    return any(bare_item(typed, at, at > 0) for at in range(typed.end))


def is_said(text: str) -> bool:
    """Tell whether a piece of a list is no exercise but said to somebody: "as far as you can", "don't put it down"."""
    words = set(re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)?", text.casefold().replace("’", "'")))
    return not listed("talk").isdisjoint(words) and not has_dose(text)


@lru_cache(maxsize=256)
def name_of(text: str) -> str:
    """Return the name of the exercise that a line is of; "" where none stands there."""
    return read_lines([text]).name
