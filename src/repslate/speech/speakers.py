"""Who speaks of whom: numbers that the presenter lifts, that somebody else did last week, that are counted on camera.

The word lists are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from repslate.speech.numbers import Amount
from repslate.speech.pattern import Item
from repslate.speech.phrases import listed
from repslate.speech.words import Word, word_at

_LOOK_BACK = 6  # items: further back, somebody who is named is no longer the one who is talked of
_STOPS = frozenset("so then okay ok right now anyway alright righto but because cause cos".split())
_VIEWER = listed("speakers viewer")
_TURNS = (_VIEWER | _STOPS) - frozenset("that's it's you we your".split())  # those are said of last week as well
_OTHERS = listed("speakers others")
_OLD = listed("speakers old")
# How a presenter who says "i" asks the viewer for something, in the two words from "i" on; "i'd" always does.
_ASKS = {
    "i": "want need say give like rather recommend suggest reckon promise mean think prefer ask wanna would expect hope"
    " love only",
    "i'd": "i'd",
    "i'll": "give say take ask settle accept",
    "i'm": "after looking asking giving gonna going happy aiming thinking saying",
    "i've": "given put written set",
}
_ASKING = {begin: frozenset(words.split()) for begin, words in _ASKS.items()}
_NAMED = frozenset("sets set reps rep rounds round of each a to per x by times".split())  # no count goes on with these
_NEAR = 6  # words between two numbers that are counted aloud


def of_others(items: Sequence[Item], at: int) -> bool:
    """Tell whether an amount is what the presenter or somebody else does, not what the viewer is asked to do."""
    before = _before(items, at)
    for back in range(1, min(_LOOK_BACK, len(before)) + 1):
        text = before[-back]
        if text in _VIEWER or text in _STOPS:
            return False
        if text in _OTHERS:
            return True
        if text in _ASKING:
            return _ASKING[text].isdisjoint(before[-back:][:3])
    return False


def of_another_day(items: Sequence[Item], at: int) -> bool:
    """Tell whether an amount is about another workout: last week's, the one on tuesday, what used to be done."""
    before, amount = _before(items, at), items[at].amount
    clause = _clause(before)
    after = [item.text for item in items[at + 1 : at + 3]]
    for window in (clause, after if amount and amount.low == amount.high else []):
        if any(one in ("last", "another") and two.removesuffix("'s") in _OLD for one, two in pairwise(window)):
            return True
    if {"yesterday", "ago"} & {*clause, *after} or ("used", "to") in pairwise(clause):
        return True
    return bool({"was", "were", "did"} & {*clause[-4:]}) and any(text.removesuffix("'s") in _OLD for text in before)


def _before(items: Sequence[Item], at: int) -> list[str]:
    """Return the words of the same sentence before an amount, up to fourteen."""
    start = at
    while start > 0 and at - start < 14 and not items[start - 1].ends:
        start -= 1
    return [item.text for item in items[start:at]]


def _clause(before: list[str]) -> list[str]:
    """Return the clause that the words end with: what stands from the last word on that turns to the viewer."""
    turns = [index for index, text in enumerate(before) if text in _TURNS]
    return before[turns[-1] :] if turns else before


def counted_aloud(words: Sequence[Word], found: Sequence[Amount]) -> set[Amount]:
    """Return bare numbers that go up or down by one from their neighbour: reps and seconds counted on camera."""
    bare = [one for one in found if not one.unit and not one.form and one.low == one.high]
    runs: list[list[Amount]] = []
    for amount in bare:
        if word_at(words, amount.last + 1) in _NAMED:
            continue
        before = runs[-1] if runs else []
        step = amount.low - before[-1].low if before else Fraction(0)
        near = bool(before) and abs(step) == 1 and amount.first - before[-1].last <= _NEAR
        if near and (len(before) < 2 or step == before[1].low - before[0].low):
            before.append(amount)
        else:
            runs.append([before[-1], amount] if near else [amount])
    # "two down, one up" goes down by one too, so going down takes three.
    return {one for run in runs if len(run) > 2 or (len(run) > 1 and run[1].low > run[0].low) for one in run}
