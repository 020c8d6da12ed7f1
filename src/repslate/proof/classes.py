"""What a change of a published text comes to, in four classes.

- A figure, a name, a time, an address or a unit changed: an error.
- Words of a caution, a notice or the disclosure missing, changed, contradicted, moved or hidden: an error.
- Words elsewhere that speak of dose, effort, pain, safety or a sponsor: a warning.
- Other words: a note, one for the whole text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from repslate.proof import telling
from repslate.proof.built import HASHTAGS, About, Known, Region, is_listed
from repslate.proof.changes import Change, Comparison
from repslate.proof.differences import (
    CAUTION,
    DISCLOSURE,
    EXTRA,
    FIGURE,
    HIDDEN,
    LINK,
    MISSING,
    NAME,
    NOTICE,
    ORDER,
    TALK,
    TIME,
    WORDING,
)
from repslate.proof.reading import Role
from repslate.proof.words import Kind, Word, address

_SAFETY = {Region.NOTICE: NOTICE, Region.CAUTION: CAUTION, Region.DISCLOSURE: DISCLOSURE}
_COUNTED = frozenset("reps sets rounds kg lb × % km per".split())
_MENU = 8  # words: a longer line is no entry of a menu, nor a headline
_LISTED = 3  # names one below the other, which make a table of contents


@dataclass(frozen=True, slots=True)
class Judged:
    """A change with the check that tells it, and what it speaks of where that is the reason."""

    change: Change
    check: str
    topic: str = ""


@dataclass(frozen=True, slots=True)
class Where:
    """Which strand is judged: `first_line` is where a post has its disclosure, `kind` the role of its first pieces.

    `drawn` are the words of drawings, which a text copied out of a browser has among its own.
    """

    first_line: bool
    kind: Role
    drawn: frozenset[str] = frozenset()


class Judge:
    """Classes the changes between two strands."""

    def __init__(self, compared: Comparison, about: dict[int, About], known: Known, place: Where) -> None:
        self.of = compared
        self.about = about
        self.known = known
        self.where = place
        self.addresses = {address(one.address, known.base) for one in compared.found.document.links}
        self.linked = {address(one.address, known.base) for one in compared.built.document.links}
        self.top = self._disclosure()
        self.order = list(compared.found.extent)
        self.safe = {new for new, old in compared.homes.items() if about[old].region in _SAFETY}

    def judged(self) -> Iterator[Judged]:
        """Yield every change with its class."""
        changes = self.of.changes()
        listed = self._contents(changes)
        for change in changes:
            if change.piece is None:
                yield Judged(change, WORDING) if id(change) in listed else self._new(change)
            elif self.where.kind is Role.ALT:
                yield Judged(change, TALK, "picture")
            else:
                yield from self._changed(change, self.about[change.piece])

    def _disclosure(self) -> int:
        """Return where the disclosure stands in the published text, -1 where none of it does."""
        of = self.of
        own = [piece for piece, one in self.about.items() if one.region is Region.DISCLOSURE][:1]
        places = [of.to[at] for piece in own for at in of.built.extent[piece] if at in of.to]
        return min(places, default=-1)

    def _contents(self, changes: Sequence[Change]) -> set[int]:
        """Return the new pieces that are a table of contents: names of the episode, and headings, one after another."""
        heads = {one for one, _, _ in self.known.names} | {
            tuple(self.of.built.keys[place.start : place.stop]) for place in self.of.built.extent.values()
            if len(place) <= _MENU and not is_listed(self.of.built, place)
        }  # fmt: skip
        found: set[int] = set()
        group: list[int] = []
        for change in [*changes, Change(0)]:
            keys = tuple(self.of.found.keys[at] for at in change.more)
            bare = keys[1:] if keys and self.of.found.words[change.more[0]].kind is Kind.LABEL else keys
            if change.piece is None and (bare in heads or keys in heads):
                group.append(id(change))
                continue
            if change.piece is None and group and len(keys) <= _MENU and self.of.found.piece(change.more[0]).around:
                continue
            if len(group) >= _LISTED:
                found.update(group)
            group = []
        return found

    # ---- a piece that stands in the published text alone

    def _new(self, change: Change) -> Judged:
        of = self.of
        said = [of.found.words[at] for at in change.more]
        keys = [word.key for word in said]
        piece = of.found.piece(change.more[0])
        menu = len(said) <= _MENU and piece.text.rstrip()[-1:] not in (".", "!", "?")
        if self.where.drawn.issuperset(keys):
            return Judged(change, WORDING)  # what stands in a drawing, copied out of a browser with the text
        sponsor = any(telling.PLAIN_SPONSOR.fullmatch(key) for key in keys) or self._brand(change)
        if not sponsor and _has_dose(said):
            return Judged(change, EXTRA)
        if sponsor or (not menu and self._is_beside(change, keys)):
            return Judged(change, TALK, "sponsor" if sponsor else "safety")
        if piece.around:
            return Judged(change, WORDING)
        if (
            change.more[0] < self.top
            and (self.where.first_line or not menu)
            and any(w.kind is not Kind.FEW for w in said)
        ):
            return Judged(change, DISCLOSURE)
        topic = telling.topic(keys) or ("exercise" if self._names_other(keys) else None)
        figures = any(word.kind in (Kind.NUMBER, Kind.CLOCK) for word in said)
        calm = topic is None or (menu and self._is_edge(change) and not figures)
        return Judged(change, WORDING) if calm else Judged(change, TALK, topic or "")

    def _is_beside(self, change: Change, keys: Sequence[str]) -> bool:
        """Tell whether a new piece points at words of safety, right before or behind it with nothing built between."""
        if not telling.points(keys):
            return False
        order, extent, at = self.order, self.of.found.extent, self.of.found.pieces[change.more[0]]
        around = self.of.found.document.pieces[at].around
        for step in (-1, 1):
            place = order.index(at) + step
            while 0 <= place < len(order) and not any(one in self.of.back for one in extent[order[place]]):
                place += step
            if 0 <= place < len(order) and order[place] in self.safe:
                return self.of.found.document.pieces[order[place]].around == around
        return False

    def _is_edge(self, change: Change) -> bool:
        """Tell whether a piece stands before or behind all that was built, where a website has its own."""
        places = self.of.back
        return change.more[0] < min(places, default=0) or change.more[0] > max(places, default=0)

    def _brand(self, change: Change) -> str | None:
        """Return "sponsor" for an added hashtag of two words and more, one of which only a brand may have."""
        of = self.of
        for at in change.more:
            if at and of.found.keys[at - 1] == "#":
                parts = [
                    part.lower() for part in re.findall(r"[A-Z]+(?![a-z])|[A-Z][a-z]+", of.found.words[at].written)
                ]
                if len(parts) > 1 and not {*parts} <= {*of.built.keys, *telling.OF_TRAINING, *self.known.library}:
                    return "sponsor"
        return None

    def _names_other(self, keys: Sequence[str]) -> bool:
        """Tell whether words name an exercise of the library that the episode has not, in one word or more."""
        others = self.known.others
        return any(
            {name := tuple(keys[at : at + length]), (*name[:-1], name[-1].removesuffix("s"))} & others
            for length in (1, 2, 3, 4)
            for at in range(len(keys) - length + 1)
        )

    # ---- a piece of the built text

    def _changed(self, change: Change, about: About) -> Iterator[Judged]:
        of = self.of
        if change.moved_to and not change.lost:
            yield Judged(change, _SAFETY.get(about.region) or (ORDER if about.region is Region.CLAIM else WORDING))
            change = Change(change.piece, [], change.more, change.hidden, change.reordered)
        if change.hidden:
            is_claim = about.region is not Region.PROSE
            yield Judged(change, _SAFETY.get(about.region, HIDDEN if is_claim else TALK), "" if is_claim else "hidden")
            change = Change(change.piece, change.lost, change.more, [], change.reordered)
        lost = [word for at in change.lost if (word := of.built.words[at]).kind is not Kind.FEW]
        if change.whole and not any(word.seen for word in lost):
            lost = []  # what is folded away, a copy out of a browser does not have
        more = [word for at in change.more if (word := of.found.words[at]).kind is not Kind.FEW]
        more = [word for word in more if word.key not in self.linked]  # a link whose address was written out
        if not (lost or more):
            if change.lost or change.more or change.reordered:
                yield Judged(change, WORDING)
        elif about.region is Region.PROSE:
            yield self._in_prose(change, about, lost, more)
        elif about.region is Region.CLAIM:
            calls = self._is_lead(change, about) or self._still_leads(change, about)
            yield Judged(change, WORDING if calls else _claimed(change, lost, more))
        else:
            yield self._in_safety(change, about, lost, more)

    def _is_lead(self, change: Change, about: About) -> bool:
        """Tell whether only the words that call a line were changed, to ones that claim nothing."""
        start = self.of.built.extent[change.piece or 0].start
        calm = all(self.of.found.words[at].kind <= Kind.PLAIN for at in change.more)
        return bool(change.lost) and max(change.lost) < start + about.lead and calm

    def _still_leads(self, change: Change, about: About) -> bool:
        """Tell whether the words of a link were changed, to ones that claim nothing, and it leads where it did."""
        calm = change.more and all(self.of.found.words[at].kind <= Kind.PLAIN for at in change.more)
        return bool(calm and change.whole and about.link) and about.link in self.addresses

    def _in_safety(self, change: Change, about: About, lost: Sequence[Word], more: Sequence[Word]) -> Judged:
        """Judge a change in words of safety: a sentence may be added that takes nothing back; else it is an error."""
        keys = {word.key for word in more}
        if lost or self.of.is_inside(change) or keys & telling.TURNING or about.region is Region.DISCLOSURE:
            return Judged(change, _SAFETY[about.region])
        topic = telling.topic(keys)
        return Judged(change, TALK, topic) if topic else Judged(change, WORDING)

    def _in_prose(self, change: Change, about: About, lost: Sequence[Word], more: Sequence[Word]) -> Judged:
        if about.subject == HASHTAGS:
            sponsor = any(telling.PLAIN_SPONSOR.fullmatch(word.key) for word in (*lost, *more)) or self._brand(change)
            return Judged(change, TALK, "sponsor") if sponsor else Judged(change, WORDING)
        numbers = any(word.kind >= Kind.UNIT for word in lost)
        if numbers and (more or not change.whole):
            return Judged(change, _claimed(change, lost, more))
        if any(word.kind >= Kind.UNIT for word in more) and self.of.is_inside(change):
            return Judged(change, FIGURE)
        old, new = [word.key for word in lost], [word.key for word in more]
        topic = telling.topic(telling.apart(old, new)) or self._brand(change)
        if topic or numbers or any(word.kind is Kind.NUMBER for word in more):
            return Judged(change, TALK, topic or "dose")
        if telling.turns(old, new):
            return Judged(change, TALK, "instruction")
        return Judged(change, TALK, "exercise") if self._names_other(new) else Judged(change, WORDING)


def _claimed(change: Change, lost: Sequence[Word], more: Sequence[Word]) -> str:
    """Return the check for a change in a line that claims something."""
    kinds = {word.kind for word in (*lost, *more)}
    if Kind.ADDRESS in kinds:
        return LINK
    if change.whole and not more:
        return MISSING
    if Kind.CLOCK in kinds:
        return TIME
    if kinds & {Kind.NUMBER, Kind.UNIT}:
        return FIGURE
    return NAME if lost else EXTRA


def _has_dose(said: Sequence[Word]) -> bool:
    """Tell whether words hold a dose: a number with a unit that is counted, or a label such as A1 with a number."""
    numbers = [word for word in said if word.kind is Kind.NUMBER]
    return bool(numbers) and any(word.kind is Kind.UNIT and word.key in _COUNTED for word in said)
