"""Where each stretch of words that two cuts share begins and ends."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from repslate.cut.retime.kept import AGREE, Anchor, Kept, agreed

NEAR = 0.45  # seconds by which a word's place inside its cue may be guessed wrong
TIGHT = 0.25  # the same once the shift of the stretch is known
_AROUND = 8  # words on each side of a cut that are weighed again
_PAUSE = 1  # seconds by which a pause inside a cue moves the words of that cue
_SCRAP = 6  # words; fewer are too few to tell a cut from a pause
_SURELY = 20  # words on each side that tell a pause trimmed by less than a second, if they agree
_UNHEARD = 12  # words in a row that recognition may get wrong


class Word(NamedTuple):
    """A word and its place: exact at a cue's ends, shared out evenly inside; `opens` tells the first of a cue."""

    text: str
    start: Fraction
    end: Fraction
    opens: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """Words of the new cut, `first` to `last` (exclusive), that are the old cut's from `head` to `tail`.

    `pairs` are those that were heard alike, as (place in old, place in new).
    """

    first: int
    last: int
    head: int
    tail: int
    pairs: tuple[tuple[int, int], ...]


def stretch(first: int, last: int, shift: float, old: Sequence[Word], new: Sequence[Word]) -> Stretch | None:
    """Return the words heard alike at a shift from `first` to `last` (exclusive) of the new cut, None if none are."""
    pairs = []
    for nth in range(first, last):
        near = _same_near(old, new[nth], Fraction(shift), NEAR)
        if near is not None:
            pairs.append((near, nth))
    return Stretch(first, last, pairs[0][0], pairs[-1][0], tuple(pairs)) if pairs else None


def _same_near(old: Sequence[Word], word: Word, shift: Fraction, within: float) -> int | None:
    """Return the place of the nearest old word that says the same at the same moment."""
    asked = word.start - shift
    span = range(_from(old, asked - Fraction(within)), _from(old, asked + Fraction(within)))
    same = [nth for nth in span if old[nth].text == word.text]
    after = bisect_left(same, asked, key=lambda nth: old[nth].start)
    before = bisect_left(same, old[same[after - 1]].start, key=lambda nth: old[nth].start) if after else 0
    beside = [same[at] for at in dict.fromkeys((before, after)) if at < len(same)]
    return min(beside, key=lambda nth: abs(old[nth].start - asked), default=None)


def _from(said: Sequence[Word], time: Fraction) -> int:
    return bisect_left(said, time, key=lambda word: word.start)


def _anchors(stretch: Stretch, old: Sequence[Word], new: Sequence[Word]) -> tuple[Anchor, ...]:
    """Return the anchors in order; a word that opens a cue counts more, for its time is not shared out."""
    return tuple(
        sorted(
            Anchor(old[here].start, new[there].start - old[here].start, 1 + 2 * (old[here].opens or new[there].opens))
            for here, there in stretch.pairs
        )
    )


def _edge(stretch: Stretch, old: Sequence[Word], new: Sequence[Word], *, last: bool) -> Fraction:
    """Return the shift in the first or the last words of a stretch."""
    anchors = _anchors(stretch, old, new)
    return agreed(anchors, len(anchors) if last else 0)


def bounds(stretches: Sequence[Stretch], old: Sequence[Word], new: Sequence[Word]) -> list[Stretch]:
    """Settle where each stretch ends and the next begins; what plays on from one into the other becomes one."""
    joined: list[Stretch] = []
    for after in stretches:
        if len(joined) > 1 and _goes_on(joined[-2], after, old, new):
            del joined[-1]  # a few words that a pause inside their cue has moved
        if joined and _goes_on(joined[-1], after, old, new):
            before = joined[-1]
            joined[-1] = Stretch(before.first, after.last, before.head, after.tail, before.pairs + after.pairs)
        else:
            joined.append(after)
    bounded: list[Stretch] = []
    for after in joined:
        if bounded and bounded[-1].last == after.first:
            bounded[-1:] = _cut(bounded[-1], after, old, new)
        else:
            bounded[-1:] = [_tailed(one, old, new) for one in bounded[-1:]]
            bounded.append(_headed(after, old, new, free_from=bounded[-1].last if bounded else 0))
    bounded[-1:] = [_tailed(one, old, new) for one in bounded[-1:]]
    return bounded


def _goes_on(before: Stretch, after: Stretch, old: Sequence[Word], new: Sequence[Word]) -> bool:
    """Tell whether the old cut plays on from one stretch into the other, whatever was heard between."""
    a, b = _edge(before, old, new, last=True), _edge(after, old, new, last=False)
    fewer = min(len(before.pairs), len(after.pairs))
    within = Fraction(3 * _PAUSE if fewer < _SCRAP else _PAUSE)
    if fewer >= _SURELY and _says(before.pairs[-_SURELY:], a, old, new) and _says(after.pairs[:_SURELY], b, old, new):
        within = 2 * AGREE
    return abs(a - b) < within and -3 < after.head - before.tail <= _UNHEARD


def _says(pairs: Sequence[tuple[int, int]], shift: Fraction, old: Sequence[Word], new: Sequence[Word]) -> bool:
    """Tell whether two words in three say this shift, as they do where no pause inside a cue has moved them."""
    agreed = sum(abs(new[there].start - old[here].start - shift) <= AGREE for here, there in pairs)
    return 3 * agreed >= 2 * len(pairs)


