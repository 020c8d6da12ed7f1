"""The view of the cut for its editor: where each chapter stands, in words, and places on the timeline in per cent.

Beside view.py, which words what viewers read; no template calculates or rounds.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from repslate.cut.chapter_fit import Naming, better_start, naming, nearest_shot
from repslate.cut.chapters import Chapter, ends
from repslate.cut.cue import Cue
from repslate.cut.folder import FILMS
from repslate.cut.named import Mention, mentions
from repslate.cut.timecode import RATES, read_timecode, write_timecode
from repslate.cut.video import Film
from repslate.cut.wording import exact_clock, frame_words, length_words, rate_words
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

BEFORE, AFTER = 6, 20  # seconds of speech shown around a chapter's start
_RULER = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600)  # seconds between the ruler's times
_MOST_TIMES = 8  # on the ruler
_ABOUT_THE_CUT = {"film-length-differs", "frame-rate-differs", "exercise-without-chapter", "markers-missing"}
_WORST_FIRST = (Severity.ERROR, Severity.WARNING, Severity.NOTE)
_VERDICTS = {Severity.ERROR: ("wrong", "Wrong"), Severity.WARNING: ("look", "Look at it")}


@dataclass(frozen=True, slots=True)
class Spot:
    """A stretch of the timeline: where it begins and how long it is, in per cent of the cut; `words` say what it is."""

    left: str
    width: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Moment:
    """A time of the cut: `clock` for people, `at` in decimal seconds for the player, `time` exact."""

    clock: str
    at: str
    time: Fraction


@dataclass(frozen=True, slots=True)
class Said:
    """A cue near a chapter's start; `first` is the first after it, `named` tells whether it names the exercise."""

    moment: Moment
    words: str
    first: bool
    named: bool


@dataclass(frozen=True, slots=True)
class Remark:
    """A finding in three parts: error, warning or note, what was found, how to fix it."""

    severity: str
    message: str
    help: str


@dataclass(frozen=True, slots=True)
class Stop:
    """One chapter where it stands in the cut.

    `tone` is good, look, wrong or open. `before` is one frame before the start, None at the film's first. `timecode`
    is "" where the film has none; `proposal` None where nothing better is known.
    """

    number: int
    id: str
    title: str
    start: Moment
    before: Moment | None
    timecode: str
    tone: str
    verdict: str
    distance: str
    naming: str
    proposal: Moment | None
    said: tuple[Said, ...]
    remarks: tuple[Remark, ...]
    spot: Spot


@dataclass(frozen=True, slots=True)
class CutWords:
    """The cut in words. `film` is the film's name in the episode's folder, "" without one."""

    film: str
    facts: tuple[str, ...]
    summary: tuple[str, ...]
    stops: tuple[Stop, ...]
    remarks: tuple[Remark, ...]
    times: tuple[Spot, ...]
    shots: tuple[Spot, ...]
    dissolves: tuple[Spot, ...]
    black: tuple[Spot, ...]
    looked_at: tuple[Spot, ...]
    pieces: tuple[Spot, ...]
    speech: tuple[Spot, ...]


def word(facts: Facts, findings: Collection[Finding]) -> CutWords | None:
    """Put the cut into words; None where neither film nor subtitles nor edit lies in the folder."""
    film, edit = facts.film, facts.edit
    if film is None and edit is None and not facts.cues:
        return None
    scale = _Scale(_length(facts))
    said = mentions(facts.cues, facts.episode)
    stops = tuple(_stops(facts, findings, said, scale))
    on_chapters = {chapter.span for chapter in facts.chapters}
    general = (one for one in findings if one.span not in on_chapters and _is_about_the_cut(one))
    return CutWords(
        film=next((name for name in FILMS if name in facts.files), "") if film else "",
        facts=tuple(_facts(facts)),
        summary=tuple(_summary(stops)),
        stops=stops,
        remarks=tuple(map(_remark, sorted(general, key=lambda one: _WORST_FIRST.index(one.severity)))),
        times=tuple(scale.spot(time, time, exact_clock(time)) for time in scale.times()),
        shots=tuple(scale.spot(shot, shot) for shot in film.shots) if film else (),
        dissolves=tuple(scale.spot(middle, middle) for middle in film.dissolves) if film else (),
        black=tuple(scale.spot(part.low, part.high) for part in film.black) if film else (),
        looked_at=tuple(scale.spot(part.low, part.high) for part in film.looked_at) if film else (),
        pieces=tuple(scale.spot(piece.cut_start, piece.cut_end) for piece in edit.pieces) if edit else (),
        speech=tuple(scale.spot(low, high) for low, high in _speech(facts.cues)),
    )


