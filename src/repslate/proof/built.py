"""The text that was built, word by word, with what each piece of it is: a caution, a claim such as a dose, or prose."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum

from repslate.model.prescription import Prescription, write
from repslate.proof.expected import Expected, Needed
from repslate.proof.reading import Document, Piece, Role
from repslate.proof.wording import UNITS
from repslate.proof.words import Kind, Word, address, words
from repslate.source.span import Span

_CLAIMING = frozenset({Kind.UNIT, Kind.CLOCK, Kind.LABEL})
_LINE = 45  # words: what is longer is a paragraph
HASHTAGS = "the hashtags"
_SHORT = 4  # letters: a name of one word that is so short is a word of any other text too
_DRAWN = (Role.DRAWING,)
_TOLD = (Role.ALT, Role.LABEL)
_READ = (Role.HEADING, Role.ROW, Role.ITEM, Role.CAPTION, Role.TEXT)
#: The strands of a page that are compared apart from each other: what is read, what is drawn, what describes pictures.
STRANDS = (_READ, _DRAWN, _TOLD)


class Region(IntEnum):
    """What a piece is. In a claim every word counts: a dose, a heading, a title, a time, the equipment."""

    PROSE = 0
    CLAIM = 1
    NOTICE = 2
    CAUTION = 3
    DISCLOSURE = 4


@dataclass(frozen=True, slots=True)
class Strand:
    """The words of some pieces of a document in order.

    `pieces` has of each word the index of the piece that it stands in, `extent` of each piece the places of its words.
    """

    document: Document
    words: tuple[Word, ...]
    pieces: tuple[int, ...]
    keys: tuple[str, ...]
    extent: Mapping[int, range]

    def piece(self, at: int) -> Piece:
        """Return the piece that the word `at` stands in."""
        return self.document.pieces[self.pieces[at]]


@dataclass(frozen=True, slots=True)
class About:
    """What a piece of the built text is, whom it speaks of in a message, and where the episode says it."""

    region: Region
    subject: str
    source: Span | None = None
    lead: int = 0  # its first words, which only call what follows: "You need:"
    link: str = ""  # the address that all of it leads to


@dataclass(frozen=True, slots=True)
class Known:
    """The names of an episode as they compare: of exercises, blocks, kit and the head, each with what to call it."""

    needed: Sequence[tuple[Region, tuple[str, ...], Needed]]
    names: Sequence[tuple[tuple[str, ...], str, Span | None]]
    base: str = ""
    own: Sequence[tuple[str, ...]] = ()  # the names of its exercises and its title
    others: frozenset[tuple[str, ...]] = frozenset()  # exercises of the library that it has not
    library: frozenset[str] = frozenset()  # all words of the library's names
    typed: Sequence[tuple[str, ...]] = ()  # words of prescriptions that are carried as typed
    parts: frozenset[tuple[str, ...]] = frozenset()  # what begins a line that has parts of an exercise


def strand(document: Document, roles: Iterable[Role], base: str) -> Strand:
    """Return the words of a document's pieces of these roles."""
    found: list[Word] = []
    pieces: list[int] = []
    extent: dict[int, range] = {}
    for at, piece in enumerate(document.pieces):
        if piece.role not in roles:
            continue
        said: Sequence[Word] = words(piece.text, base)
        if piece.sure is not None and piece.sure != piece.text:
            said = list(_half_seen(said, [one.key for one in words(piece.sure, base)]))
        if said and found and found[-1].kind is Kind.NUMBER and said[0].key in UNITS and said[0].key != "in":
            said = [replace(said[0], key=UNITS[said[0].key], kind=Kind.UNIT), *said[1:]]  # of a line that was broken
        if said:
            extent[at] = range(len(found), len(found) + len(said))
            found += said
            pieces += [at] * len(said)
    return Strand(document, tuple(found), tuple(pieces), tuple(word.key for word in found), extent)


def _half_seen(said: Sequence[Word], sure: Sequence[str]) -> Iterator[Word]:
    from repslate.proof.matching import match

    seen = {one.old + step for one in match([word.key for word in said], sure) for step in range(one.length)}
    for at, word in enumerate(said):
        yield word if at in seen else replace(word, seen=False)


def known(expected: Expected) -> Known:
    """Return what the words of an episode are known by."""
    needed = [
        *((Region.DISCLOSURE, one) for one in _disclosure(expected)),
        *((Region.CAUTION, one) for block in expected.blocks for one in block.cautions),
        *((Region.CAUTION, one) for exercise in expected.exercises for one in exercise.cautions),
        *((Region.NOTICE, one) for one in expected.notice + expected.notice_short + expected.notice_caption),
        *((Region.NOTICE, one) for one in expected.safety),
    ]
    base = (expected.address or "").partition("://")[2].strip("/")
    told = [(region, _keys(one.text), one) for region, one in needed]
    # A post has the topic of a caution before its words, apart from them.
    told += [(region, _keys(one.text.partition(": ")[2]), one) for region, one in needed if region is Region.CAUTION]
    listed = list(_names(expected))
    own = {keys for keys, _, _ in listed}
    single = {word for name in own for word in name}
    others = {_keys(name) for entry in expected.facts.library.entries.values() for name in (entry.name, *entry.aliases)}
    return Known(
        [one for one in told if len(one[1]) > 1],
        listed,
        base,
        [_keys(name) for name in (expected.episode.title, *(one.exercise.name for one in expected.exercises))],
        frozenset(one for one in others - own if len(one) > 1 or (len(one[0]) > _SHORT and one[0] not in single)),
        frozenset(word for name in others for word in name),
        [
            _keys(words)
            for one in expected.exercises
            for line in one.exercise.lines
            for words in line.prescription.words
        ],
        frozenset(_begins_parts(expected)),
    )