def _cut(before: Stretch, after: Stretch, old: Sequence[Word], new: Sequence[Word]) -> tuple[Stretch, Stretch]:
    """Find the moment between two stretches at which the words of both sides fit best.

    Both sides share that moment of the new cut, so what was removed is exactly as long as the shifts say; words that
    are missing or too many on either side speak against a moment.
    """
    a, b = _edge(before, old, new, last=True), _edge(after, old, new, last=False)
    first, last = max(before.first, after.first - _AROUND), min(after.last, after.first + _AROUND)
    low, high = new[first].start, new[last - 1].end
    moments = {word.start for word in new[first:last]} | {high}
    moments |= {word.start + b for word in old[_from(old, low - b) : _from(old, high - b)]}
    moments |= {word.end + a for word in old[_from(old, low - a) : _from(old, high - a)]}
    sides = [(_weigh(new[nth], old, a), _weigh(new[nth], old, b)) for nth in range(first, last)]

    def fit(moment: Fraction) -> tuple[float, bool, Fraction]:
        split = _split(new[first:last], moment)
        said = sum(one for one, _ in sides[:split]) + sum(two for _, two in sides[split:])
        odd = abs(_count(old, low - a, moment - a) - split)
        odd += abs(_count(old, moment - b, high - b) - (last - first - split))
        return said - odd / 2, _opens(old, moment - b), -moment

    moment = max((one for one in moments if low <= one <= high), key=fit)
    split = first + _split(new[first:last], moment)
    tail, head = max(_starting(old, moment - a) - 1, before.head), min(_starting(old, moment - b), after.tail)
    return (
        Stretch(before.first, split, before.head, tail, _inside(before.pairs, before.head, tail)),
        Stretch(split, after.last, head, after.tail, _inside(after.pairs, head, after.tail)),
    )


def _inside(pairs: tuple[tuple[int, int], ...], head: int, tail: int) -> tuple[tuple[int, int], ...]:
    return tuple(pair for pair in pairs if head <= pair[0] <= tail) or pairs


def _split(said: Sequence[Word], moment: Fraction) -> int:
    return sum((word.start + word.end) / 2 < moment for word in said)


def _weigh(word: Word, old: Sequence[Word], shift: Fraction) -> float:
    return 2.0 if _same_near(old, word, shift, TIGHT) is not None else -1.4


def _count(old: Sequence[Word], low: Fraction, high: Fraction) -> int:
    return max(0, _starting(old, high) - _starting(old, low))


def _starting(old: Sequence[Word], time: Fraction) -> int:
    """Return the place of the first word that begins at `time`, give or take the guess of its place in the cue."""
    return _from(old, time - AGREE)


def _opens(old: Sequence[Word], time: Fraction) -> bool:
    nth = _starting(old, time)
    return nth < len(old) and old[nth].opens and old[nth].start - time < AGREE


def _headed(stretch: Stretch, old: Sequence[Word], new: Sequence[Word], *, free_from: int) -> Stretch:
    """Take up to three words before the first pair as kept where the new cut says something else at their moments.

    At the head of the new cut, with nothing said before, up to two words may be missing.
    """
    here, there = stretch.pairs[0]
    shift = _edge(stretch, old, new, last=False)
    back = 0
    while back < min(3, here, there - free_from) and _together(old[here - back - 1], new[there - back - 1], shift):
        back += 1
    head, first = here - back, there - back
    if first == 0 and (unheard := head - _starting(old, -shift)) <= 2:
        head -= max(0, unheard)
    return Stretch(first, stretch.last, head, stretch.tail, stretch.pairs)


def _tailed(stretch: Stretch, old: Sequence[Word], new: Sequence[Word]) -> Stretch:
    """Take up to three words after the last pair as kept where the new cut says something else at their moments."""
    here, there = stretch.pairs[-1]
    shift = _edge(stretch, old, new, last=True)
    on = 0
    most = min(3, len(old) - here - 1, len(new) - there - 1)
    while on < most and _together(old[here + on + 1], new[there + on + 1], shift):
        on += 1
    return Stretch(stretch.first, there + on + 1, stretch.head, max(here + on, stretch.tail), stretch.pairs)


def _together(one: Word, other: Word, shift: Fraction) -> bool:
    return abs(other.start - one.start - shift) < Fraction(TIGHT)


def kept(stretch: Stretch, old: Sequence[Word], new: Sequence[Word]) -> Kept:
    """Return the stretch with the silence around it, as far as the new cut has room for it."""
    quiet = old[stretch.head - 1].end if stretch.head else Fraction()
    room = (new[stretch.first - 1].end if stretch.first else 0) - _edge(stretch, old, new, last=False)
    start = min(old[stretch.head].start, max(quiet, room))
    end: Fraction | None = None
    if stretch.tail + 1 < len(old):
        end = old[stretch.tail + 1].start
        if stretch.last < len(new):
            end = max(old[stretch.tail].end, min(end, new[stretch.last].start - _edge(stretch, old, new, last=True)))
    return Kept(start, end, _anchors(stretch, old, new))
