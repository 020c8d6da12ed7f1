"""Claims of safety made on camera: no spotter needed, safe for everybody, no jumping today, no kit.

Only whole phrases are read, each as a trainer says it, and a claim about the workout only where the talk is of all
of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from repslate.speech.caution_words import LISTED, bare, signs, table_of
from repslate.speech.words import Word, quote


class Promise(Enum):
    """What is claimed."""

    NO_SPOTTER = "no spotter"
    FOR_ALL = "for everybody"
    NO_JUMPING = "no jumping"
    NO_KIT = "no kit"


@dataclass(frozen=True, slots=True)
class Claim:
    """A claim as it was said at the word `first`; `whole` tells that it is about the whole workout."""

    promise: Promise
    time: Fraction
    first: int
    whole: bool
    quote: str


_PHRASES = table_of(*(promise.value for promise in Promise))
_NEAR = 8  # words
_ASKING = 3  # words


def claims(words: Sequence[Word], greeting: int) -> tuple[Claim, ...]:
    """Return every claim in the order said; before the word `greeting` all that is said is about the whole workout."""
    said = bare(words)
    found = []
    for sign in signs(said, _PHRASES):
        before = said[max(0, sign.first - _ASKING) : sign.first]
        if not LISTED["denied"].isdisjoint(before):
            continue
        around = said[max(0, sign.first - _NEAR) : sign.last + 1 + _NEAR]
        whole = sign.last < greeting or not LISTED["whole workout"].isdisjoint(around)
        text = quote(words, sign.first, sign.last)
        found.append(Claim(Promise(sign.value), words[sign.first].start, sign.first, whole, text))
    return tuple(found)
