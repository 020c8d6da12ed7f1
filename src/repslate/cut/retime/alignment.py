"""Finds which stretches of an old cut play where in a new one, from the words said.

Only differences of time are searched in floating point; every time that is handed on is an exact fraction.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import log
from typing import TYPE_CHECKING

from repslate.cut.cue import Cue
from repslate.cut.retime.best_path import runs
from repslate.cut.retime.kept import Kept
from repslate.cut.retime.stretches import NEAR, TIGHT, Word, bounds, kept, stretch

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")

# What follows are odds, not fitted figures: three words in four are heard alike in two transcripts of the same speech.
_HEARD_ALIKE = 0.75
_CUT = 9.0  # the odds (natural logarithm) against a cut at a given word and one of many shifts after it
_FOREIGN = 5.0  # the odds against new words beginning or ending there, such as an inserted title
_SURE = 4.0  # a rare word counts no more than this: recognition puts rare words in wrong places too
_WINDOW = 12.0  # seconds of the new cut in which a stretch has to show itself
_VOTES = 4  # word groups that have to agree on a shift within the window: three words in a row give four
_SHARED = 5  # a group of words that the old cut has more often says too little about its place


def words(cues: Iterable[Cue]) -> tuple[Word, ...]:
    """Return the words of the cues in the order said, without regard to case and punctuation."""
    said = []
    for cue in sorted(cues, key=lambda cue: (cue.start, cue.end)):
        texts = _WORD.findall(cue.text.casefold().replace("’", "'"))
        for nth, text in enumerate(texts):
            length = (cue.end - cue.start) / len(texts)
            said.append(Word(text, cue.start + nth * length, cue.start + (nth + 1) * length, nth == 0))
    return tuple(said)


def align(old: Sequence[Word], new: Sequence[Word]) -> tuple[Kept, ...]:
    """Return the stretches of `old` that `new` has, in the order of the new cut; they may be reordered or repeated.

    The new cut is read word by word as a path through shifts in time: staying is free, a cut costs, and words that fit
    no shift are foreign. Cost grows with the number of words times the number of cuts.
    """
    if not old or not new:
        return ()
    shifts = _shifts(old, new)
    found = []
    for run in runs(_evidence(old, new, shifts), cut=_CUT, foreign=_FOREIGN):
        one = stretch(run.first, run.last, float(shifts[run.state]), old, new)
        if one is not None:
            found.append(one)
    return tuple(kept(one, old, new) for one in bounds(found, old, new))


# ---- which shifts there are


def _shifts(old: Sequence[Word], new: Sequence[Word]) -> Floats:
    """Return the shifts in time that several words near each other agree on, in seconds, in order."""
    import numpy as np

    votes = sorted(_votes(old, new))
    found = [0.0, float(new[0].start - old[0].start), float(new[-1].end - old[-1].end)]
    times = [time for time, _ in votes]
    at = 0.0
    while times and at <= times[-1]:
        near = votes[bisect_left(times, at) : bisect_left(times, at + _WINDOW)]
        found.extend(_peaks(sorted(shift for _, shift in near)))
        at += _WINDOW / 2
    merged: list[float] = []
    for shift in sorted(found):
        if not merged or shift - merged[-1] > TIGHT:
            merged.append(shift)
    return np.array(merged)


def _peaks(shifts: Sequence[float]) -> list[float]:
    """Return the shifts that most of the votes of one window agree on, at most four."""
    peaks: list[tuple[int, float]] = []
    left = list(shifts)
    while len(left) >= _VOTES and len(peaks) < 4:
        spans = [(bisect_right(left, shift + NEAR) - at, -at) for at, shift in enumerate(left)]
        count, at = max(spans)
        if count < _VOTES:
            break
        peaks.append((count, left[-at + count // 2]))
        del left[-at : -at + count]
    return [shift for _, shift in peaks]


def _votes(old: Sequence[Word], new: Sequence[Word]) -> Iterable[tuple[float, float]]:
    """Yield (new time, shift) for each group of neighbouring words that both cuts have and the old one has seldom."""
    places = defaultdict(list)
    for key, time in _groups(old):
        places[key].append(time)
    for key, time in _groups(new):
        if len(places.get(key, ())) <= _SHARED:
            yield from ((time, time - place) for place in places.get(key, ()))


def _groups(said: Sequence[Word]) -> Iterable[tuple[tuple[str, ...], float]]:
    """Yield two words in a row, two with one between, and three in a row, each with the time of the first."""
    for nth, word in enumerate(said):
        one, two, three = (said[nth + ahead].text if nth + ahead < len(said) else "" for ahead in range(3))
        for key in ((one, two), (one, "", three), (one, two, three)):
            if key[-1]:
                yield key, float(word.start)


# ---- what speaks for each


def _evidence(old: Sequence[Word], new: Sequence[Word], shifts: Floats) -> Floats:
    """Return for each word of the new cut and each shift the log odds that this is the old cut so shifted."""
    import numpy as np

    often = Counter(word.text for word in old)
    starts: dict[str, list[float]] = defaultdict(list)
    for word in old:
        starts[word.text].append(float(word.start))
    places = {text: np.array(each) for text, each in starts.items()}
    spoken = max(sum((word.end - word.start for word in old), Fraction()), Fraction(1))
    within = 2 * NEAR * len(old) / float(spoken)  # words that stand near enough to be the same by chance
    table = np.empty((len(new), len(shifts)))
    for nth, word in enumerate(new):
        by_chance = min(0.95, 1 - (1 - often[word.text] / len(old)) ** within)
        table[nth] = min(0.0, log((1 - _HEARD_ALIKE) / (1 - by_chance)))
        if word.text in places:
            where, asked = places[word.text], float(word.start) - shifts
            after = np.searchsorted(where, asked)
            gap = np.minimum(
                np.abs(where[np.minimum(after, len(where) - 1)] - asked),
                np.abs(where[np.maximum(after - 1, 0)] - asked),
            )
            table[nth, gap <= NEAR] = min(_SURE, max(0.0, log(_HEARD_ALIKE / max(by_chance, 1e-9))))
    return table
