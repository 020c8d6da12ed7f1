"""What may stand at one place of a typed line: a rest, a tempo, sets and repetitions, a load, a way of doing them.

Each reader looks from a piece on and returns what it found with the piece behind it, or None. The first that finds
something wins, so the order of READERS is the grammar: what is most particular comes first.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import Dose, Found
from repslate.model.notes.lexicon import listed
from repslate.model.notes.loads import LOADED, load
from repslate.model.notes.movements import at_pairs, bouts, joined_movements, listed_sets, pairs
from repslate.model.notes.products import chain
from repslate.model.notes.rests import every, per_day, rest
from repslate.model.notes.roles import heavy_singles, one_set, part_name, repeat
from repslate.model.notes.techniques import technique
from repslate.model.notes.tempi import tempo
from repslate.model.notes.works import amounts, effort, sides, two_levels, unsigned, worded
from repslate.model.tokens import TIMES


class Reader(NamedTuple):
    """A reader and all that it can begin by: meanings, words, signs, "number"."""

    read: Callable[[Typed, int, Dose], Found | None]
    begins: frozenset[str]


def _by(*begins: str) -> frozenset[str]:
    return frozenset(begins)


TIMES_SIGNS = _by("by", "x", "х", *TIMES)
EVERY = Reader(every, _by("number", "e", "everyminute", "everyother", "every", "onclock"))
REST = Reader(rest, _by("number", "rest", "no", "zero", "r", "intra", "upto", "/", "+", "#") | listed("joins a rest"))
READERS = (
    Reader(heavy_singles, _by("number")),
    Reader(bouts, _by("number")),
    Reader(per_day, _by("number", "twiceaday")),
    Reader(two_levels, _by("number", "cal")),
    Reader(part_name, _by("topset", "backoff", "warmupset", "rampset", "worksets")),
    Reader(one_set, _by("singles")),
    EVERY,
    REST,
    Reader(tempo, _by("number", "tempo", "@", "x", "fast", "up", "down")),
    Reader(effort, _by("number", "@", "rpe", "rir", "leave")),
    Reader(
        technique,
        _by("number", "twentyone", "myo", "restpause", "last", "rack", "double", "triple", "drops", "cluster", "ladder")
        | _by("wave", "+", ",", ":"),
    ),
    Reader(worded, _by("number", "total", "alternating", "once", "last", "max", "(")),
    Reader(repeat, _by("number", "manner", "tm", "/") | listed("again")),
    Reader(sides, _by("number", "eachside", "e", "each", "ea")),
    Reader(at_pairs, _by("number")),
    Reader(pairs, _by("number")),
    Reader(load, _by("number") | LOADED),
    Reader(chain, _by("number", "max", "emptybar", "bodyweight", "upto", "(", "a") | TIMES_SIGNS),
    Reader(listed_sets, _by("number")),
    Reader(amounts, _by("number", "upto", "up", "hold", "x", "×", "~") | listed("goes before work")),
)


def item(typed: Typed, at: int, given: Dose, *, has_name: bool) -> Found | None:
    """Return what stands at piece `at`, in view of what this part says already; None if only words do."""
    if at >= typed.end:
        return None
    if not at and (found := joined_movements(typed)):
        return found
    begun = typed.begins(at)
    for read, begins in READERS:
        if not begins.isdisjoint(begun) and (found := read(typed, at, given)):
            return found
    if "number" in begun and (has_name or at == 0 or given.sets is not None or given.role):
        return unsigned(typed, at, given)
    return None


@lru_cache(maxsize=1024)
def bare_item(typed: Typed, at: int, has_name: bool) -> Found | None:
    """Return what stands at piece `at` of a line that says nothing yet; it is not to be changed."""
    return item(typed, at, Dose(), has_name=has_name)
