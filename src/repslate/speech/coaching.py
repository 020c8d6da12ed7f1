"""What the trainer tells people to do while they do it, and who the trainer is: the words of a draft's cues.

Machine-made subtitles have no full stops, so a cue begins at an order or at a part of the body that is told what to
do, and ends where the next thought begins; what begins in no known way is left out, not guessed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.model.quantity import UNITS
from repslate.speech.phrases import listed
from repslate.speech.words import Word, quote

_SHORTEST, _LONGEST = 3, 14  # words of a cue
_GREETING = 80  # words in which presenters say who they are

# All of these are common practice, no source, gathered from talk.
_ORDERS = listed("coaching orders")
_NEVER = frozenset({"don't", "never", "avoid"})
#: After one of these the same word is no order.
_NO_ORDER = listed("coaching no order")
_PARTS = listed("coaching parts")
_HOW = listed("coaching how")
_OWNED = listed("coaching owned")
_ENDS = listed("coaching ends")
_GOES_ON = frozenset({("and", "down"), ("and", "up"), ("and", "out"), ("and", "back"), ("or", "so")})
_HANGING = listed("coaching hanging")
_COUNTED = frozenset([*UNITS][:10])
_TELLS = _PARTS | listed("coaching tells")
_NAMES_SELF = (("i'm",), ("my", "name's"), ("my", "name", "is"), ("name's",), ("it's",), ("this", "is"))


@dataclass(frozen=True, slots=True)
class Advice:
    """A cue as it was said, from the word `first` to the word `last`; `time` is the start of the first word's cue."""

    time: Fraction
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Presenter:
    """Who presents, and the words that say so."""

    name: str
    time: Fraction
    quote: str


def coaching(words: Sequence[Word], taken: Collection[int]) -> tuple[Advice, ...]:
    """Return every cue in the order said; `taken` are indexes of words that say something else, such as a figure."""
    found: list[Advice] = []
    at = 0
    while at < len(words):
        last = _end(words, at, taken) if at not in taken and _begins(words, at) else None
        if last is None:
            at += 1
            continue
        found.append(Advice(words[at].start, at, last))
        at = last + 1
    return tuple(found)


def _begins(words: Sequence[Word], at: int) -> bool:
    """Tell whether a cue can begin at a word: an order, or a part of the body and how it is held."""
    text = words[at].text
    before = "" if not at or words[at - 1].ends or words[at - 1].breaks else words[at - 1].text
    after = "" if words[at].ends or at + 1 == len(words) else words[at + 1].text
    if text in _NEVER:
        return after in _ORDERS or after in ("lift", "rush", "bounce", "flare", "arch", "round", "lean", "swing")
    if text in _ORDERS:
        return before not in _NO_ORDER and before not in _NEVER and before not in _PARTS
    return text in _PARTS and after in _HOW and before not in _OWNED and before not in _NO_ORDER


def _end(words: Sequence[Word], first: int, taken: Collection[int]) -> int | None:
    """Return the last word of the cue that begins at `first`; None where it says too little, or runs on and on."""
    last = thought_end(words, first, taken)
    said = {word.text for word in words[first + 1 : last + 1]} | ({words[first].text} & _PARTS)
    shortest = _SHORTEST - 1 if words[first].text in _PARTS else _SHORTEST  # "chest up"
    return last if shortest <= last - first + 1 < _LONGEST and said & _TELLS else None


def thought_end(words: Sequence[Word], first: int, taken: Collection[int]) -> int:
    """Return the last word of what is said from the word `first` on, 14 words on at the most."""
    last = first
    for at in range(first + 1, min(first + _LONGEST, len(words))):
        text = words[at].text
        after = words[at + 1].text if at + 1 < len(words) else ""
        if words[at - 1].ends or at in taken or (text in _ENDS and (text, after) not in _GOES_ON):
            break
        if (at - first >= _SHORTEST - 1 and _begins(words, at)) or {text, after} <= _COUNTED:
            break
        last = at
    while last > first and words[last].text in _HANGING:
        last -= 1
    return last


def presenter(words: Sequence[Word]) -> Presenter | None:
    """Return who presents, as far as it is said: a name in capitals behind "I'm", for subtitles write names so."""
    return next(_presented(words), None)


def _presented(words: Sequence[Word]) -> Iterator[Presenter]:
    texts = [word.text for word in words[:_GREETING]]
    for at in range(len(texts)):
        for phrase in _NAMES_SELF:
            end = at + len(phrase)
            if tuple(texts[at:end]) != phrase or end >= len(texts) or words[end - 1].ends:
                continue
            name = words[end].shown
            alone = phrase in (("it's",), ("this", "is"))  # "it's Robin here", not "it's Monday"
            if name[:1].isupper() and name.isalpha() and (not alone or texts[end + 1 : end + 2] == ["here"]):
                yield Presenter(name, words[at].start, quote(words, at, end))
