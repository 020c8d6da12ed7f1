"""A published text held against the text that was built, word by word, in findings that name both and the place."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from functools import partial

from repslate.proof.built import STRANDS, About, Strand, about, known, standing, strand
from repslate.proof.changes import Comparison
from repslate.proof.chapter_files import Marks, read_ffmetadata, read_webvtt
from repslate.proof.classes import Judge, Judged, Where
from repslate.proof.differences import (
    EXTRA,
    FIX,
    OTHER,
    TALK,
    UNSEEN,
    WORDING,
    Disagreement,
    excess,
    quoted,
    shortened,
)
from repslate.proof.expected import Expected
from repslate.proof.html import read_html
from repslate.proof.machines import compare_machines
from repslate.proof.markdown import read_markdown
from repslate.proof.posts import read_text
from repslate.proof.reading import Document, Piece, Place, Role
from repslate.proof.safety import unseen
from repslate.proof.wording import shared
from repslate.proof.words import Kind, plain, words
from repslate.source.finding import Finding, Severity

_OTHER = 0.34  # share of the episode's names under which a text is another one's,
_MOST = 0.75  # unless so many of the built words stand in it
_AROUND = 2  # words shown on both sides of a change
_TOLD = 40  # findings of one text
_NAMED = 6  # changes of other words that the note names
_SEVERITY = {TALK: Severity.WARNING, UNSEEN: Severity.WARNING, WORDING: Severity.NOTE}
_MARKED = re.compile(r"^(?:#{1,6} |\*\*|- |\* |\[)", re.MULTILINE)
_POSTS = ("caption.txt", "description.txt")
Read = Callable[[str, bytes], Document]


class Copy(StrEnum):
    """What a copied text is a copy of."""

    CAPTION = "caption"
    DESCRIPTION = "description"
    CHAPTERS = "chapters"
    ARTICLE = "article"


def _chapters(read: Callable[[str, bytes], Marks]) -> Read:
    """Return a reader of chapters as lines such as "1:10.000 2:10.000 Goblet squat"."""

    def lines(name: str, data: bytes) -> Document:
        pieces = [
            Piece(" ".join([_clock(one.start), *([] if one.end is None else [_clock(one.end)]), one.title]), one.place)
            for one in read(name, data)[0]
        ]
        return Document(name, tuple(pieces))

    return lines


def _clock(seconds: Fraction) -> str:
    whole = int(seconds)
    rest = seconds - whole
    return f"{whole // 60}:{whole % 60:02}" + (f".{int(rest * 1_000_000):06}" if rest else "")


#: What players read: a line that is none of theirs costs a chapter, or all of them.
_TRACKS: Mapping[str, Callable[[str, bytes], Marks]] = {
    "chapters.vtt": read_webvtt,
    "chapters.ffmeta": read_ffmetadata,
}
_READ: Mapping[str, Read] = {
    "article.html": read_html,
    "article.md": read_markdown,
    "description.txt": read_text,
    "caption.txt": read_text,
    "chapters.txt": read_text,
    **{name: _chapters(read) for name, read in _TRACKS.items()},
    "cut.html": partial(read_html, styled=False),
}
#: The outputs of words, that are compared word by word.
TEXTS = tuple(_READ)


class BuiltTexts:
    """What was built of an episode, to hold any number of published texts against; each is read once."""

    def __init__(self, expected: Expected, files: Mapping[str, bytes]) -> None:
        self._known = known(expected)
        self._files = files
        self._read: dict[str, tuple[Document, list[tuple[Strand, dict[int, About]]]]] = {}

    def compare(self, name: str, data: bytes) -> list[Finding]:
        """Return every difference between a published file and the one of that name that was built."""
        if name not in self._files:
            return []
        if data == self._files[name]:
            return []
        unread = _TRACKS[name](name, data)[1] if name in _TRACKS else ()
        found = self._compared(name, _READ[name](name, data), data, copied=False)
        return [*(one.finding() for one in unread), *found]

    def compare_copy(self, name: str, data: bytes, kind: Copy) -> list[Finding]:
        """Return every difference between a text copied back from where it was published and what was built."""
        document, candidates = _copied(name, data, kind)
        built = [one for one in candidates if one in self._files]
        if not built:
            text = f"the episode has no {kind.value}, expected a copy of something that is built of it"
            return [Finding(OTHER, Severity.ERROR, Place(name).span(1), text, FIX[OTHER])]
        nearest = max(built, key=lambda one: self._likeness(one, document)) if len(built) > 1 else built[0]
        return self._compared(nearest, document, data, copied=True)

    def _is_another(self, compared: Comparison) -> bool:
        """Tell whether few of the episode's own names that were built stand in a text, and not most of its words."""
        built, found = compared.built.keys, compared.found.keys
        names = [name for name in self._known.own if next(standing(built, name), None) is not None]
        kept = sum(next(standing(found, name), None) is not None for name in names)
        return len(names) > 1 and kept < _OTHER * len(names) and compared.stayed < _MOST * len(built)

    def _built(self, name: str) -> tuple[Document, list[tuple[Strand, dict[int, About]]]]:
        if name not in self._read:
            document = _READ[name](name, self._files[name])
            strands = [strand(document, roles, self._known.base) for roles in STRANDS]
            self._read[name] = document, [(one, about(one, self._known)) for one in strands]
        return self._read[name]

    def _likeness(self, name: str, document: Document) -> int:
        from collections import Counter

        built = Counter(self._built(name)[1][0][0].keys)
        found = Counter(strand(document, STRANDS[0], self._known.base).keys)
        return 2 * shared(built, found) - built.total()

    def _compared(self, name: str, document: Document, data: bytes, *, copied: bool) -> list[Finding]:
        if over := excess(document):
            return [over.finding()]
        built, strands = self._built(name)
        texts = _Places(data)
        drawn = strands[1][0].keys if copied and not any(one.role is Role.DRAWING for one in document.pieces) else ()
        findings: list[Finding] = []
        notes: list[tuple[Place, str]] = []
        for at, (one, what) in enumerate(strands):
            found = strand(document, STRANDS[at], self._known.base)
            if at and not found.words:
                continue  # plain text has no pictures
            compared = Comparison(one, found)
            if not at and self._is_another(compared):
                return [_another(name, document, compared)]
            where = Where(name in _POSTS, STRANDS[at][0], frozenset(drawn))
            judge = Judge(compared, what, self._known, where)
            for judged in judge.judged():
                if judged.check == WORDING:
                    notes.append(_note(compared, judged))
                else:
                    findings.append(_finding(compared, judged, what, texts))
        if name.endswith((".html", ".md")):
            findings += (_told(one) for one in compare_machines(built, document, self._known.base, copied=copied))
        if name == "article.html":
            findings += (_told(one) for one in unseen(document, copied=copied))
        findings = sorted(dict.fromkeys(findings), key=lambda one: (one.span.line, one.span.column))
        return [*_few(findings), *_folded(document.name, notes)]


