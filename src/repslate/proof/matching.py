"""Which words of one text stand in another, and where: what stayed in its order, and what moved.

Rare runs of words are the anchors (Bram Cohen's patience difference), what lies between two of them is the longest
common subsequence; so a page of any length takes time in step with it, and words that say little tie nothing together.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Keys = Sequence[str]
Pieces = Sequence[int]
_RUN = 3  # words of an anchor
_MOVED = 4  # words that are the same ones at another place, not some like them
_PLACES = 20  # of one run at which the rest of it is looked for
_CELLS = 200_000_000  # words times words that are compared each with each, which takes 25 MB


@dataclass(frozen=True, slots=True)
class Match:
    """`length` words from `old` in the one text on are those from `new` on in the other."""

    old: int
    new: int
    length: int


def match(old: Keys, new: Keys) -> list[Match]:
    """Return what stayed in its order, in that order."""
    same: list[tuple[int, int]] = []
    at = other = 0
    for start, stop in [*_anchors(old, new), (len(old), len(new))]:
        same += _between(old, new, (at, start), (other, stop))
        if start < len(old):
            same += ((start + step, stop + step) for step in range(_RUN))
        at, other = start + _RUN, stop + _RUN
    return list(_runs(same))


def at_edges(found: Sequence[Match], pieces: tuple[Pieces, Pieces], keys: tuple[Keys, Keys]) -> list[Match]:
    """Return the matches with what one text has alone between two of them taken from the start of a piece on.

    Of a line that stands twice, or is gone, it is else the end of one and the beginning of the other that look alone.
    `pieces` are those that the words of both texts stand in.
    """
    done: list[Match] = []
    for one in found:
        if done:
            before = done[-1]
            gaps = one.old - before.old - before.length, one.new - before.new - before.length
            if min(gaps) == 0 < max(gaps):
                which = gaps.index(max(gaps))
                stop = (one.old, one.new)[which]
                room = before.length - 1, one.length - 1
                step = _shift(keys[which], pieces[which], (stop - gaps[which], stop), room)
                done[-1] = Match(before.old, before.new, before.length + step)
                one = Match(one.old + step, one.new + step, one.length - step)  # noqa: PLW2901 - it gave some
        done.append(one)
    return done


def _shift(keys: Keys, pieces: Pieces, gap: tuple[int, int], room: tuple[int, int]) -> int:
    """Return by how many words a stretch that can lie elsewhere as well is to be moved to begin with a piece."""
    start, stop = gap
    for step in range(room[0] + 1):
        if start - step == 0 or pieces[start - step] != pieces[start - step - 1]:
            return -step
        if keys[start - 1 - step] != keys[stop - 1 - step]:
            break
    for step in range(room[1] + 1):
        if pieces[start + step] != pieces[start + step - 1]:
            return step
        if keys[start + step] != keys[stop + step]:
            break
    return 0


def moved(old: Keys, new: Keys, stayed: Sequence[Match]) -> list[Match]:
    """Return what of the rest stands at another place: runs of at least four words, the longest that there are."""
    left = set(range(len(old))).difference(*(range(one.old, one.old + one.length) for one in stayed))
    more = set(range(len(new))).difference(*(range(one.new, one.new + one.length) for one in stayed))
    places: dict[tuple[str, ...], list[int]] = {}
    for at in sorted(more):
        if all(at + step in more for step in range(_MOVED)):
            places.setdefault(tuple(new[at : at + _MOVED]), []).append(at)
    found = []
    for at in sorted(left):
        if at not in left or not all(at + step in left for step in range(_MOVED)):
            continue
        for other in places.get(tuple(old[at : at + _MOVED]), [])[:_PLACES]:
            if not all(other + step in more for step in range(_MOVED)):
                continue
            length = _MOVED
            while at + length in left and other + length in more and old[at + length] == new[other + length]:
                length += 1
            left.difference_update(range(at, at + length))
            more.difference_update(range(other, other + length))
            found.append(Match(at, other, length))
            break
    return found


def _anchors(old: Keys, new: Keys) -> list[tuple[int, int]]:
    """Return the places of runs that both texts have once, as many as stand in one order, none of them overlapping."""
    one, two = _once(old), _once(new)
    pairs = sorted((at, two[run]) for run, at in one.items() if run in two)
    kept: list[tuple[int, int]] = []
    for at, other in _rising(pairs):
        if not kept or (at >= kept[-1][0] + _RUN and other >= kept[-1][1] + _RUN):
            kept.append((at, other))
    return kept


def _once(text: Keys) -> dict[tuple[str, ...], int]:
    found: dict[tuple[str, ...], int] = {}
    for at in range(len(text) - _RUN + 1):
        run = tuple(text[at : at + _RUN])
        found[run] = -1 if run in found else at
    return {run: at for run, at in found.items() if at >= 0}


def _rising(pairs: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return the longest part of the pairs whose second places rise too."""
    ends: list[int] = []
    last: list[int] = []
    before = [-1] * len(pairs)
    for at, (_, other) in enumerate(pairs):
        place = bisect_left(ends, other)
        before[at] = last[place - 1] if place else -1
        if place == len(ends):
            ends.append(other)
            last.append(at)
        else:
            ends[place], last[place] = other, at
    found = []
    at = last[-1] if last else -1
    while at >= 0:
        found.append(pairs[at])
        at = before[at]
    return found[::-1]


def _between(old: Keys, new: Keys, rows: tuple[int, int], columns: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """Yield the pairs of the longest common subsequence of a stretch of each; none where both are endless."""
    (at, stop), (other, end) = rows, columns
    while at < stop and other < end and old[at] == new[other]:
        yield at, other
        at, other = at + 1, other + 1
    tail = []
    while at < stop and other < end and old[stop - 1] == new[end - 1]:
        stop, end = stop - 1, end - 1
        tail.append((stop, end))
    if at < stop and other < end and (stop - at) * (end - other) <= _CELLS:
        from rapidfuzz.distance import LCSseq

        for one in LCSseq.opcodes(old[at:stop], new[other:end]):
            if one.tag == "equal":
                yield from zip(
                    range(at + one.src_start, at + one.src_end),
                    range(other + one.dest_start, other + one.dest_end),
                    strict=True,
                )
    yield from reversed(tail)


def _runs(pairs: Sequence[tuple[int, int]]) -> Iterator[Match]:
    start = 0
    for at in range(1, len(pairs) + 1):
        if at == len(pairs) or pairs[at] != (pairs[at - 1][0] + 1, pairs[at - 1][1] + 1):
            yield Match(*pairs[start], at - start)
            start = at
