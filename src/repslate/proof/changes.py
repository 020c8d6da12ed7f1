"""A published text against the built one: every word that was lost, added, moved or hidden, piece by piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from repslate.proof.built import Strand
from repslate.proof.matching import Match, at_edges, match, moved
from repslate.proof.telling import TURNING
from repslate.proof.words import Kind

_FEW = 3  # words: what is that short is tied to a change beside it, not to itself


@dataclass(slots=True)
class Change:
    """What became of one piece of the built text, or, without one, a piece that stands in the published text alone.

    `lost`, `more` and `hidden` are places of words, the first in the built strand, the others in the published one.
    `reordered` are words that stand in the same piece at another place, `whole` tells that nothing of it is left.
    """

    piece: int | None
    lost: list[int] = field(default_factory=list)
    more: list[int] = field(default_factory=list)
    hidden: list[int] = field(default_factory=list)
    reordered: list[int] = field(default_factory=list)
    moved_to: list[int] = field(default_factory=list)
    whole: bool = False


class Comparison:
    """Two strands word by word: `to` gives for a built word its place in the published text, `back` the other way."""

    def __init__(self, built: Strand, found: Strand) -> None:
        self.built, self.found = built, found
        pieces = built.pieces, found.pieces
        stayed = at_edges(match(built.keys, found.keys), pieces, (built.keys, found.keys))
        stayed = self._tied(stayed)
        self.moves = moved(built.keys, found.keys, stayed)
        self.stayed = sum(one.length for one in stayed)
        self.to: dict[int, int] = {}
        self.back: dict[int, int] = {}
        for one in (*stayed, *self.moves):
            for step in range(one.length):
                self.to[one.old + step], self.back[one.new + step] = one.new + step, one.old + step
        self.shifted = {one.old + step for one in self.moves for step in range(one.length)}
        self.around = list(self._around())
        self.homes: dict[int, int] = {}  # the built piece whose words stayed first in a published one
        for new, old in sorted(self.back.items()):
            if old not in self.shifted:
                self.homes.setdefault(found.pieces[new], built.pieces[old])

    def _tied(self, found: Sequence[Match]) -> list[Match]:
        """Leave out words that say little, or a few, between changes of more words than they are: chance finds."""
        kept: list[Match] = []
        ends = [*found, Match(len(self.built.keys), len(self.found.keys), 0)][1:]
        old = new = 0
        for one, after in zip(found, ends, strict=True):
            before = min(one.old - old, one.new - new)
            behind = min(after.old - one.old - one.length, after.new - one.new - one.length)
            here = [self.built.words[at] for at in range(one.old, one.old + one.length)]
            weak = all(word.kind is Kind.FEW for word in here) or len(here) < _FEW
            if not (weak and before > len(here) and behind > len(here)):
                kept.append(one)
                old, new = one.old + one.length, one.new + one.length
        return kept

    def changes(self) -> list[Change]:
        """Return every change in the order of the published text; those of lost pieces where they stood."""
        done: dict[int, Change] = {}
        fresh: dict[int, Change] = {}
        for at in range(len(self.built.words)):
            other = self.to.get(at)
            piece = self.built.pieces[at]
            if other is None:
                done.setdefault(piece, Change(piece)).lost.append(at)
            elif at in self.shifted:
                done.setdefault(piece, Change(piece)).moved_to.append(other)
            elif self.built.words[at].seen and not self.found.words[other].seen:
                done.setdefault(piece, Change(piece)).hidden.append(other)
        for at in range(len(self.found.words)):
            if at in self.back:
                continue
            owner = self._owner(at)
            if owner is None:
                piece = self.found.pieces[at]
                fresh.setdefault(piece, Change(None)).more.append(at)
            else:
                done.setdefault(owner, Change(owner)).more.append(at)
        self._pair(done, fresh)
        for change in done.values():
            self._settle(change)
        return sorted((*done.values(), *fresh.values()), key=self.place)

    def _around(self) -> Iterator[tuple[int | None, int | None]]:
        """Yield for each published word the built ones that the nearest of its piece before and behind it are."""
        lefts: list[int | None] = []
        rights: list[int | None] = []
        for places, found in ((range(len(self.found.keys)), lefts), (range(len(self.found.keys))[::-1], rights)):
            last, piece = None, -1
            for at in places:
                if self.found.pieces[at] != piece:
                    last, piece = None, self.found.pieces[at]
                found.append(last)
                last = self.back.get(at, last)
        yield from zip(lefts, reversed(rights), strict=True)

    def _owner(self, at: int) -> int | None:
        """Return the built piece that an added word stands in, None where its whole piece is new."""
        left, right = self.around[at]
        if left is None and right is None:
            return None
        one, two = (None if place is None else self.built.pieces[place] for place in (left, right))
        if one is None or two is None or one == two:
            return two if one is None else one
        # Between two built pieces that became one: part of the second only if that one alone lost words here.
        lost_of_one = left is not None and self._is_lost(left + 1, one)
        return two if not lost_of_one and right is not None and self._is_lost(right - 1, two) else one

    def _is_lost(self, at: int, piece: int) -> bool:
        return 0 <= at < len(self.built.words) and at not in self.to and self.built.pieces[at] == piece

    def _pair(self, done: dict[int, Change], fresh: dict[int, Change]) -> None:
        """Take a new piece that stands where a built one is gone for what became of it; or the same one, moved."""
        gone = [change for change in done.values() if len(change.lost) == len(self.built.extent[change.piece or 0])]
        for change in gone:
            change.whole = True
        texts: dict[tuple[str, ...], list[int]] = {}
        for piece, change in fresh.items():
            texts.setdefault(tuple(self.found.keys[at] for at in change.more), []).append(piece)
        for change in gone:
            same = texts.get(tuple(self.built.keys[at] for at in change.lost), [])
            if same:
                change.moved_to, change.lost = fresh.pop(same.pop(0)).more, []
                continue
            before = next((self.to[at] for at in range(change.lost[0] - 1, -1, -1) if at in self.to), -1)
            piece = self.found.pieces[before + 1] if before + 1 < len(self.found.words) else -1
            if piece in fresh and fresh[piece].more[0] == before + 1 and self._alike(change, fresh[piece]):
                change.more = fresh.pop(piece).more

    def _alike(self, lost: Change, new: Change) -> bool:
        return len(new.more) <= 3 * len(lost.lost) + _FEW

    def _settle(self, change: Change) -> None:
        """Set apart what only changed its place within its piece; a word that turns a sentence, or a figure, stays."""
        lost = Counter(self.built.keys[at] for at in change.lost)
        more = Counter(self.found.keys[at] for at in change.more)
        both = lost & more
        for key in list(both):
            if key in TURNING or key.isdigit():
                del both[key]
        change.lost, _ = _parted(change.lost, self.built.keys, both)
        change.more, change.reordered = _parted(change.more, self.found.keys, both)
        if change.moved_to and change.piece is not None:
            near = [at for at in change.moved_to if self.homes.get(self.found.pieces[at]) == change.piece]
            if not {self.found.keys[at] for at in near} & TURNING:
                change.reordered += near
                change.moved_to = [at for at in change.moved_to if at not in near]

    def place(self, change: Change) -> int:
        """Return the place in the published strand where a change is seen, or where what is gone should stand."""
        there = (*change.more, *change.hidden, *change.moved_to, *change.reordered)
        if there:
            return min(there)
        at = change.lost[0] if change.lost else 0
        return next(
            (self.to[one] + 1 for one in range(at - 1, -1, -1) if one in self.to and one not in self.shifted), 0
        )

    def is_inside(self, change: Change) -> bool:
        """Tell whether words were added within a sentence of the built text, not as sentences behind or before it."""
        return any(not self._stands_alone(run) for run in runs(change.more))

    def _stands_alone(self, run: range) -> bool:
        """Tell whether added words are sentences of their own."""
        if not self.found.words[run.stop - 1].ends:
            return False
        extent = self.found.extent[self.found.pieces[run.start]]
        return run.start == extent.start or self.found.words[run.start - 1].ends


def _parted(places: Sequence[int], keys: Sequence[str], taken: Counter[str]) -> tuple[list[int], list[int]]:
    """Return the places of words that are not among those taken, and of those that are, as often as they are."""
    left = taken.copy()
    kept: list[int] = []
    gone: list[int] = []
    for at in places:
        (gone if left[keys[at]] > 0 else kept).append(at)
        left[keys[at]] -= 1
    return kept, gone


def runs(places: Sequence[int]) -> Iterator[range]:
    """Yield the stretches of places that follow each other."""
    start = 0
    for at in range(1, len(places) + 1):
        if at == len(places) or places[at] != places[at - 1] + 1:
            yield range(places[start], places[at - 1] + 1)
            start = at
