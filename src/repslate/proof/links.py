"""Where a file leads: into the film, to the article, within its page; each second and each address as it must be."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from math import floor

from repslate.proof.differences import LINK, MISSING, TIME, Claim, Disagreement, lacking, quoted
from repslate.proof.exercise_lines import Part
from repslate.proof.expected import Expected, ExpectedExercise, moment
from repslate.proof.front_facts import clock_words
from repslate.proof.reading import Document, Link, Piece, Place
from repslate.proof.wording import figures, integer, key, named, normal
from repslate.source.span import Span

_CARDS = ("card-a4.pdf", "card-letter.pdf")  # beside the article, so that its links to them are bare names
CODE = "code"  # the words of a link that is a code to be photographed
_SECOND = re.compile(r"[#?&]t=(\d+)s?$")


def compare_jump(document: Document, part: Part, one: ExpectedExercise, expected: Expected) -> Iterator[Disagreement]:
    """Yield what is wrong with an exercise's link into the film: its second, its film, the time that its words say."""
    if one.start is None:
        return
    second, video = floor(one.start), expected.episode.video
    source = _chapter_source(expected, one)
    subject = f"the link of {one.called} into the film"
    links = [link for link in document.links if link.piece in part.pieces and _leads_into(link, video)]
    spoken = [at for at in part.pieces if _names_a_moment(document.pieces[at].text)]
    pieces = {*(link.piece for link in links), *spoken}
    for link in links:
        if not _same_moment(link.address, video, second):
            claim = Claim(subject, link.address, link.place)
            said = _SECOND.search(link.address)
            check = TIME if said and integer(said[1]) != second else LINK
            yield Disagreement(check, claim, quoted(moment(video or "", second)), source)
    for at in sorted(pieces):
        piece = document.pieces[at]
        clocks = {floor(figure.value) for figure in figures(piece.text) if figure.unit == "clock"}
        if clocks and clocks != {second}:
            claim = Claim(f"the time of {one.called} in the film", piece.text, piece.place)
            yield Disagreement(TIME, claim, quoted(clock_words(second)), source)
    if not (links or (spoken and (video is None or not document.links))):  # copied text has lost its links
        place = document.pieces[part.entry.piece].place
        lacks = lacking("link into the film", of=one.called)
        yield Disagreement(MISSING, Claim(subject, "", place), quoted(clock_words(second)), source, lacks)


def compare_next(document: Document, part: Part, following: ExpectedExercise | None) -> Iterator[Disagreement]:
    """Yield a link to the next exercise that names another one."""
    for at in part.pieces:
        piece = document.pieces[at]
        words = normal(piece.text).partition("next:")[2].strip() if leads_on(piece) else ""
        if words and (following is None or key(words) != key(following.called)):
            expected = quoted(following.called) if following else "no next exercise"
            yield Disagreement(LINK, Claim("the link to the next exercise", piece.text, piece.place), expected)


def leads_on(piece: Piece) -> bool:
    """Tell whether a piece is a link to the next exercise, whose name may hold any word or figure."""
    return normal(piece.text).startswith(("next:", "whole workout next:"))


def compare_address(
    document: Document, address: str | None, addresses: Iterable[str], source: Span
) -> Iterator[Disagreement]:
    """Yield the article's address where none of the `addresses` that a file has is it; the nearest is named."""
    if address is None:
        return
    found = list(addresses)
    if any(_plain(one) == _plain(address) for one in found):
        return
    host = _plain(address).partition("/")[0]
    near = next((one for one in found if _plain(one).startswith(host)), "")
    place = next((link.place for link in document.links if link.address == near), Place(document.name))
    claim = Claim("the address of the article", near, place)
    yield Disagreement(LINK if near else MISSING, claim, quoted(address), source)


def compare_printed(document: Document, expected: Expected, shown: Iterable[str]) -> Iterator[Disagreement]:
    """Yield where a card leads elsewhere: its link, its code, and the address that it prints, each on its own.

    `shown` are the texts in which the address may be printed.
    """
    address = expected.address or expected.episode.video
    if address is None:
        return
    series = expected.episode.series
    source = (series.span if expected.address else None) or expected.source("video")
    codes = [link.address for link in document.links if link.words == CODE]
    links = [link.address for link in document.links if link.words != CODE]
    shown = list(shown)
    printed = [text for text in shown if _plain(address) in "".join(text.split())]
    place = next((link.place for link in document.links), Place(document.name, page=1))
    for what, found in (("the code", codes), ("the link", links)):
        wrong = [one for one in found if _plain(one) != _plain(address)]
        if (what == "the code" and not found) or wrong:
            claim = Claim(f"{what} on the card", wrong[0] if wrong else "", place)
            check, lacks = (LINK, None) if wrong else (MISSING, lacking(what))
            yield Disagreement(check, claim, quoted(address), source, lacks)
    if not printed:
        near = next((text for text in shown if _plain(address).partition("/")[0] in "".join(text.split())), "")
        check, lacks = (LINK, None) if near else (MISSING, lacking("the address"))
        claim = Claim("the address on the card", near, place)
        yield Disagreement(check, claim, quoted(_plain(address)), source, lacks)


def compare_inside(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield links within the page that lead nowhere, or to another exercise than their words name."""
    names = {named(one.exercise.name) for one in expected.exercises}
    for link in document.links:
        if not link.address.startswith("#"):
            continue
        at = document.ids.get(link.address[1:])
        target = document.pieces[at].text if at is not None and at < len(document.pieces) else ""
        if at is None or (named(link.words) in names and named(link.words) not in named(target)):
            claim = Claim(f"the link {quoted(link.words)}", link.address, link.place)
            yield Disagreement(LINK, claim, "the place on this page that its words name")


def compare_cards(document: Document) -> Iterator[Disagreement]:
    """Yield links to a printable card that lead to no card, or to one for other paper than their words name."""
    for link in document.links:
        beside = normal(document.pieces[link.piece].text) if link.piece < len(document.pieces) else ""
        in_words = re.search(r"\bcard\b", beside) and re.search(r"\.pdf$", link.address)
        if not (in_words or re.search(r"(?:^|/)card-[^/]*$", link.address)):
            continue
        paper = "letter" if "letter" in normal(link.words) else "a4" if "a4" in normal(link.words) else ""
        if link.address not in ([f"card-{paper}.pdf"] if paper else _CARDS):
            claim = Claim(f"the link {quoted(link.words)} to the printable card", link.address, link.place)
            yield Disagreement(LINK, claim, quoted(f"card-{paper}.pdf" if paper else " or ".join(_CARDS)))


def _plain(address: str) -> str:
    return re.sub(r"^https?://", "", address).rstrip("/")


def _leads_into(link: Link, video: str | None) -> bool:
    if _SECOND.search(link.address):
        return True
    base = (video or "").partition("#")[0]
    return bool(base) and link.address.partition("#")[0] == base


def _same_moment(address: str, video: str | None, second: int) -> bool:
    found = _SECOND.search(address)
    base = re.sub(r"[#?&]t=\d+s?$", "", address)
    return found is not None and integer(found[1]) == second and _plain(base) == _plain((video or "").partition("#")[0])


def _names_a_moment(text: str) -> bool:
    """Tell whether a piece points to the film: it has a clock, and speaks of watching or of the film."""
    plain = normal(text)
    return bool(re.search(r"\b(watch|video|film)\b", plain)) and any(f.unit == "clock" for f in figures(text))


def _chapter_source(expected: Expected, one: ExpectedExercise) -> Span:
    chapters = (chapter.source for chapter in expected.chapters if chapter.exercise == one.exercise.id)
    return next(chapters, one.exercise.span)
