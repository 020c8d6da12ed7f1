"""Where the talk likely turns to an exercise though nobody names it: learned from labelled talk, no rule typed by hand.

After each pause the words around it and a few facts speak for a turn or against it, each with a weight. The weights
stand in turn_weights.txt; tests/benchmarks/turns.py makes them of labelled talk and measures them on trainers that
they were not made of.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from math import exp

from repslate.speech.mentions import Mention
from repslate.speech.phrases import FOLDER, listed
from repslate.speech.topics import Turn, Turns

_DOING = listed("topics doing")
_TURNING = listed("topics turns")
_HEAD, _BODY, _BEFORE = 6, 40, 15  # words that begin the stretch, that follow, and that stand before it
_MOST = 6  # words that tell how a movement is done; more tell no more
_NEAR, _SOON, _BACK = 60, 25, 40  # words around the pause in which a figure of work is looked for
_LONG = 60.0  # seconds
_SILENCE = 6.0  # seconds
_END = 0.95  # of all words
_ENOUGH = 0.7  # likelihood from which on an exercise is come to (this and the next seven were tried on labelled talk)
_SURELY = 0.95  # … in a talk that names its exercises as a rule
_AS_A_RULE = 0.5  # named exercises to a figure of work, from which on it does
_DOUBTED = 0.05  # … below which a name near is only mentioned
_SURE = 9.0  # weight of a named turn from which on nothing takes it back
_TOLD = 4  # words that tell how a movement is done, where no figure of work does
_APART = 18.0  # seconds between two turns at the least
_CLOSE = 8.0  # seconds from a name to the pause that leads to it
#: How a mention is marked that names nothing.
WITHOUT_NAME = "without a name"


def completed(turns: Turns, named: Sequence[Turn], called: Sequence[int], begin: int) -> list[Turn]:
    """Return the named turns that are likely ones, with a turn to each exercise that is likely come to without a name.

    `called` are the words at which blocks and the goodbye are announced; what stands before `begin` is greeting.
    """
    likelihood = likely(turns, [turn.start for turn in named])
    kept = [turn for turn in named if not _is_doubted(turns, turn, likelihood)]
    times = [float(turns.words[at].start) for at in (*called, *(turn.start for turn in kept))]
    found = list(kept)
    enough = _SURELY if len(named) >= _AS_A_RULE * len(turns.doses) else _ENOUGH
    for start in sorted(likelihood, key=lambda one: (-likelihood[one], one)):
        time = float(turns.words[start].start)
        if start < begin or likelihood[start] < enough or any(abs(time - other) < _APART for other in times):
            continue
        if not (turns.is_dosed(start, _NEAR) or turns.told(start, start + _SOON) >= _TOLD):
            continue  # nothing is done there
        times.append(time)
        found.append(Turn(Mention(start, start, (), WITHOUT_NAME, ""), start, likelihood[start]))
    return sorted(found, key=lambda turn: turn.start)


def _is_doubted(turns: Turns, turn: Turn, likelihood: Mapping[int, float]) -> bool:
    """Tell whether there are pauses near a named turn at none of which the talk turns; without any it stands."""
    time = float(turns.words[turn.start].start)
    near = [one for start, one in likelihood.items() if abs(float(turns.words[start].start) - time) <= _CLOSE]
    return bool(near) and max(near) < _DOUBTED and turn.score < _SURE


def likely(turns: Turns, named: Sequence[int]) -> dict[int, float]:
    """Return for each word that follows a pause how likely, from 0 to 1, the talk turns there.

    `named` are the words at which a named exercise is turned to.
    """
    weights = _weights()
    found = {}
    for end in turns.ends:
        weight = sum(weights.get(sign, 0.0) * value for sign, value in signs(turns, end + 1, named).items())
        found[end + 1] = 1 / (1 + exp(-weight))
    return found


def signs(turns: Turns, start: int, named: Sequence[int]) -> dict[str, float]:
    """Return what speaks for or against a turn at a word: words as they stand there, and facts from 0 to 1."""
    texts = turns.texts
    found = dict(_facts(turns, start, named))
    found |= dict.fromkeys((f"begins {text}" for text in texts[start : start + _HEAD]), 1.0)
    found |= dict.fromkeys((f"follows {text}" for text in texts[start + _HEAD : start + _BODY]), 1.0)
    found |= dict.fromkeys((f"before {text}" for text in texts[max(0, start - _BEFORE) : start]), 1.0)
    return found


def _facts(turns: Turns, start: int, named: Sequence[int]) -> Iterator[tuple[str, float]]:
    texts, words = turns.texts, turns.words
    time = float(words[start].start)
    yield "-always", 1.0
    yield "-turning", float(not _TURNING.isdisjoint(texts[start : start + 4]))
    for sign, until in (("-told", 45), ("-told soon", 20)):
        yield sign, min(_MOST, sum(text in _DOING for text in texts[start : start + until])) / _MOST
    yield "-dosed", float(any(start <= dose <= start + _NEAR for dose in turns.doses))
    yield "-dosed soon", float(any(start <= dose <= start + _SOON for dose in turns.doses))
    yield "-dosed before", float(any(start - _BACK <= dose < start for dose in turns.doses))
    yield "-framed before", float(any(start - _BACK <= frame < start for frame in turns.frames))
    yield "-silence", min(time - float(words[start - 1].start), _SILENCE) / _SILENCE
    earlier = max((float(words[at].start) for at in named if at <= start), default=0.0)
    later = min((float(words[at].start) for at in named if at > start), default=time + _LONG)
    yield "-since a name", min(time - earlier, _LONG) / _LONG
    yield "-until a name", min(later - time, _LONG) / _LONG
    yield "-names a figure", min(len(named) / max(1, len(turns.doses)), 1.0)
    yield "-far", start / len(texts)
    yield "-greeting", float(time < _LONG)
    yield "-goodbye", float(start > len(texts) * _END)


@cache
def _weights() -> Mapping[str, float]:
    lines = (FOLDER / "turn_weights.txt").read_text("utf-8").splitlines()
    parted = (line.rpartition(" ") for line in lines if line and not line.startswith("#"))
    return {sign: float(weight) for sign, _, weight in parted}
