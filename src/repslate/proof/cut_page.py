"""The editor's page of the cut, held against film, subtitles and chapters: every time on it is one of theirs.

Machine-made and seldom changed by hand, so nothing on it may be reworded: each figure must have its reason. Findings
of the checks are passed over, for they are no part of the facts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import floor

from repslate.cut.cue import Cue
from repslate.cut.timecode import RATES, read_timecode
from repslate.cut.video import Film
from repslate.proof.chapter_files import clock_seconds
from repslate.proof.differences import FIGURE, LINK, MISSING, NAME, TIME, Claim, Disagreement, excess, lacking, quoted
from repslate.proof.expected import Expected, ExpectedChapter, Passage
from repslate.proof.front_facts import clock_words, compare_origin
from repslate.proof.prose import changed_figures
from repslate.proof.reading import Document, Piece, Place, Role
from repslate.proof.wording import decimal, integer, named, normal

_CLOCK = re.compile(r"\d+(?::\d+)+(?:\.\d+)?")
_TIME = re.compile(r"\d+(?::[0-5]\d){1,2}(?:\.\d{3})?")  # how the page writes a time; any other clock is none
_CLOCK_RUN = re.compile(r"\d{1,2}:\d\d(?::\d\d(?!:))?")  # times that follow one another without a blank
_LABEL = re.compile(r"\d+:\d+:\d+[:;]\d+")
_GAP = re.compile(r"(\d+(?:\.\d+)?) s\b(?:, (\d+) frames?)?")
_MILLISECOND = Fraction(1, 1000)
_OF_START = re.compile(r"(?:at|play from) (\d+(?::\d+)+(?:\.\d+)?)")  # what a frame and a button say of the start
_FILM = re.compile(r"\bcut\.\w+")
# What stands on every such page: cut/video.py finds dissolves within 0.2 s, and a key plays from 3 s before.
_FIXED = (Passage("the key of the timeline", "a dotted line is a dissolve, to within 0.2 s."),)
_KEY = re.compile(r"play from (\d+) s before")
_RUN = 1  # second between cues that are one run of speech
_KINDS = (
    ("wrong", "wrong"),
    ("look at it", "to look at"),
    ("on the cut", "in place"),
    ("named in time", "in place"),
    ("left open", "left open"),
)


def compare_cut_page(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield what the page says other than the cut."""
    if over := excess(document):
        yield over
        return
    heads = [at for at, piece in enumerate(document.pieces) if piece.role is Role.HEADING and piece.level >= 3]
    top = heads[0] if heads else len(document.pieces)
    yield from _title(document, expected)
    yield from compare_origin(document, expected, top)
    yield from _film(document.pieces[:top], expected)
    yield from _summary(document, expected, heads)
    yield from _lanes(document.pieces[:top], expected)
    yield from _links(document, heads)
    yield from changed_figures(document.pieces, _FIXED)
    for piece in document.pieces:
        for name in _FILM.findall(piece.text):
            if name not in expected.facts.files:
                yield Disagreement(NAME, Claim("the film's name", piece.text, piece.place), "the film that lies there")
        if (key := _KEY.fullmatch(normal(piece.text))) and key[1] != "3":
            yield Disagreement(FIGURE, Claim("the keys of the page", piece.text, piece.place), quoted("3 s"))
    if len(heads) != len(expected.chapters):
        claim = Claim("the number of chapters", f"{len(heads)} chapters", Place(document.name))
        yield Disagreement(MISSING, claim, quoted(f"{len(expected.chapters)} chapters"))
    for number, (at, chapter) in enumerate(zip(heads, expected.chapters, strict=False), 1):
        end = heads[number] - 1 if number < len(heads) else len(document.pieces)
        yield from _stop(document, range(at, end), number, chapter, expected)


def _title(document: Document, expected: Expected) -> Iterator[Disagreement]:
    head = next((piece for piece in document.pieces if piece.level == 1), None)
    if head is None or not named(head.text).endswith(named(expected.episode.title)):
        claim = Claim("the title", head.text if head else "", head.place if head else Place(document.name))
        check, lacks = (NAME, None) if head else (MISSING, lacking("title"))
        yield Disagreement(check, claim, quoted(expected.episode.title), expected.source("title"), lacks)


