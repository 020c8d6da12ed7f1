"""What stands at the head of a file and at its foot: title, presenter, lengths, counts, equipment, dates."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from math import floor

from repslate.model.episode import Words
from repslate.model.quantity import Range, write_range
from repslate.proof.chapter_files import listed
from repslate.proof.differences import FIGURE, MISSING, NAME, TIME, Claim, Disagreement, lacking, quoted
from repslate.proof.expected import Expected, minutes
from repslate.proof.markdown import plain
from repslate.proof.reading import Document, Piece, Place, Role
from repslate.proof.wording import behind, content, figures, integer, is_unparted, key, likeness, named, normal, shared
from repslate.source.span import Span

_MINUTES = re.compile(r"\b(\d+)(?:\s*(?:-|to)\s*(\d+))?\s*min(?:ute)?s?\b")
_COUNT = re.compile(r"\b(\d+)\s+exercises?\b")
_KIT = re.compile(r"\bequipment:")
_NUMBER = re.compile(r"\bepisode\s+(\d+)\b")
_MONTHS = "january february march april may june july august september october november december".split()
_DATE = re.compile(rf"\b(\d{{1,2}})\.?\s+({'|'.join(_MONTHS)})\s+(\d{{4}})\b")
_ISO = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")


def clock_words(seconds: int) -> str:
    """Return whole seconds as a clock: "1:10", from an hour on "1:01:10"."""
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"


def title_piece(document: Document, expected: Expected, until: int) -> int | None:
    """Return the index of the piece before `until` that is or begins with the title."""
    headed = [at for at, piece in document.visible() if piece.role is Role.HEADING and piece.level == 1]
    among = headed[:1] or [at for at, _ in document.visible() if at < until]
    return next((at for at in among if _is_title(document.pieces[at].text, expected.episode.title)), None)


def _is_title(text: str, title: str) -> bool:
    """Tell whether a text is the title, alone or beside the episode's number or the presenter."""
    if key(text) == key(title):
        return True
    rest = behind(title, text)
    said = text[: len(text) - len(rest)] if rest else ""
    if key(said) == key(title) and (rest or "").lstrip(" .").startswith(("·", "|")):
        return True
    parts = re.split(r"[·|]", text)  # a template's own order: "Episode 12 · Title", "Workout: Title"
    return key(title) in [*map(key, parts), key(parts[-1].rpartition(": ")[2])]


def compare_title(document: Document, expected: Expected, until: int) -> Iterator[Disagreement]:
    """Yield the title if it is another or not there."""
    if title_piece(document, expected, until) is not None:
        return
    head = [piece for at, piece in document.visible() if at < until]
    like = _likest(head, expected.episode.title)
    claim = Claim("the title", like.text if like else "", like.place if like else Place(document.name))
    check, lacks = (NAME, None) if like else (MISSING, lacking("title"))
    yield Disagreement(check, claim, quoted(expected.episode.title), expected.source("title"), lacks)


def compare_origin(document: Document, expected: Expected, until: int) -> Iterator[Disagreement]:
    """Yield the episode's number and its presenter where they differ or are not there."""
    head = [piece for at, piece in document.visible() if at < until]
    episode = expected.episode
    top = head[0].place if head else Place(document.name)
    if episode.number is not None:
        said = [(piece, found) for piece in head if (found := _NUMBER.search(normal(piece.text)))]
        if not any(integer(found[1]) == episode.number for _, found in said):
            claim = Claim("the number of the episode", said[0][1][0] if said else "", said[0][0].place if said else top)
            check, lacks = (FIGURE, None) if said else (MISSING, lacking("number"))
            yield Disagreement(check, claim, quoted(f"episode {episode.number}"), expected.source("episode"), lacks)
    if episode.presenter and not any(_holds(piece.text, episode.presenter) for piece in head):
        like = next((piece for piece in head if re.search(r"\bwith \w", piece.text) and len(piece.text) < 100), None)
        claim = Claim("the presenter", like.text if like else "", like.place if like else top)
        check, lacks = (NAME, None) if like else (MISSING, lacking("presenter"))
        yield Disagreement(check, claim, quoted(episode.presenter), expected.source("presenter"), lacks)


def compare_facts(document: Document, expected: Expected, until: int) -> Iterator[Disagreement]:
    """Yield what the line of facts says other than the episode: goal, level, duration, exercises, length."""
    title = title_piece(document, expected, until)
    head = [piece for at, piece in document.visible() if at < until and at != title]
    line = max(head, key=facts_in, default=None)
    if line is not None and facts_in(line) == 1:  # each in a line of its own
        line = replace(line, text=" · ".join(piece.text for piece in head if facts_in(piece)))
    if line is None or not facts_in(line):
        claim = Claim("the line of facts", "", Place(document.name))
        yield Disagreement(MISSING, claim, "duration and length", lacks=lacking("facts"))
        return
    facts = line.text[: found.start()] if (found := _KIT.search(line.text)) else line.text  # names may hold figures
    yield from _line(replace(line, text=facts), expected, with_film=True)
    yield from _kind(line, head, expected)


