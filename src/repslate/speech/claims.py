"""Claims of safety made on camera: no spotter needed, safe for everybody, no jumping today, no kit.

Only whole phrases are read, each as a trainer says it, and a claim about the workout only where the talk is of all
of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from repslate.speech.caution_words import bare, signs, table
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


_PHRASES = table(
    {
        Promise.NO_SPOTTER.name: (
            "no spotter needed, no spotter required, no need for a spotter, no need of a spotter, don't need a "
            "spotter, won't need a spotter, needn't have a spotter, don't need a spot, no spot needed, don't need "
            "anybody to spot you, don't need anyone to spot you, don't need somebody to spot you, don't need "
            "spotting, don't bother with a spotter, don't bother with the safeties, don't need the safeties, "
            "don't need safeties"
        ),
        Promise.FOR_ALL.name: (
            "safe for everybody, safe for everyone, safe for anybody, safe for anyone, safe for all of you, safe "
            "for beginners, perfect for beginners, great for beginners, good for beginners, ideal for beginners, "
            "suitable for beginners, fine for beginners, beginner friendly, suitable for everybody, suitable for "
            "everyone, suitable for all levels, for all levels, for every level, for any level, beginners are "
            "welcome, complete beginners, absolute beginners, total beginners"
        ),
        Promise.NO_JUMPING.name: (
            "no jumping, no jumps, no impact, zero impact, zero jumping, no hopping, low impact, nothing jumpy, "
            "not a single jump, no jumping about, no jumping around"
        ),
        Promise.NO_KIT.name: (
            "no equipment, no kit, no gear, no weights, zero equipment, zero kit, don't need any equipment, don't "
            "need any kit, don't need any weights, don't need any gear, don't need equipment, don't need weights, "
            "won't need any equipment, won't need any kit, won't need any weights, without any equipment, without "
            "any kit, without any weights, bodyweight only, only your bodyweight, just your bodyweight, just your "
            "body weight, only your body weight, body weight only, equipment free"
        ),
    }
)
_WHOLE = frozenset("today today's workout session whole entire class video episode anywhere throughout".split())
_NEAR = 8  # words
_DENIED = frozenset("not isn't aren't never nor wasn't if ain't hardly".split())
_ASKING = 3  # words


def claims(words: Sequence[Word], greeting: int) -> tuple[Claim, ...]:
    """Return every claim in the order said; before the word `greeting` all that is said is about the whole workout."""
    said = bare(words)
    found = []
    for sign in signs(said, _PHRASES):
        before = said[max(0, sign.first - _ASKING) : sign.first]
        if not _DENIED.isdisjoint(before):
            continue
        around = said[max(0, sign.first - _NEAR) : sign.last + 1 + _NEAR]
        whole = sign.last < greeting or not _WHOLE.isdisjoint(around)
        text = quote(words, sign.first, sign.last)
        found.append(Claim(Promise[sign.value], words[sign.first].start, sign.first, whole, text))
    return tuple(found)