def _links(document: Document, heads: Sequence[int]) -> Iterator[Disagreement]:
    """Compare where the numbers on the timeline lead: each to the chapter of its number."""
    for link in document.links:
        if link.address.startswith("#") and link.words.isdecimal():
            at = document.ids.get(link.address[1:], -1)
            head = heads[integer(link.words) - 1] if 0 < integer(link.words) <= len(heads) else -9
            if at not in (head, head - 1):  # at the heading, or at the number in front of it
                claim = Claim("a link on the timeline", link.address, link.place)
                yield Disagreement(LINK, claim, quoted(f"chapter {link.words}"))


def _film(pieces: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    film = expected.facts.film
    line = next((piece for piece in pieces if re.search(r"\blong\b", normal(piece.text)) and piece.level == 0), None)
    length = film.duration if film else expected.episode.length
    if line is None or length is None:
        if length is not None and film is not None:
            claim = Claim("the film's length", "", Place("cut.html"))
            yield Disagreement(MISSING, claim, quoted(_shown(length)), lacks=lacking("film"))
        return
    said = [_seconds(one) for one in _CLOCK.findall(_LABEL.sub("", line.text))]
    if not any(_is_at(one, length) for one in said):
        yield Disagreement(TIME, Claim("the film's length", line.text, line.place), quoted(_shown(length)))
    if film is None:
        return
    wanted = [("the film's width and height", rf"\b{film.width} x {film.height}\b", f"{film.width} × {film.height}")]
    if film.rate:
        rate = f"{Fraction(round(film.rate * 1000), 1000).__float__():g}"
        wanted.append(("the frame rate", rf"(?<![\d.]){re.escape(rate)} frames", f"{rate} frames a second"))
    if film.start_timecode:
        wanted.append(("the film's first timecode", re.escape(film.start_timecode), film.start_timecode))
    for what, pattern, shown in wanted:
        if not re.search(pattern, normal(line.text)):
            yield Disagreement(FIGURE, Claim(what, line.text, line.place), quoted(shown))


def _summary(document: Document, expected: Expected, heads: Sequence[int]) -> Iterator[Disagreement]:
    """Compare the counts at the top with the verdicts below, and with the number of chapters."""
    line = next((piece for piece in document.pieces if re.match(r"\d+ chapters?\b", normal(piece.text))), None)
    if line is None:
        return
    behind = [normal(document.pieces[at + 2].text) for at in heads if at + 2 < len(document.pieces)]
    verdicts = [words for words in behind if words.startswith(tuple(verdict for verdict, _ in _KINDS))]
    counts = {"chapter": len(expected.chapters)}
    for verdict, words in _KINDS if verdicts else ():  # a page may do without
        counts[words] = counts.get(words, 0) + sum(one.startswith(verdict) for one in verdicts)
    for found in re.finditer(r"(\d+) (chapter|wrong|to look at|in place|left open)", normal(line.text)):
        if integer(found[1]) != counts.get(found[2], integer(found[1])):
            claim = Claim("the counts of chapters", line.text, line.place)
            yield Disagreement(FIGURE, claim, quoted(f"{counts[found[2]]} {found[2]}"))


def _lanes(pieces: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    """Compare what stands above the timeline and in its labels: even steps, counts, each chapter's time and title."""
    facts = expected.facts
    edit = facts.edit.pieces if facts.edit else ()
    film = facts.film
    counted = [("pieces", len(edit)), ("runs", _runs(facts.cues))]
    if film:
        counted += [("cuts", len(film.shots)), ("dissolves", len(film.dissolves)), ("stretches", len(film.black))]
    for piece in pieces:
        if piece.role is Role.LABEL:
            yield from _label(piece, expected, dict(counted))
        elif re.fullmatch(r"[\d: ]+:[\d: ]+", piece.text):
            times = [clock_seconds(one) for one in _CLOCK_RUN.findall(piece.text)]
            steps = {later - earlier for earlier, later in pairwise(times)}
            again = "".join(clock_words(floor(one)) for one in times)
            if times[0] or len(steps) > 1 or again != piece.text.replace(" ", ""):
                yield Disagreement(TIME, Claim("the times above the timeline", piece.text, piece.place), "even steps")
    numbered = [piece for piece in pieces if re.fullmatch(r"\d+", piece.text)]
    for at, piece in enumerate(numbered, 1):
        if integer(piece.text) != at and at <= len(expected.chapters):
            yield Disagreement(FIGURE, Claim("the chapters' numbers", piece.text, piece.place), quoted(str(at)))
            return


def _label(piece: Piece, expected: Expected, counts: dict[str, int]) -> Iterator[Disagreement]:
    text = normal(piece.text)
    for found in re.finditer(r"(\d+) (cuts|dissolves|stretches|pieces|runs)\b", text):
        if counts.get(found[2], 0) != integer(found[1]):
            claim = Claim("a label of the timeline", piece.text, piece.place)
            yield Disagreement(FIGURE, claim, quoted(f"{counts.get(found[2], 0)} {found[2]}"))
    chapters = {normal(chapter.title): (number, chapter) for number, chapter in enumerate(expected.chapters, 1)}
    title = re.fullmatch(r"(?:(\d+) )?(?:(\d+(?::\d+)+(?:\.\d+)?) )?(.*?)(?:, (\d+(?::\d+)+(?:\.\d+)?), .*)?", text)
    if title is None or not (title[1] or title[2]):
        return
    number, chapter = chapters.get(title[3], (0, None))
    clock = title[2] or title[4]
    if (
        chapter is None
        or (title[1] and integer(title[1]) != number)
        or not (clock and _is_at(_seconds(clock), chapter.start))
    ):
        claim = Claim("a chapter on the timeline", piece.text, piece.place)
        yield Disagreement(TIME, claim, quoted(f"{_shown(chapter.start)} {chapter.title}") if chapter else "a chapter")


def _stop(
    document: Document, pieces: range, number: int, chapter: ExpectedChapter, expected: Expected
) -> Iterator[Disagreement]:
    """Compare what stands under one chapter; `pieces` begin with its heading."""
    head = document.pieces[pieces[0]]
    above = document.pieces[pieces[0] - 1]
    if normal(head.text) != normal(chapter.title):
        yield Disagreement(
            NAME, Claim(f"the title of chapter {number}", head.text, head.place), quoted(chapter.title), chapter.source
        )
    if not above.text.isdecimal():
        claim = Claim(f"the number of {quoted(chapter.title)}", "", head.place)
        yield Disagreement(MISSING, claim, quoted(str(number)), lacks=lacking("numbers", of=chapter.title))
    elif above.text != str(number):
        yield Disagreement(FIGURE, Claim("the chapter's number", above.text, above.place), quoted(str(number)))
    known = _times_of(chapter, expected)
    cues = _said(document, pieces)
    for clock, words in cues:
        yield from _cue(clock, words, expected.facts.cues, chapter)
    told = {id(piece) for pair in cues for piece in pair}
    for at in pieces:
        piece = document.pieces[at]
        is_remark = piece.role is Role.ITEM  # what the checks found: no part of the facts
        if id(piece) not in told and not is_remark and at != pieces[0] and not _KEY.fullmatch(normal(piece.text)):
            wanted = [chapter.start] if _OF_START.fullmatch(normal(piece.text)) else known
            yield from _explained(piece, chapter, wanted, expected)
    for datum in document.data:
        if datum.name.startswith("data-") and datum.piece in range(pieces[0] - 1, pieces[-1] + 1):
            wanted = [chapter.start] if datum.name == "data-at" else known
            if not re.fullmatch(r"\d+\.\d{3}", datum.value) or not any(
                _is_at(decimal(datum.value), one) for one in wanted
            ):
                claim = Claim(f"{datum.name} of {quoted(chapter.title)}", datum.value, datum.place)
                yield Disagreement(TIME, claim, quoted(_shown(chapter.start)), chapter.source)
    clock = document.pieces[pieces[0] + 1] if len(pieces) > 1 else head
    if not _CLOCK.search(clock.text):
        claim = Claim(f"the time of {quoted(chapter.title)}", "", head.place)
        lacks = lacking("start times", of=chapter.title)
        yield Disagreement(MISSING, claim, quoted(_shown(chapter.start)), chapter.source, lacks)
    elif not (_CLOCK.fullmatch(clock.text) and _is_at(_seconds(clock.text), chapter.start)):
        claim = Claim(f"the time of {quoted(chapter.title)}", clock.text, clock.place)
        yield Disagreement(TIME, claim, quoted(_shown(chapter.start)), chapter.source)


def _said(document: Document, pieces: range) -> list[tuple[Piece, Piece]]:
    """Return the cues of a chapter: a piece that is a clock alone, and the words behind it."""
    found = []
    for at in pieces[2:-1]:
        clock, words = document.pieces[at], document.pieces[at + 1]
        if _CLOCK.fullmatch(clock.text) and not _LABEL.fullmatch(clock.text) and not re.match(r"[\d×]", words.text):
            found.append((clock, words))
    return found


def _cue(clock: Piece, words: Piece, cues: Sequence[Cue], chapter: ExpectedChapter) -> Iterator[Disagreement]:
    at = _seconds(clock.text)
    near = [cue for cue in cues if _is_at(at, cue.start)]
    if not near:
        same = next((cue for cue in cues if normal(cue.text) == normal(words.text)), None)
        shown = quoted(_shown(same.start)) if same else "the start of a subtitle"
        claim = Claim(f"a subtitle near {quoted(chapter.title)}", clock.text, clock.place)
        yield Disagreement(TIME, claim, shown, same.span if same else None)
    elif not any(normal(cue.text) == normal(words.text) for cue in near):
        claim = Claim(f"a subtitle near {quoted(chapter.title)}", words.text, words.place)
        yield Disagreement(NAME, claim, quoted(near[0].text), near[0].span)


def _explained(
    piece: Piece, chapter: ExpectedChapter, known: Sequence[Fraction], expected: Expected
) -> Iterator[Disagreement]:
    """Yield times and distances in a piece that nothing in the cut explains."""
    film = expected.facts.film
    for label in _LABEL.findall(piece.text):
        if film and not _is_label_of(label, chapter.start, film):
            claim = Claim(f"the timecode of {quoted(chapter.title)}", label, piece.place)
            yield Disagreement(TIME, claim, "the film's own label of that frame", chapter.source)
    others = []
    for clock in _CLOCK.findall(_LABEL.sub("", piece.text)):
        near = [one for one in known if _is_at(_seconds(clock), one)]
        others += [one for one in near if one != chapter.start]
        if not near:
            claim = Claim(f"a time under {quoted(chapter.title)}", piece.text, piece.place)
            yield Disagreement(TIME, claim, "the time of a shot change, a subtitle or the chapter", chapter.source)
    for found in _GAP.finditer(normal(piece.text)):
        gaps = [abs(one - chapter.start) for one in others]
        is_near = any(abs(Fraction(found[1]) - gap) <= Fraction(1, 200) for gap in gaps)
        frames = found[2] and film and film.rate
        if not is_near or (frames and not any(round(gap * frames) == integer(found[2]) for gap in gaps)):
            claim = Claim(f"a distance under {quoted(chapter.title)}", piece.text, piece.place)
            yield Disagreement(FIGURE, claim, "how far the two times are apart", chapter.source)


def _times_of(chapter: ExpectedChapter, expected: Expected) -> list[Fraction]:
    """Return the times that may stand under a chapter: its start, shot changes, ends of black, subtitles."""
    film = expected.facts.film
    times: list[Fraction] = [chapter.start, *(cue.start for cue in expected.facts.cues)]
    if film:
        times += [Fraction(0), *film.shots, *film.dissolves, *(part.high for part in film.black)]
    return times


def _is_label_of(label: str, time: Fraction, film: Film) -> bool:
    if film.start_timecode is None or film.rate is None:
        return False
    known = next((rate for rate in RATES.values() if rate.exact == film.rate), None)
    if known is None:
        return False
    rate = known.counted(drop=";" in film.start_timecode)
    start, found = read_timecode(film.start_timecode, rate), read_timecode(label, rate)
    if isinstance(start, str) or isinstance(found, str):
        return False
    return found == (start + floor(time * film.rate)) % rate.day


def _runs(cues: Iterable[Cue]) -> int:
    runs, end = 0, Fraction(-_RUN) - 1
    for cue in sorted(cues, key=lambda cue: cue.start):
        runs += cue.start - end > _RUN
        end = max(end, cue.end)
    return runs


def _seconds(clock: str) -> Fraction:
    """Return the seconds of a time as the page writes it, -1 where it is none."""
    return clock_seconds(clock) if _TIME.fullmatch(clock) else Fraction(-1)


def _is_at(said: Fraction, time: Fraction) -> bool:
    """Tell whether a time is shown as the page shows it: rounded up to milliseconds."""
    return 0 <= said - time < _MILLISECOND


def _shown(time: Fraction) -> str:
    rest = -(-time.numerator * 1000 // time.denominator) % 1000
    whole = -(-time.numerator * 1000 // time.denominator) // 1000
    return clock_words(whole) + (f".{rest:03}" if rest else "")
