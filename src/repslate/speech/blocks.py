"""How blocks are announced and how leave is taken, in the words of trainers.

A voice that says it another way is one phrase more: for a form of block in its row, forms.py, for all else here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from repslate.model.forms import FORMS, BlockKind
from repslate.speech.phrases import listed, phrases
from repslate.speech.topics import Turns

_CALLED_WITHIN = 25  # words from the beginning of its sentence
_CLOSE = 13  # words after a pause that are one sentence with it
_AGAIN_WITHIN = 18  # … for other sets of the same exercise
_DOSED_WITHIN = 40  # words after it
_FAREWELL = 20  # words of a goodbye at the least
_LEAVES_WITHIN = 18  # words from a pause to those that take leave

#: How the talk comes to other sets of the exercise it is about already.
_AGAIN = phrases("talk_words.txt")["blocks again"]
_TOLD_OF = listed("blocks told of")
_TOLD_OF_AFTER = _TOLD_OF - {"back", "done", "again", "same"}
_OPENS = frozenset("next okay ok right alright righto first last".split())
_BACK = frozenset({"back", "again"})  # "back to the start of the flow"
#: What is said of a block before its first exercise.
_FRAMING = listed("blocks framing")
_GOODBYES = phrases("talk_words.txt")["blocks goodbyes"]


def _by_first_word(phrases: Iterable[tuple[str, ...]]) -> dict[str, list[tuple[str, ...]]]:
    found: dict[str, list[tuple[str, ...]]] = {}
    for phrase in sorted(phrases, key=len, reverse=True):
        found.setdefault(phrase[0], []).append(phrase)
    return found


#: Other sets of the same exercise have no kind.
_KINDS = dict.fromkeys((tuple(one.split()) for one in _AGAIN), None) | {
    tuple(phrase.split()): kind for kind, form in FORMS.items() for phrase in form.announced
}
_CALLS = _by_first_word(_KINDS)
_LEAVES = _by_first_word(tuple(one.split()) for one in _GOODBYES)


@dataclass(frozen=True, slots=True)
class Call:
    """The announcement of a block: the word it stands at and where its sentence begins.

    `kind` is None where other sets of the same exercise are announced ("working sets").
    """

    kind: BlockKind | None
    word: int
    start: int


def calls(turns: Turns) -> Iterator[Call]:
    """Yield where blocks are announced, in order; of phrases that begin alike the longest."""
    at = 0
    while at < len(turns.texts):
        phrase = _said(turns, at, _CALLS)
        if phrase is None:
            at += 1
            continue
        kind = _KINDS[phrase]
        start = turns.after_pause(at)
        if at - start > _CLOSE:
            start = next((k for k in range(at - 1, at - 4, -1) if turns.texts[k] in _OPENS), start)
        if at - start > _CALLED_WITHIN:
            start = turns.sentence(at)
        if kind is None:
            if at - start <= _AGAIN_WITHIN and turns.is_dosed(at, _DOSED_WITHIN):
                yield Call(None, at, start)
        elif at - start <= _CALLED_WITHIN and not _is_told_of(turns, start, at):
            yield Call(kind, at, start)
        at += len(phrase)


def _is_told_of(turns: Turns, start: int, at: int) -> bool:
    """Tell whether a block is only spoken of: done with, come back to, last week's."""
    before, after = turns.texts[max(start, at - 3) : at], turns.texts[at + 1 : at + 5]
    gone_back = not _BACK.isdisjoint(turns.texts[max(start, at - 6) : at])
    return gone_back or not _TOLD_OF.isdisjoint(before) or not _TOLD_OF_AFTER.isdisjoint(after)


def framed(turns: Turns, pause: int, word: int) -> bool:
    """Tell whether the talk from a pause to a word is about a block: its rounds, its moves, what is next."""
    return not _FRAMING.isdisjoint(turns.texts[pause:word])


def goodbye(turns: Turns, after: int) -> int | None:
    """Return where the goodbye begins: the first stretch after a word that takes leave, else the last stretch."""
    starts = [end + 1 for end in turns.ends if end + 1 > after + 8 and end + 1 < len(turns.texts)]
    for start in starts:
        if any(_said(turns, at, _LEAVES) for at in range(start, min(start + _LEAVES_WITHIN, len(turns.texts)))):
            return start
    return starts[-1] if starts and len(turns.texts) - starts[-1] >= _FAREWELL else None


def _said(turns: Turns, at: int, phrases: dict[str, list[tuple[str, ...]]]) -> tuple[str, ...] | None:
    able = phrases.get(turns.texts[at], ())
    return next((one for one in able if tuple(turns.texts[at : at + len(one)]) == one), None)