def is_page(data: bytes) -> bool:
    """Tell whether a text is HTML, which may hold whole pictures."""
    return data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<")


def _copied(name: str, data: bytes, kind: Copy) -> tuple[Document, tuple[str, ...]]:
    """Read a copied text, and say which outputs it may be a copy of."""
    if kind is Copy.CHAPTERS:
        begin = data.lstrip(b"\xef\xbb\xbf \t\r\n")
        if begin.startswith(b"WEBVTT"):
            return _READ["chapters.vtt"](name, data), ("chapters.vtt",)
        if begin.startswith(b";FFMETADATA"):
            return _READ["chapters.ffmeta"](name, data), ("chapters.ffmeta",)
        document = read_text(name, data)
        timed = [piece for piece in document.pieces if [word.kind for word in words(piece.text)[:1]] == [Kind.CLOCK]]
        within = document.pieces and timed and {document.pieces[0], document.pieces[-1]} - set(timed)
        return (replace(document, pieces=tuple(timed), links=()) if within else document), ("chapters.txt",)
    read = read_html if is_page(data) else read_text
    if kind is Copy.ARTICLE:
        if read is read_text and _MARKED.search(data.decode("utf-8", "replace")):
            read = read_markdown
        return read(name, data), ("article.html", "article.md")
    return read(name, data), (f"{kind.value}.txt",)


def _another(name: str, document: Document, compared: Comparison) -> Finding:
    share = 100 * compared.stayed // max(1, len(compared.built.keys))
    text = f"this is another text: {share} % of the words of {name} stand in it, expected the text that was built"
    return Finding(OTHER, Severity.ERROR, Place(document.name).span(1), text, FIX[OTHER])


def _few(findings: list[Finding]) -> list[Finding]:
    """Return the first findings, the last of which says how many more there are."""
    if len(findings) <= _TOLD:
        return findings
    last = findings[_TOLD - 1]
    more = f"{last.message} (and {len(findings) - _TOLD} more differences behind it)"
    severe = any(one.severity is Severity.ERROR for one in findings[_TOLD - 1 :])
    return [*findings[: _TOLD - 1], replace(last, message=more, severity=Severity.ERROR if severe else last.severity)]


class _Places:
    """Finds where in a file a word stands, from where its piece begins."""

    def __init__(self, data: bytes) -> None:
        self.lines = data.decode("utf-8", "replace").removeprefix("\ufeff").replace("\r\n", "\n").split("\n")

    def of(self, place: Place, word: str) -> Place:
        """Return the place of a word that stands in the piece at `place`: in its line, or in one of those after."""
        sought = re.compile(rf"(?<!\w){re.escape(word)}(?!\w)")
        for line in range(place.line, min(place.line + 8, len(self.lines) + 1)):
            begin = place.column - 1 if line == place.line else 0
            found = sought.search(self.lines[line - 1], begin, begin + 4000)
            if found:
                return Place(place.file, line, found.start() + 1)
        return place


