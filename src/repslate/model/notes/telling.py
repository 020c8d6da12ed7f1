"""What a line looks like before it is read: one that talks, a title, a dose that goes on, names below a dose."""

from __future__ import annotations

import re
from functools import lru_cache

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.items import bare_item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.lines import has_dose, split_label, strip_bullet

_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_CHAIN = re.compile(r"(?i)\d\s*[x×]\s*\d|\d\s*sets?\b")
_SET = re.compile(r"(?i)set\s*\d")
_BEGIN = (
    "topset", "backoff", "warmupset", "heavy", "last", "tempo", "every", "buildto", "myo", "rpe", "rest",
)  # fmt: skip
_SIGNS = frozenset({",", "@", "(", "+", "-", "–", "*", "•"})
_SHORTEST_TALK = 6  # words; with one word of talk only, ten
_LONGEST_BELOW = 4  # words of a name below a dose


def words_of(text: str) -> list[str]:
    """Return the words of a line in small letters."""
    return _WORD.findall(text.casefold().replace("’", "'"))


def talks(text: str) -> bool:
    """Tell whether a line talks to somebody."""
    words = words_of(text)
    said = listed("talk") & set(words)
    return bool(said) and len(words) >= (_SHORTEST_TALK if len(said) > 1 else 10)


def has_chain(text: str) -> bool:
    """Tell whether a line has a dose that no prose has, or a label as exercises have."""
    return bool(_CHAIN.search(text) or split_label(strip_bullet(text))[0])


def names_file(text: str) -> bool:
    """Tell whether a first line is the title of the whole sheet: "Week 3 programme"."""
    return not listed("title of a sheet").isdisjoint(words_of(text))


def is_raw_title(text: str) -> bool:
    """Tell whether a line looks like a title: every word with a capital, or capitals throughout."""
    return text.isupper() or text.istitle()


def heads_names(text: str, below: list[str]) -> bool:
    """Tell whether a line with figures stands over indented names without any: "drills x2, 20 m"."""
    if text.startswith(("-", "*", "•")) or split_label(text)[0] or len(below) < 2:
        return False
    return all(map(_is_indented_name, below[:2])) and has_dose(text)


def _is_indented_name(line: str) -> bool:
    is_short = 0 < len(line.split()) <= _LONGEST_BELOW
    return line.startswith((" ", "\t")) and is_short and not has_dose(strip_bullet(line))


@lru_cache(maxsize=256)
def begins_dose(text: str) -> bool:
    """Tell whether a line begins with a figure or the name of a part, so that it may go on with the exercise above."""
    typed = typed_line(text)
    at = 0
    while typed[at].word in listed("begins a dose"):
        at += 1
    while typed[at].text in _SIGNS or typed[at].is_times:
        at += 1
    if typed.sees(at, *_BEGIN) or _SET.match(text) or typed.amount(at):
        return True
    return bool(bare_item(typed, at, False))


def begins_part(text: str) -> bool:
    """Tell whether a line begins with the name of a part: "top set", "back-offs", "set 3"."""
    return bool(typed_line(text).sees(0, "topset", "backoff", "warmupset", "last") or _SET.match(text))