@dataclass(frozen=True, slots=True)
class _Scale:
    """Seconds of a cut of this length to per cent."""

    length: Fraction

    def spot(self, low: Fraction, high: Fraction, words: str = "") -> Spot:
        return Spot(self._share(low), self._share(high - low), words)

    def times(self) -> Iterator[Fraction]:
        step = next((one for one in _RULER if self.length / one <= _MOST_TIMES), ceil(self.length / _MOST_TIMES))
        return (Fraction(at) for at in range(0, ceil(self.length), step))

    def _share(self, time: Fraction) -> str:
        share = round(100_000 * min(max(time, Fraction(0)), self.length) / self.length)
        return f"{share // 1000}.{share % 1000:03}"


def _length(facts: Facts) -> Fraction:
    """Return how long the timeline is: the film's length, and more where something lies beyond it."""
    known = facts.film.duration if facts.film else facts.episode.length
    edit = [piece.cut_end for piece in facts.edit.pieces] if facts.edit else []
    starts = [chapter.start for chapter in facts.chapters]
    end = max([known or Fraction(0), Fraction(1), *edit, *(cue.end for cue in facts.cues)])
    last = max(starts, default=Fraction(0))
    return end if last < end else last * Fraction(26, 25)  # so that a chapter past the end can be seen


def _facts(facts: Facts) -> Iterator[str]:
    film = facts.film
    if film is None:
        if facts.episode.length is not None:
            yield f"{exact_clock(facts.episode.length)} long by the front matter"
        return
    yield f"{exact_clock(film.duration)} long"
    yield f"{rate_words(film.rate)} frames a second" if film.rate else "a frame rate that varies"
    yield f"{film.width} × {film.height}"
    if film.start_timecode:
        yield f"starts at {film.start_timecode}"


def _summary(stops: Sequence[Stop]) -> Iterator[str]:
    yield f"{len(stops)} chapter{'' if len(stops) == 1 else 's'}"
    for tone, words in (("wrong", "wrong"), ("look", "to look at"), ("good", "in place"), ("open", "left open")):
        count = sum(stop.tone == tone for stop in stops)
        if count:
            yield f"{count} {words}"


def _stops(facts: Facts, findings: Collection[Finding], said: Sequence[Mention], scale: _Scale) -> Iterator[Stop]:
    film, tolerance = facts.film, facts.episode.series.host.chapters.tolerance
    stops = ends(facts.chapters, scale.length)
    for number, (chapter, end) in enumerate(zip(facts.chapters, stops, strict=True), 1):
        own = sorted((f for f in findings if f.span == chapter.span), key=lambda f: _WORST_FIRST.index(f.severity))
        named = naming(chapter.exercise, chapter.start, said) if chapter.exercise and facts.cues else None
        shot = nearest_shot(film, chapter.start) if film else None
        better = better_start(film, chapter.start, named, tolerance)
        near = shot is not None and abs(shot - chapter.start) <= tolerance
        tone, verdict = _verdict(own, near=near, named=named)
        yield Stop(
            number=number,
            id=f"chapter_{number}",
            title=chapter.title,
            start=_moment(chapter.start),
            before=_moment(chapter.start - _frame(film)) if chapter.start >= _frame(film) else None,
            timecode=_timecode(film, chapter.start),
            tone=tone,
            verdict=verdict,
            distance=_distance(film, chapter, shot),
            naming=_naming(named, chapter.start) if facts.cues else "",
            proposal=_moment(better) if better is not None else None,
            said=tuple(_said(facts.cues, chapter, said)),
            remarks=tuple(map(_remark, own)),
            spot=scale.spot(chapter.start, end if end is not None and end > chapter.start else chapter.start),
        )