def _finding(compared: Comparison, judged: Judged, what: Mapping[int, About], texts: _Places) -> Finding:
    change, (found, wanted) = judged.change, _quotes(compared, judged)
    one = what[change.piece] if change.piece is not None else None
    subject = "the description of a picture" if judged.topic == "picture" else one.subject if one else "the text"
    place = _place(compared, judged, texts)
    source = f" as {one.source.file}, line {one.source.line}, has it" if one and one.source else ""
    if change.piece is None:
        subject = {EXTRA: "a line that was not built"}.get(judged.check, "words that were not built")
        wanted = "none"
    elif change.hidden:
        wanted = "it where every reader sees it"
    elif change.moved_to and not change.lost:
        wanted = f"it {_where(compared, change.piece)}"
    topic = f", which speak of {_TOPICS[judged.topic]}" if judged.topic and change.piece is None else ""
    said = f"found “{found}”" if found else "found nothing of it"
    message = f"{subject}: {said}{topic}, expected {wanted}{source}"
    return Finding(
        judged.check,
        _SEVERITY.get(judged.check, Severity.ERROR),
        place.span(len(found)),
        message,
        FIX[judged.check],
    )


_TOPICS = {
    "sponsor": "a sponsor",
    "pain": "pain",
    "safety": "safety",
    "dose": "the dose",
    "effort": "effort",
    "exercise": "another exercise",
    "instruction": "how it is done",
    "picture": "a picture",
    "hidden": "what is hidden",
}


def _quotes(compared: Comparison, judged: Judged) -> tuple[str, str]:
    """Return the words of a change as they stand in the published text and in the built one, with some around them."""
    change = judged.change
    there = change.hidden or change.more or (change.moved_to if not change.lost else [])
    there = there or (change.reordered if not change.lost else [])
    found = _shown(compared.found, there)
    if not there and change.lost and not change.whole:
        kept = [compared.to[at] for at in (change.lost[0] - 1, change.lost[-1] + 1) if at in compared.to]
        found = _shown(compared.found, kept)
    if change.lost:
        wanted = _shown(compared.built, change.lost)
    elif change.piece is not None:
        own = compared.built.extent[change.piece]
        near = [compared.back[at] for at in (min(there) - 1, max(there) + 1) if at in compared.back] if there else []
        near = [at for at in near if at in own]
        wanted = _shown(compared.built, near or list(own)[:4])
    else:
        wanted = ""
    return found, f"“{wanted}”"


def _shown(of: Strand, places: Iterable[int]) -> str:
    """Return the words at some places with two more on both sides, as they are written."""
    at = sorted(places)
    if not at:
        return ""
    own = of.extent[of.pieces[at[0]]]
    last = max(one for one in at if one in own)
    start, stop = max(own.start, at[0] - _AROUND), min(own.stop - 1, last + _AROUND)
    text = plain(of.document.pieces[of.pieces[at[0]]].text)
    said = of.words[start : stop + 1]
    return shortened(text[min(word.start for word in said) : max(word.stop for word in said)])


def _place(compared: Comparison, judged: Judged, texts: _Places) -> Place:
    found, change = compared.found, judged.change
    if not found.words:
        return Place(found.document.name)
    at = min(compared.place(change), len(found.words) - 1)
    if not (change.more or change.hidden or change.moved_to or change.reordered) and at:
        at -= 1
    return texts.of(found.piece(at).place, found.words[at].written)


def _where(compared: Comparison, piece: int) -> str:
    start = compared.built.extent[piece].start
    if not start:
        return "in front of everything else"
    before = compared.built.piece(start - 1)
    return f"behind {quoted(before.text)}"


def _note(compared: Comparison, judged: Judged) -> tuple[Place, str]:
    change = judged.change
    found, wanted = _quotes(compared, judged)
    place = compared.place(change)
    piece = compared.found.pieces[min(place, len(compared.found.words) - 1)] if compared.found.words else 0
    where = compared.found.document.pieces[piece].place if compared.found.words else Place("")
    if change.piece is None:
        return where, f"added “{_short(found)}”"
    if change.whole and not change.more:
        return where, f"dropped {_short(wanted)}"
    if change.more and change.lost:
        return where, f"“{_short(found)}” for {_short(wanted)}"
    if change.more:
        return where, f"added “{_short(found)}”"
    if change.lost:
        return where, f"dropped in {_short(wanted)}"
    return where, f"moved “{_short(found)}”"


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:39].rstrip()}…"


def _folded(name: str, notes: list[tuple[Place, str]]) -> Iterator[Finding]:
    """Yield one note on all other words."""
    if not notes:
        return
    more = f", and {len(notes) - _NAMED} more" if len(notes) > _NAMED else ""
    changes = "change" if len(notes) == 1 else "changes"
    told = "; ".join(text for _, text in notes[:_NAMED])
    place = notes[0][0] if notes[0][0].file else Place(name)
    text = f"{len(notes)} {changes} of other words, which claim nothing: {told}{more}"
    yield Finding(WORDING, Severity.NOTE, place.span(1), text, FIX[WORDING])


def _told(one: Disagreement) -> Finding:
    return replace(one.finding(), severity=_SEVERITY.get(one.check, Severity.ERROR))