def _kind(line: Piece, head: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    """Yield goal and level where the line of facts has another one, or no line at the head has them."""
    for what, value in (("goal", expected.episode.goal), ("level", expected.episode.level)):
        if value is None or _says(line, value):
            continue
        other = any(_says(line, one) for one in type(value))
        if other or not any(_says(piece, value) for piece in head):
            check, lacks = (NAME, None) if other else (MISSING, lacking(what))
            claim = Claim(f"the {what}", line.text if other else "", line.place)
            yield Disagreement(check, claim, quoted(value), expected.source(what), lacks)


def _says(piece: Piece, word: str) -> bool:
    return re.search(rf"\b{word}\b", normal(piece.text)) is not None


def compare_summary(text: Piece, expected: Expected) -> Iterator[Disagreement]:
    """Yield what a description made of the title and the line of facts, where there is no summary, says otherwise."""
    if expected.episode.summary or not named(text.text).startswith(named(expected.episode.title)):
        return
    facts = replace(text, text=text.text[len(expected.episode.title) :])  # a title may hold figures of its own
    yield from _line(facts, expected, with_film=bool(_clocks(facts)))
    yield from _kind(facts, [facts], expected)


def compare_items(
    document: Document, what: str, items: Sequence[Words], until: int, source: Span
) -> Iterator[Disagreement]:
    """Yield what of a list such as the equipment is not at the head of a file."""
    head = [piece for at, piece in document.visible() if at < until and not listed(piece.text, piece.place)]
    if not items:
        return
    listed_ = " ".join(item.text for item in items)
    words = content(listed_)  # none where the names are signs or figures alone
    near = [piece for piece in head if 2 * shared(content(piece.text), words) > words.total()]
    near = near or [piece for piece in head if all(_has(piece.text, item.text) for item in items)]
    like = max(near, key=lambda piece: likeness(piece.text, listed_), default=None)
    absent = [item.text for item in items if like is None or not _has(like.text, item.text)]
    if absent:
        claim = Claim(f"the {what}", like.text if like else "", like.place if like else Place(document.name))
        check, lacks = (FIGURE, None) if like else (MISSING, lacking(what))
        yield Disagreement(check, claim, " and ".join(map(quoted, absent)), source, lacks)


def compare_date(
    document: Document, what: str, day: date | None, pieces: Sequence[Piece], source: Span
) -> Iterator[Disagreement]:
    """Yield a date that differs or is not there; it may be written 4 May 2026 or 2026-05-04."""
    if day is None:
        return
    said = [(piece, found) for piece in pieces for found in _dates(piece.text)]
    if any(found == (day.year, day.month, day.day) for _, found in said):
        return
    shown = f"{day.day} {_MONTHS[day.month - 1].capitalize()} {day.year}"
    piece = said[0][0] if said else None
    claim = Claim(f"the date {what}", piece.text if piece else "", piece.place if piece else Place(document.name))
    check, lacks = (TIME, None) if piece else (MISSING, lacking(f"date {what}"))
    yield Disagreement(check, claim, quoted(shown), source, lacks)


def _dates(text: str) -> Iterator[tuple[int, int, int]]:
    for found in _DATE.finditer(normal(text)):
        yield integer(found[3]), _MONTHS.index(found[2]) + 1, integer(found[1])
    for found in _ISO.finditer(text):
        yield integer(found[1]), integer(found[2]), integer(found[3])


def _line(line: Piece, expected: Expected, *, with_film: bool) -> Iterator[Disagreement]:
    text = normal(line.text)
    episode = expected.episode
    total = expected.numbers.time.total
    if total.high:
        said = [Range(integer(one[1]), integer(one[2] or one[1])) for one in _MINUTES.finditer(text)]
        shown = write_range(minutes(total), "min")
        yield from _unlike("the duration", said == [minutes(total)], bool(said), line, (shown, episode.span))
    count = len({exercise.name.casefold() for _, exercise in episode.exercises()})
    counted = [integer(one[1]) for one in _COUNT.finditer(text)]
    shown = f"{count} exercises"
    yield from _unlike("the number of exercises", counted == [count], bool(counted), line, (shown, episode.span))
    if with_film and episode.length is not None:
        clocks = _clocks(line)
        seconds = floor(episode.length)
        wanted = clock_words(seconds), expected.source("length")
        yield from _unlike("the length of the film", clocks == [seconds], bool(clocks), line, wanted)


def _clocks(piece: Piece) -> list[int]:
    return [floor(figure.value) for figure in figures(piece.text) if figure.unit == "clock"]


def _unlike(what: str, same: bool, said: bool, line: Piece, wanted: tuple[str, Span]) -> Iterator[Disagreement]:
    """Yield a figure of the line of facts that is not the one that is wanted, or is not there."""
    if not same:
        words, source = wanted
        claim = Claim(what, line.text if said else "", line.place)
        check, lacks = (FIGURE, None) if said else (MISSING, lacking(what))
        yield Disagreement(check, claim, quoted(words), source, lacks)


def facts_in(piece: Piece) -> int:
    """Return how many of duration, number of exercises and length a piece names: over one in the line of facts."""
    text = normal(piece.text)
    return sum(
        (
            bool(_MINUTES.search(text)),
            bool(_COUNT.search(text)),
            any(figure.unit == "clock" for figure in figures(text)),
        )
    )


def _has(text: str, item: str) -> bool:
    """Tell whether a text has an item of a list, as it is written or as an editor shows it."""
    broken = is_unparted(item) and key(item) in key(text)
    return broken or _holds(text, item) or (bool(plain(item)) and _holds(text, plain(item)))


def _holds(text: str, words: str) -> bool:
    return re.search(rf"(?<!\w){re.escape(named(words))}(?!\w)", named(text)) is not None


def _likest(pieces: Sequence[Piece], text: str) -> Piece | None:
    """Return the piece that shares most words with a text, None where none shares any."""
    words = content(text)
    best = max(pieces, key=lambda piece: shared(content(piece.text), words), default=None)
    return best if best is not None and shared(content(best.text), words) else None
