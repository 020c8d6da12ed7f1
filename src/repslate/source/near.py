"""What a word may be a slip of: the one rule by which a misspelt key, label, title or word of the notation is known."""

from __future__ import annotations

import re
from collections.abc import Iterable


def is_near(one: str, two: str) -> bool:
    """Tell whether two words are at most a slip of the keyboard apart, case, blanks and hyphens aside.

    One slip (a letter wrong, missing, doubled or swapped with its neighbour) in words of four to seven letters, two
    from eight on, none in shorter ones, where any word is near another; the shorter of the two counts.
    """
    return _slips(_loose(one), _loose(two)) is not None


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that `word` is a slip of (see `is_near`), the first of several; None if there is none."""
    typed = _loose(word)
    near = [(slips, one) for one in known if (slips := _slips(typed, _loose(one))) is not None]
    return min(near, key=lambda pair: pair[0])[1] if near else None


def _slips(one: str, two: str) -> int | None:
    from rapidfuzz.distance import OSA

    most = min(2, min(len(one), len(two)) // 4)
    slips = OSA.distance(one, two, score_cutoff=most)
    return slips if slips <= most else None


def _loose(word: str) -> str:
    return re.sub(r"[\s_-]+", " ", word).strip().casefold()