def _verdict(own: Sequence[Finding], *, near: bool, named: Naming | None) -> tuple[str, str]:
    """Return tone and words: what a finding says first, then what the picture shows, then what is said."""
    if own and own[0].severity in _VERDICTS:
        return _VERDICTS[own[0].severity]
    if near:
        return "good", "On the cut"
    if named and named.soon:
        return "good", "Named in time"
    return "open", "Left open"


def _distance(film: Film | None, chapter: Chapter, shot: Fraction | None) -> str:
    if film is None:
        return ""
    if chapter.start >= film.duration:
        return "past the end of the film"
    if shot is None:
        return "no shot change found in the seconds around it"
    if chapter.start == shot:
        return "at the film's first frame" if shot == 0 else "on a shot change, to the frame"
    gap = abs(chapter.start - shot)
    side = "after" if chapter.start > shot else "before"
    frames = f", {frame_words(gap, film.rate)}," if film.rate else ""
    return f"{length_words(gap)}{frames} {side} the shot change at {exact_clock(shot)}"


def _naming(named: Naming | None, start: Fraction) -> str:
    if named is None:
        return "shows no single exercise"
    if named.mention is None:
        return "named nowhere"
    gap = named.mention.cue.start - start
    if named.soon and gap <= 0:
        return "named as it starts"
    side = "later" if gap > 0 else "earlier"
    return f"named {length_words(abs(gap))} {side}, at {exact_clock(named.mention.cue.start)}"


def _said(cues: Sequence[Cue], chapter: Chapter, said: Sequence[Mention]) -> Iterator[Said]:
    naming_it = {id(mention.cue) for mention in said if mention.exercise == chapter.exercise}
    shown = [cue for cue in cues if chapter.start - BEFORE < cue.end and cue.start < chapter.start + AFTER]
    first = next((cue for cue in shown if cue.start >= chapter.start), None)
    for cue in shown:
        yield Said(_moment(cue.start), " ".join(cue.text.split()), cue is first, id(cue) in naming_it)


def _speech(cues: Iterable[Cue]) -> Iterator[tuple[Fraction, Fraction]]:
    """Yield the runs of speech: cues that follow within a second are one."""
    run: tuple[Fraction, Fraction] | None = None
    for cue in sorted(cues, key=lambda cue: cue.start):
        if run and cue.start - run[1] <= 1:
            run = run[0], max(run[1], cue.end)
        else:
            if run:
                yield run
            run = cue.start, cue.end
    if run:
        yield run


def _moment(time: Fraction) -> Moment:
    thousandths = ceil(time * 1000)
    return Moment(exact_clock(time), f"{thousandths // 1000}.{thousandths % 1000:03}", time)


def _frame(film: Film | None) -> Fraction:
    """Return how long a frame lasts, in a film of varying rate the longest that is usual (1/24 s)."""
    return 1 / film.rate if film and film.rate else Fraction(1, 24)


def _timecode(film: Film | None, time: Fraction) -> str:
    """Return the film's own label of the frame shown at `time`, "" where it has none that can be read."""
    if film is None or film.start_timecode is None or film.rate is None:
        return ""
    known = next((rate for rate in RATES.values() if rate.exact == film.rate), None)
    if known is None:
        return ""
    rate = known.counted(drop=";" in film.start_timecode)
    start = read_timecode(film.start_timecode, rate)
    return "" if isinstance(start, str) else write_timecode((start + int(time * film.rate)) % rate.day, rate)


def _is_about_the_cut(finding: Finding) -> bool:
    return finding.check in _ABOUT_THE_CUT or finding.span.file.partition(".")[0] in (
        "chapters", "subtitles", "cut", "markers",
    )  # fmt: skip


def _remark(finding: Finding) -> Remark:
    return Remark(finding.severity.value, finding.message, finding.help)
