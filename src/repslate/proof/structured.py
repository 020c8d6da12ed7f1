"""What only machines read in the article, its meta tags and its JSON-LD, held against the episode like the page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from math import floor
from typing import Any

from repslate.model.prescription import Prescription, write
from repslate.proof.differences import (
    FIGURE,
    LINK,
    MISSING,
    NAME,
    TIME,
    UNREADABLE,
    Claim,
    Disagreement,
    lacking,
    quoted,
)
from repslate.proof.doses import differences, read_dose
from repslate.proof.expected import Expected, ExpectedChapter, ExpectedExercise, Passage, moment
from repslate.proof.front_facts import compare_summary
from repslate.proof.markdown import plain
from repslate.proof.part_lines import part_differences, read_parts, split, written
from repslate.proof.prose import changed_figures
from repslate.proof.reading import Datum, Document, Piece, Place
from repslate.proof.sequences import align
from repslate.proof.wording import integer, named, normal
from repslate.source.span import Span

JSON_LD = "application/ld+json"
_ISO = re.compile(r"PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?")
_Pairs = Iterator[tuple[str, Any, Span]]


def compare_meta(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield meta tags and the canonical address that differ or are not there."""
    said: dict[str, Datum] = {}
    for one in document.data:
        said.setdefault(one.name, one)
    for name, value, source in _meta(expected):
        datum = said.get(name)
        if value in (None, "") or (datum is not None and _same(name, datum.value, value)):
            continue
        claim = Claim(f"“{name}” in the head of the page", datum.value if datum else "", _place(document, datum))
        check, lacks = (_check(name), None) if datum else (MISSING, lacking("head"))
        yield Disagreement(check, claim, quoted(str(value)), source, lacks)
    for name in ("description", "og:description"):
        if name in said:
            text = Piece(said[name].value, said[name].place)
            yield from changed_figures([text], expected.passages)
            yield from compare_summary(text, expected)


def _meta(expected: Expected) -> _Pairs:
    episode, series = expected.episode, expected.episode.series
    yield "title", episode.title, expected.source("title")
    yield "og:title", episode.title, expected.source("title")
    settings = series.span or episode.span
    yield "canonical", expected.address, settings
    yield "og:url", expected.address, settings
    yield "og:image", expected.picture_address, settings
    yield "og:site_name", series.brand, settings
    published = episode.published.isoformat() if episode.published else None
    yield "article:published_time", published, expected.source("published")


def _same(name: str, said: str, value: str) -> bool:
    if name == "title":
        return named(said).startswith(named(value))
    return named(said) == named(value) if _check(name) == NAME else said.rstrip("/") == value.rstrip("/")


