"""A published card or picture held against the built one as both are seen: what differs, named by the words there.

The picture decides. What a file says of its text matters only to those who copy it or have it read aloud.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

from repslate.proof import telling
from repslate.proof.built import About, Region, Strand, about, known, strand
from repslate.proof.card import card_document, compare_card
from repslate.proof.differences import (
    ADDED,
    CAUTION,
    COPIED,
    DISCLOSURE,
    DRAWN,
    FIGURE,
    FIX,
    LEFT_OUT,
    LINK,
    MISSING,
    NAME,
    NOTICE,
    RESIZED,
    UNREADABLE,
    quoted,
    shortened,
)
from repslate.proof.drawn import CELL, compare_drawn
from repslate.proof.expected import Expected
from repslate.proof.pdf import LARGEST, Line, Page, Unreadable, page_of, read_own_pdf
from repslate.proof.reading import POINT, Place, Role
from repslate.proof.words import Kind, Word, words
from repslate.source.finding import Finding, Severity

_SEVERITY = {ADDED: Severity.WARNING, COPIED: Severity.WARNING, RESIZED: Severity.NOTE}
_SAFETY = {Region.NOTICE: NOTICE, Region.CAUTION: CAUTION, Region.DISCLOSURE: DISCLOSURE}
_ABOVE, _BELOW = 0.75, 0.2  # sizes that letters reach over and under the line they stand on
_BESIDE = 0.7  # sizes: what is written as near to a line belongs to it
_SHOWN = 2  # words shown on both sides of those that differ
_LINES = 2000  # of a page; a full one has three hundred
_TOLD = 12  # places of a page that are told one by one
_MEAN, _MOST = 5.0, 28.0  # of 255 by which blocks of one picture differ when it is saved anew, resized or not
_SHAPE = 0.02  # share by which the shape of a resized picture may be off
_CHANGED = 8  # words: who changes what is read aloud changes few, a program that garbles it many
_GARBLED = 3  # words more in place of one lost make a text that says more, fewer one that is garbled
_NAMED = 8  # words named in a message


def compare_rendered(name: str, published: bytes, built: bytes, expected: Expected) -> list[Finding]:
    """Return what a published card or picture shows other than the built one; nothing where it looks the same."""
    if published == built:
        return []
    if len(published) > LARGEST:
        return [_unreadable(name, f"a file of {len(published) // 1024**2} MiB")]
    told = compare_drawn(built, published)
    if isinstance(told, str):
        return [_unreadable(name, told)]
    if "sizes" in told:
        return list(_picture(name, told))
    return list(_Card(name, built, expected).findings(told))


def _finding(check: str, place: Place, text: str) -> Finding:
    paper = place.on_paper()
    message = f"{paper}: {text}" if paper else text
    return Finding(check, _SEVERITY.get(check, Severity.ERROR), place.span(1), message, FIX[check])


def _unreadable(name: str, found: str) -> Finding:
    what = "card" if name.endswith(".pdf") else "picture"
    return _finding(UNREADABLE, Place(name), f"the {what}: found {found}, expected one that can be drawn")


def _picture(name: str, told: dict[str, Any]) -> Iterator[Finding]:
    (width, height), (wide, high) = told["sizes"]
    if abs(wide * height / (high * width) - 1) > _SHAPE or told["mean"] > _MEAN or told["most"] > _MOST:
        yield _finding(DRAWN, Place(name), "found another picture, expected the one that was built")
    elif (width, height) != (wide, high):
        text = f"found the picture at {wide} × {high} dots, expected {width} × {height}; it shows the same"
        yield _finding(RESIZED, Place(name), text)


class _Card:
    """Names the differences between a published card and the built one by the words of both."""

    def __init__(self, name: str, built: bytes, expected: Expected) -> None:
        self.name = name
        self.built = built
        self.expected = expected
        self.known = known(expected)

    @cached_property
    def pages(self) -> tuple[Page, ...]:
        """The pages of the built card."""
        pages = read_own_pdf(self.built, looked=False)
        return () if isinstance(pages, Unreadable) else pages

    @cached_property
    def strand(self) -> Strand:
        """The words of the built card."""
        document = replace(card_document(self.name, self.pages), links=())  # which stand behind all the pieces
        return strand(document, Role, self.known.base)

    @cached_property
    def about(self) -> dict[int, About]:
        """What each piece of the built card is."""
        return about(self.strand, self.known)

    def findings(self, told: dict[str, Any]) -> Iterator[Finding]:
        """Yield every difference that `compare_drawn` told."""
        read: list[Page] = []
        seen: list[str] = []
        for at, one in enumerate(told["pages"], 1):
            page = page_of(one["page"]) if "page" in one else Page(at, 0, 0, ())
            read.append(page)
            seen += (line.text for line in page.lines)
            if one["built"] is None:
                yield self._one_more(at, one["again"], page)
            elif "size" in one:
                yield self._other_size(at, self.pages[one["built"]], one["size"])
            elif "throughout" in one:
                yield _finding(DRAWN, Place(self.name), f"page {at} is drawn otherwise throughout, expected as built")
            elif "regions" in one:
                yield from self._page(self.pages[one["built"]], page, one["regions"])
        for at in told["gone"]:
            yield _finding(DRAWN, Place(self.name), f"page {at + 1} is gone, expected all {len(self.pages)} as built")
        if any("throughout" in one for one in told["pages"]) and all("page" in one for one in told["pages"]):
            said = compare_card(self.name, b"", self.expected, read=lambda _: tuple(read))
            yield from dict.fromkeys(one.finding() for one in said if one.check != LEFT_OUT)
        yield from self._links(told["links"][0], told["links"][1])
        yield from self._copied(told["copied"][0], told["copied"][1], seen)

    def _one_more(self, at: int, again: int | None, page: Page) -> Finding:
        said = shortened(" ".join(line.text for line in page.lines))
        what = f"which is page {again + 1} once more" if again is not None else f"“{said}”" if said else "not built"
        pages = "1 page" if len(self.pages) == 1 else f"{len(self.pages)} pages"
        return _finding(DRAWN, Place(self.name), f"found a page {at}, {what}, expected {pages} as built")

    def _other_size(self, at: int, built: Page, size: Sequence[float]) -> Finding:
        wide, high, width, height = (round(length * POINT) for length in (*size, built.width, built.height))
        text = f"page {at}: found {wide} × {high} mm of it, expected {width} × {height} mm as built"
        return _finding(DRAWN, Place(self.name), text)

    def _page(self, built: Page, found: Page, regions: Sequence[Sequence[Sequence[int]]]) -> Iterator[Finding]:
        told = [self._region(built, found, cells) for cells in regions]
        told.sort(key=lambda finding: finding.severity is not Severity.ERROR)
        yield from told[:_TOLD]
        if told[_TOLD:]:
            text = f"page {found.number} differs in {len(told) - _TOLD} more places, expected as built"
            yield _finding(told[_TOLD].check, Place(self.name), text)
        for code in built.codes:
            if found.width and code not in found.codes:
                other = f"found {quoted(found.codes[0])}" if found.codes else "found none that can be read"
                yield _finding(
                    LINK, Place(self.name), f"the QR code on page {found.number}: {other}, expected “{code}”"
                )

    def _region(self, built: Page, found: Page, cells: Sequence[Sequence[int]]) -> Finding:
        place = Place(
            self.name,
            page=found.number,
            x=min(column for column, _ in cells) * CELL * POINT,
            y=min(row for _, row in cells) * CELL * POINT,
        )
        lines, there = _touched(built.lines, cells), _touched(found.lines, cells)
        old, new = (" ".join(line.text for line in each) for each in (lines, there))
        said = f"found {quoted(_around(new, old))}{' drawn otherwise' if new == old else ''}"
        said = said if new else "found nothing of it"
        if not lines:
            check = (ADDED if self._is_calm(words(new)) else DRAWN) if new else DRAWN
            said = f"found {quoted(new)}" if new else "found something drawn that cannot be read"
            return _finding(check, place, f"{said}, expected nothing but what was built there")
        one = max((self._about(line, built.number) for line in lines), key=lambda about: about.region)
        check = _SAFETY.get(one.region) or self._claims(one, words(old), words(new))
        source = f" as {one.source.file}, line {one.source.line}, has it" if one.source else ""
        return _finding(check, place, f"{one.subject}: {said}, expected {quoted(_around(old, new))}{source}")

    def _claims(self, one: About, old: Sequence[Word], new: Sequence[Word]) -> str:
        """Return the check for a difference in words that are not of safety."""
        if one.region is not Region.CLAIM and self._is_calm((*old, *new)):
            return ADDED
        if not new:
            return MISSING
        return FIGURE if any(word.kind > Kind.PLAIN for word in (*old, *new)) else NAME

    def _is_calm(self, said: Sequence[Word]) -> bool:
        """Tell whether words speak of no dose, effort, pain, safety, sponsor or other exercise."""
        keys = tuple(word.key for word in said)
        names = (keys[at : at + length] in self.known.others for length in (2, 3, 4) for at in range(len(keys)))
        return telling.topic(keys) is None and all(word.kind <= Kind.PLAIN for word in said) and not any(names)

    def _about(self, line: Line, page: int) -> About:
        """Say what the piece of the built card is that a line belongs to: of those with its words the nearest."""
        keys = tuple(word.key for word in words(line.text, self.known.base))
        pieces = self.strand.document.pieces
        within = [
            piece
            for piece, places in self.strand.extent.items()
            if keys and _holds(self.strand.keys[places.start : places.stop], keys) and pieces[piece].place.page == page
        ]
        nearest = min(within, key=lambda piece: abs(pieces[piece].place.y - line.y * POINT), default=None)
        return self.about[nearest] if nearest is not None else About(Region.CLAIM, "the card")

    def _links(self, built: Sequence[str], found: Sequence[str]) -> Iterator[Finding]:
        for address in sorted({*found} - {*built}):
            yield _finding(LINK, Place(self.name), f"a link: found “{address}”, expected only those as built")

    def _copied(self, built: str, found: str, seen: Iterable[str]) -> Iterator[Finding]:
        """Yield that a card says to those who copy or listen what nobody sees; `seen` is what was told already."""
        had, has = (Counter(word.key for word in words(text)) for text in (built, found))
        more = [*words(found)]
        added = has - had - Counter(word.key for text in seen for word in words(text))
        lost = had - has
        is_more = added.total() > _GARBLED * lost.total()
        is_other = lost.total() <= _CHANGED
        said = [
            word.written for word in more if word.key in added and (is_more or (is_other and not self._is_calm([word])))
        ]
        if said:
            text = f"who copies the card or has it read aloud gets {quoted(' '.join(dict.fromkeys(said[:_NAMED])))} too"
            yield _finding(COPIED, Place(self.name), f"{text}, expected the words that are drawn")


def _touched(lines: Sequence[Line], cells: Sequence[Sequence[int]]) -> list[Line]:
    """Return the lines of a page that one of the cells, given as column and row, lies on."""
    rows: dict[int, list[int]] = {}
    for column, row in sorted(map(tuple, cells)):
        rows.setdefault(row, []).append(column)
    return [line for line in lines[:_LINES] if _is_touched(line, rows)]


def _is_touched(line: Line, rows: Mapping[int, Sequence[int]]) -> bool:
    beside = _BESIDE * line.size
    left, right = (round(x / CELL) for x in (line.x - beside, line.right + beside))
    top, bottom = (round(y / CELL) for y in (line.y - _ABOVE * line.size, line.y + _BELOW * line.size))
    columns = (rows.get(row, ()) for row in range(top, bottom))
    return any((at := bisect_left(one, left)) < len(one) and one[at] < right for one in columns)


def _around(text: str, other: str) -> str:
    """Return the words of a text that are not those of another, with two more on both sides; all if they are alike."""
    one, two = text.split(), other.split()
    if one == two:
        return text
    least = min(len(one), len(two))
    same = [a == b for a, b in zip(one, two, strict=False)]
    front = next((at for at, is_same in enumerate(same) if not is_same), least)
    back = next((at for at in range(least - front) if one[-1 - at] != two[-1 - at]), least - front)
    return " ".join(one[max(0, front - _SHOWN) : len(one) - max(0, back - _SHOWN)])


def _holds(keys: Sequence[str], sought: Sequence[str]) -> bool:
    return any(tuple(keys[at : at + len(sought)]) == sought for at in range(len(keys) - len(sought) + 1))
