"""How alike two spellings sound: what a machine misheard for a name has its consonants, but for one or two.

A key drops vowels and tells no voiced from unvoiced consonants, nor an r that half of the voices do not say ("ham a
curls", "flaw press"): the likeness of letters then settles which of the equal keys are meant.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Hashable, Iterator, Sequence
from functools import lru_cache
from itertools import combinations
from typing import Generic, TypeVar

from repslate.speech.phrases import listed

_Kept = TypeVar("_Kept", bound=Hashable)

#: Spellings of English sounds, the first that fits; "" is not said. Ours, after how the words of the trade are said.
_SOUNDS = (
    (r"^kn|^gn", "N"), (r"^wr", "R"), (r"^wh", "W"), (r"^ps", "S"), (r"tch|tion|sion|ch|sh|dge", "J"),
    (r"n(?=g[eiy])", "N"),
    (r"sc(?=[eiy])", "S"), (r"ph", "F"), (r"th", "T"), (r"gh(?=t|$|[^aeiou])", ""), (r"gh", "K"), (r"mb(?=$|b)", "M"),
    (r"(?<=a)l(?=[fkm])", ""), (r"ng", "N"), (r"qu", "K"), (r"ck", "K"), (r"g(?=[eiy])", "J"), (r"c(?=[eiy])", "S"),
    (r"x", "KS"), (r"r(?=[aeiouy])", "R"), (r"r", ""), (r"^[wh]", "="), (r"[aeiouywh]", ""),
    (r"[bp]", "P"), (r"[dt]", "T"), (r"[gckq]", "K"), (r"[vf]", "F"), (r"[sz]", "S"), (r"[jlmn]", "="),
)  # fmt: skip
_SOUND = re.compile("|".join(f"({spelling})" for spelling, _ in _SOUNDS))
_LONGEST_KEY = 30  # consonants; no name of ours has more than 18, and what is left out of many grows with their square
_FAR = {1: 4, 2: 10}  # consonants that a name must have for so many of them to be misheard


#: Words so common in coaching that a machine hears them right, as tokens (most are in most labelled talk).
COMMON = listed("common", "common_words.txt")


@lru_cache(maxsize=16384)
def _word_key(word: str) -> str:
    """Return the consonants of one word."""

    def said(match: re.Match[str]) -> str:
        sound = _SOUNDS[(match.lastindex or 1) - 1][1]
        return match[0].upper() if sound == "=" else sound

    return _SOUND.sub(said, re.sub(r"(.)\1", r"\1", word))


def key(words: Sequence[str]) -> str:
    """Return the consonants of words run together."""
    return "".join(map(_word_key, words))


def keys(words: Sequence[str]) -> tuple[str, ...]:
    """Return the consonants of words run together: with two that meet between words as one or two, and no last s.

    Each once, always in the same order, so that of names that fit alike the same one is found each time.
    """
    apart = met = ""
    for word in words:
        said = _word_key(word)
        apart += said
        met += said.removeprefix(met[-1]) if met else said
    every = (one for whole in (apart, met) for one in (whole, whole.removesuffix("S")) if len(one) > 1)
    return tuple(dict.fromkeys(every))


@lru_cache(maxsize=65536)
def likeness(one: str, two: str, one_key: str, two_key: str) -> float:
    """Return from 0 to 1 how alike two spellings are, half by their letters and half by their consonants."""
    from rapidfuzz.distance import OSA

    letters: float = OSA.normalized_similarity(one, two)
    sounds: float = OSA.normalized_similarity(one_key, two_key)
    return (letters + sounds) / 2


class Sounds(Generic[_Kept]):
    """An index of names by their keys, in which a key is found that has a consonant more, less or another."""

    def __init__(self) -> None:
        """Begin empty."""
        self._near: dict[str, dict[tuple[str, _Kept], None]] = defaultdict(dict)  # in order, as no set is

    def add(self, name_key: str, name: _Kept) -> None:
        """Keep a name under its key."""
        for left in _thinned(name_key) if len(name_key) <= _LONGEST_KEY else ():
            self._near[left][name_key, name] = None

    def find(self, said_key: str) -> Iterator[tuple[str, _Kept]]:
        """Yield the names whose keys are near, with their keys, each once: those with most in common first."""
        found: dict[tuple[str, _Kept], None] = {}
        for left in _thinned(said_key) if len(said_key) <= _LONGEST_KEY else ():
            if left in self._near:
                found |= self._near[left]
        yield from found


@lru_cache(maxsize=65536)
def _thinned(whole: str) -> tuple[str, ...]:
    """Return a key and what is left of it without as many consonants as may be misheard."""
    far = max((count for count, least in _FAR.items() if len(whole) >= least), default=0)
    left = {whole: None}
    for count in range(1, far + 1):
        left |= dict.fromkeys("".join(kept) for kept in combinations(whole, len(whole) - count))
    return tuple(left)