def compare_json_ld(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield JSON-LD that cannot be read, and every value of it that is not the episode's."""
    scripts = [datum for datum in document.data if datum.name == JSON_LD]
    for script in scripts:
        try:
            read = json.loads(script.value)
        except (ValueError, RecursionError) as error:  # the latter: brackets by the thousand
            claim = Claim("the JSON-LD", str(error), script.place)
            yield Disagreement(UNREADABLE, claim, "JSON that can be read")
            continue
        article = _Values(script, read if isinstance(read, dict) else {})
        yield from _compare(article, "the article", _article(expected))
        yield from article.described("the article", expected.passages, expected.episode.summary or "")
        for one in (article, _Values(script, article.get("video") or {})):
            if isinstance(text := one.get("description"), str):
                yield from compare_summary(Piece(text, one.place(text)), expected)
        yield from _video(article, expected)
        yield from _plans(article, expected)
    if not scripts:
        claim = Claim("the JSON-LD", "", Place(document.name))
        yield Disagreement(MISSING, claim, "it in the head of the page", lacks=lacking("JSON-LD"))


class _Values:
    """An object of the JSON-LD and where its values stand."""

    def __init__(self, script: Datum, values: Mapping[str, Any], start: int = 0) -> None:
        self.script, self.values, self.start = script, values, start

    def get(self, path: str) -> Any:
        """Return the value at "publisher/name", None where there is none."""
        value: Any = self.values
        for key in path.split("/"):
            value = value.get(key) if isinstance(value, dict) else None
        return value

    def inner(self, path: str) -> tuple[_Values, ...]:
        """Return the objects of a list."""
        found = self.get(path)
        items = [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []
        return tuple(
            _Values(self.script, one, self._find(json.dumps(one.get("name", ""), ensure_ascii=False), self.start))
            for one in items
        )

    def place(self, value: Any) -> Place:
        """Return where a value stands, at least the line of the script."""
        line = self.script.value.count("\n", 0, self._find(json.dumps(value, ensure_ascii=False), self.start))
        return Place(self.script.place.file, self.script.place.line + line)

    def described(self, about: str, passages: tuple[Passage, ...], wanted: str = "") -> Iterator[Disagreement]:
        """Yield a description that is not what is `wanted`, else one whose figures are not those of the `passages`."""
        text = self.get("description")
        if wanted and normal(str(text or "")) != normal(wanted):
            claim = Claim(f"{about} in the JSON-LD", str(text or ""), self.place(text))
            yield Disagreement(NAME if text else MISSING, claim, quoted(wanted))
        elif isinstance(text, str):
            for one in changed_figures([Piece(text, self.place(text))], passages):
                yield Disagreement(
                    one.check, Claim(f"{about} in the JSON-LD", text, one.claim.place), one.expected, one.source
                )

    def _find(self, text: str, start: int) -> int:
        return max(0, self.script.value.find(text.replace("<", "\\u003c"), start))


def _compare(values: _Values, about: str, wanted: _Pairs) -> Iterator[Disagreement]:
    for path, value, source in wanted:
        said = values.get(path)
        if value in (None, "") or said == value or (isinstance(said, str) and _same(path, said, str(value))):
            continue
        where = values.place(said) if said is not None else values.script.place
        claim = Claim(f"{path} of {about} in the JSON-LD", str(said) if said is not None else "", where)
        yield Disagreement(_check(path) if said is not None else MISSING, claim, quoted(str(value)), source)


def _check(path: str) -> str:
    key = path.rpartition("/")[2].lower()
    if any(part in key for part in ("url", "image", "entity", "canonical")):
        return LINK
    if any(part in key for part in ("date", "time", "offset", "duration")):
        return TIME
    return NAME


def _article(expected: Expected) -> _Pairs:
    episode, series = expected.episode, expected.episode.series
    settings = series.span or episode.span
    yield "headline", episode.title, expected.source("title")
    yield "url", expected.address, settings
    yield "mainEntityOfPage", expected.address, settings
    yield "image", expected.picture_address, settings
    yield "datePublished", episode.published and episode.published.isoformat(), expected.source("published")
    yield "author/name", episode.presenter, expected.source("presenter")
    yield "publisher/name", series.brand, settings
    if series.brand:
        yield "publisher/url", series.site, settings
    if episode.video:
        yield "video/name", episode.title, expected.source("title")
        yield "video/url", episode.video, expected.source("video")
        yield "video/contentUrl", episode.video, expected.source("video")
        yield "video/thumbnailUrl", expected.picture_address, settings
        yield "video/isFamilyFriendly", True, expected.source("video")
        yield "video/uploadDate", episode.published and episode.published.isoformat(), expected.source("published")


def _video(article: _Values, expected: Expected) -> Iterator[Disagreement]:
    episode = expected.episode
    if not episode.video:
        return
    video = _Values(article.script, article.get("video") or {})
    yield from video.described("the film", expected.passages, episode.summary or "")
    if episode.length is not None:
        said = str(video.get("duration") or "")
        found = _ISO.fullmatch(said)
        seconds = (
            sum(integer(part or "") * size for part, size in zip(found.groups(), (3600, 60, 1), strict=True))
            if found
            else -1
        )
        if seconds != floor(episode.length):
            claim = Claim("the film's duration in the JSON-LD", said, video.place(said))
            source = expected.source("length")
            yield Disagreement(TIME if said else MISSING, claim, f"{floor(episode.length)} seconds", source)
    clips = video.inner("hasPart")
    yield from _paired(clips, [one.title for one in expected.chapters], "the clip", article)
    for clip, chapter in _matched(clips, [one.title for one in expected.chapters], expected.chapters):
        yield from _compare(clip, f"the clip {quoted(chapter.title)}", _clip(chapter, episode.video))


def _clip(chapter: ExpectedChapter, video: str) -> _Pairs:
    second = floor(chapter.start)
    yield "name", chapter.title, chapter.source
    yield "startOffset", second, chapter.source
    yield "endOffset", None if chapter.end is None else floor(chapter.end), chapter.source
    yield "url", moment(video, second), chapter.source


def _plans(article: _Values, expected: Expected) -> Iterator[Disagreement]:
    plans = article.inner("hasPart")
    names = [one.exercise.name for one in expected.exercises]
    yield from _paired(plans, names, "the exercise", article)
    for plan, one in _matched(plans, names, expected.exercises):
        yield from _compare(plan, one.called, _plan(one, expected))
        told = "\n".join(plain(prose.markdown) for prose in one.exercise.prose)
        yield from plan.described(one.called, one.passages, told)
        yield from _workload(plan, one)


def _plan(one: ExpectedExercise, expected: Expected) -> _Pairs:
    exercise = one.exercise
    yield "name", exercise.name, exercise.span
    yield "exerciseType", exercise.name, exercise.span
    yield "url", f"{expected.address}#{exercise.id}" if expected.address else None, exercise.span


def _workload(plan: _Values, one: ExpectedExercise) -> Iterator[Disagreement]:
    prescription = one.exercise.prescription
    said = str(plan.get("workload") or "")
    if not said and prescription == Prescription():
        return
    if one.exercise.parts:
        yield from _parted(one, said, plan.place(said))
        return
    dose = (read_dose(said, prescription.words) or read_dose(said)) if said else None
    source = one.exercise.prescription_span or one.exercise.span
    claim = Claim(f"the workload of {one.called} in the JSON-LD", said, plan.place(said))
    if dose is None:
        yield Disagreement(FIGURE if said else MISSING, claim, quoted(write(prescription)), source)
        return
    for each in differences(dose, prescription, full=True):
        yield Disagreement(FIGURE, claim, quoted(each.expected), source)


def _parted(one: ExpectedExercise, said: str, place: Place) -> Iterator[Disagreement]:
    parts = one.exercise.parts
    doses = read_parts(split(said, parts), parts)
    claim = Claim(f"the workload of {one.called} in the JSON-LD", said, place)
    if doses is None:
        yield Disagreement(FIGURE if said else MISSING, claim, quoted(written(one.exercise)), one.exercise.span)
        return
    for _, each in part_differences(doses, parts, full=True):
        yield Disagreement(FIGURE, claim, quoted(each.expected), one.exercise.span)


def _paired(found: tuple[_Values, ...], names: list[str], what: str, article: _Values) -> Iterator[Disagreement]:
    """Yield objects of a list that are missing, more, or in another order."""
    said = [str(one.get("name") or "") for one in found]
    aligned = align([named(name) for name in names], [named(name) for name in said])
    for at in aligned.missing:
        claim = Claim(f"{what} {quoted(names[at])} in the JSON-LD", "", article.script.place)
        yield Disagreement(MISSING, claim, "it in its place")
    for at, other in aligned.moved:
        claim = Claim(
            f"the place of {what} {quoted(names[at])} in the JSON-LD", said[other], found[other].place(said[other])
        )
        yield Disagreement(NAME, claim, f"it as number {at + 1}")
    for other in aligned.more:
        claim = Claim(f"{what} {quoted(said[other])} in the JSON-LD", said[other], found[other].place(said[other]))
        yield Disagreement(NAME, claim, "only what the episode has")


def _matched(found: tuple[_Values, ...], names: list[str], wanted: tuple[Any, ...]) -> Iterator[tuple[_Values, Any]]:
    said = [named(str(one.get("name") or "")) for one in found]
    aligned = align([named(name) for name in names], said)
    for at, other in sorted((*aligned.pairs, *aligned.renamed, *aligned.moved)):
        yield found[other], wanted[at]


def _place(document: Document, datum: Datum | None) -> Place:
    return datum.place if datum else Place(document.name)