def _begins_parts(expected: Expected) -> Iterator[tuple[str, ...]]:
    for one in expected.exercises:
        if one.exercise.parts:
            yield _keys(one.called)
        for part in one.exercise.parts:
            said = Prescription(sets=part.prescription.sets, work=part.prescription.work)
            if begin := _keys(part.name or write(said)):
                yield begin


def _keys(text: str) -> tuple[str, ...]:
    return tuple(word.key for line in text.split("\n") for word in words(line))


def _disclosure(expected: Expected) -> Iterator[Needed]:
    if expected.disclosure:
        yield Needed("the disclosure", expected.disclosure, expected.source("sponsor"))


def _names(expected: Expected) -> Iterator[tuple[tuple[str, ...], str, Span | None]]:
    """Yield the names, those of exercises with what they are called; the words of the head speak of themselves."""
    episode = expected.episode
    for block in expected.blocks:
        yield _keys(block.block.name), block.block.name, block.block.span
    for one in expected.exercises:
        yield _keys(one.exercise.name), one.called, one.exercise.prescription_span or one.exercise.span
    for chapter in expected.chapters:
        yield _keys(chapter.title), f"the chapter “{chapter.title}”", chapter.source
    head = {"title": episode.title, "level": episode.level, "goal": episode.goal, "presenter": episode.presenter}
    for key, text in head.items():
        if text:
            yield _keys(str(text)), f"the {key}", expected.source(key)
    for key, items in (("equipment", expected.equipment), ("muscles", expected.muscles)):
        if items:
            yield tuple(one for item in items for one in _keys(item.text)), f"the {key}", expected.source(key)


def about(of: Strand, episode: Known) -> dict[int, About]:
    """Say of each piece of a built text what it is."""
    links = {one.piece: address(one.address, episode.base) for one in of.document.links}
    whole = {one.piece for one in of.document.links if one.words == of.document.pieces[one.piece].text}
    safety = {of.pieces[at]: (region, one) for region, keys, one in episode.needed for at in standing(of.keys, keys)}
    named: dict[int, list[tuple[str, Span | None]]] = {}
    longest = sorted(episode.names, key=lambda name: -len(name[0]))
    for keys, called, source in longest:
        for at in standing(of.keys, keys):
            named.setdefault(of.pieces[at], []).append((called, source))
    typed = Counter({of.pieces[at]: len(keys) for keys in episode.typed for at in standing(of.keys, keys)})
    done: dict[int, About] = {}
    last: tuple[str, Span | None] = ("the text", None)
    for piece, places in of.extent.items():
        text, said = of.document.pieces[piece], of.words[places.start : places.stop]
        if piece in safety:
            region, one = safety[piece]
            subject = f"{one.about}, {one.owner}" if one.owner and one.owner not in one.about else one.about
            done[piece] = About(region, subject, one.source)
            continue
        if said[0].key == "#":
            done[piece] = About(Region.PROSE, HASHTAGS)
            continue
        is_part = any(tuple(word.key for word in said[: len(name)]) == name for name in episode.parts)
        is_line = len(said) <= _LINE and text.text.rstrip()[-1:] not in (".", "!", "?")
        holds = piece in named or any(word.kind in _CLAIMING for word in said)
        if is_part or (is_line and holds) or 2 * typed[piece] >= len(said):  # most of it is a dose in words
            if piece in named:
                last = named[piece][0]
            own = named[piece][0] if piece in named else last
            link = links[piece] if piece in whole else ""
            done[piece] = About(Region.CLAIM, *own, 0 if is_part else _lead(said, text.text), link)
        else:
            if text.role is Role.HEADING:
                last = (f"“{text.text}”", None)
            done[piece] = About(Region.PROSE, *last)
    return done


def _lead(said: Sequence[Word], text: str) -> int:
    head, colon, _ = text.partition(":")
    if not colon or any(word.kind in _CLAIMING for word in said[:4] if word.stop <= len(head)):
        return 0
    return sum(word.stop <= len(head) for word in said) if len(head.split()) <= 3 else 0


def is_listed(of: Strand, place: range) -> bool:
    """Tell whether the words at a place hold a figure, a unit or a time, as a line of a list does and a heading not."""
    return any(of.words[at].kind in (Kind.NUMBER, Kind.UNIT, Kind.CLOCK) for at in place)


def standing(keys: Sequence[str], sought: Sequence[str]) -> Iterator[int]:
    """Yield where words stand in a text, one behind the other."""
    if not sought:
        return
    at, sought = -1, tuple(sought)
    while True:
        try:
            at = keys.index(sought[0], at + 1)
        except ValueError:
            return
        if tuple(keys[at : at + len(sought)]) == sought:
            yield at
