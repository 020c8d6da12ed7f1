"""Chapter markers matched to what they show: which exercise or block begins at which second of the cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from repslate.cut.markers import Marker
from repslate.cut.titles import Target, is_common, named, near, targets
from repslate.model import library
from repslate.model.clock import write_clock
from repslate.model.episode import Episode
from repslate.source.bounds import CHAPTERS, too_much
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Chapter:
    """A named stretch of the cut; `start` in exact seconds.

    `exercise` is the id of the exercise it shows, `block` the index of the block it announces; both None for a chapter
    such as "Welcome". `may_show` are the ids that the finding on a title that names nothing proposes.
    """

    start: Fraction
    title: str
    span: Span
    exercise: str | None = None
    block: int | None = None
    may_show: frozenset[str] = frozenset()


def match(markers: Sequence[Marker], episode: Episode) -> tuple[tuple[Chapter, ...], tuple[Finding, ...]]:
    """Return a chapter for every marker, in the order of the file, and what could not be matched.

    A marker belongs to an exercise by its "{id}", else by its title. Where several bear the title they are given in
    order, beginning with the block that the marker before belongs to; when all are given, the last one again, for
    films show an exercise more than once.
    """
    among = targets(episode)
    markers, over = _within_bounds(markers)
    given: list[Target] = []
    chapters: list[Chapter] = []
    findings: list[Finding] = []
    for marker in markers:
        if marker.id is not None:
            found = tuple(target for target in among if target.exercise == marker.id)
        else:
            found = named(marker.title, among)
        target = _next(found, given) if found else None
        perhaps: tuple[Target, ...] = ()
        if target:
            given.append(target)
        elif marker.id is not None:
            findings.append(_id_unknown(marker, episode))
        elif not is_common(marker.title):
            perhaps = near(marker.title, among)
            findings.append(_unmatched(marker, perhaps, episode))
        block = target.block if target and target.exercise is None else None
        shows = target.exercise if target else None
        may_show = frozenset(one.exercise for one in perhaps[:3] if one.exercise)
        chapters.append(Chapter(marker.time, marker.title, marker.span, shows, block, may_show))
    return tuple(chapters), (*over, *findings, *_same_second(chapters))


def _within_bounds(markers: Sequence[Marker]) -> tuple[Sequence[Marker], tuple[Finding, ...]]:
    """Return the markers that are few enough to be matched, and what is to be said of the others."""
    if len(markers) <= CHAPTERS:
        return markers, ()
    help_ = "delete those that begin no exercise; what follows is not read"
    return markers[:CHAPTERS], (too_much(markers[CHAPTERS].span, "chapters", len(markers), CHAPTERS, help_),)


def ends(chapters: Sequence[Chapter], length: Fraction | None) -> tuple[Fraction | None, ...]:
    """Return where each chapter ends, in seconds: the next later start of any, for the last the film's `length`.

    None where that is unknown. The chapters may stand in any order; a `length` before the last start is returned as it
    is, for the checks to find.
    """
    starts = sorted({chapter.start for chapter in chapters})
    following: dict[Fraction, Fraction | None] = dict(zip(starts, [*starts[1:], length], strict=False))
    return tuple(following[chapter.start] for chapter in chapters)


def _next(found: Sequence[Target], given: Sequence[Target]) -> Target:
    free = [target for target in found if target not in given]
    ahead = [target for target in free if not given or target.block >= given[-1].block]
    if ahead or free:
        return (ahead or free)[0]
    return next(target for target in reversed(given) if target in found)


def _id_unknown(marker: Marker, episode: Episode) -> Finding:
    """Say that an id is nobody's, with the nearest that there is."""
    ids = [exercise.id for _, exercise in episode.exercises()]
    near_id = nearest(str(marker.id), ids)
    message = f"found “{{{marker.id}}}”, expected the id of an exercise of this episode"
    help_ = f"did you mean {{{near_id}}}" if near_id else f"write one of {_listed(f'{{{id_}}}' for id_ in ids)}"
    return Finding("chapter-id-unknown", Severity.ERROR, marker.span, message, help_)


def _unmatched(marker: Marker, near: Sequence[Target], episode: Episode) -> Finding:
    """Say that a title names nothing: a warning where it may mean an exercise, of the episode or of the library."""
    known = library.load().find(marker.title)
    meant = ""
    if known and known.how in ("", "plural"):  # its very name, so that it would be named twice
        meant = ", an exercise that this episode does not hold"
    elif known:
        meant = f", which the library knows as “{known.entry.name}”"
    message = f"found “{marker.title}”{meant}, expected the name of an exercise or block of this episode"
    if near:
        first, *others = near[:3]
        more = f" (near too: {_listed(other.name for other in others)})" if others else ""
        help_ = f"if it shows {first.name}, end the title with its id: “{marker.title} {{{first.exercise}}}”{more}"
    elif example := next(episode.exercises(), None):
        help_ = f"if it shows an exercise, end the title with its id, such as {{{example[1].id}}}; else it may stay"
    else:
        help_ = "if it shows an exercise, add the exercise to the workout"
    severity = Severity.WARNING if near or known else Severity.NOTE
    return Finding("chapter-unmatched", severity, marker.span, message, help_)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(names)) or "its exercises, once there are any"


def _same_second(chapters: Sequence[Chapter]) -> Iterator[Finding]:
    """Yield a finding for every chapter that begins in the same whole second as one above it."""
    first: dict[int, Chapter] = {}
    for chapter in chapters:
        other = first.setdefault(floor(chapter.start), chapter)
        if other is not chapter:
            clock = write_clock(chapter.start)
            message = f"found “{chapter.title}” and “{other.title}” both at {clock}, expected one chapter in a second"
            help_ = "move one of the two, or delete it"
            because = "chapter lists count in whole seconds, rounded down (common practice on video hosts, no standard)"
            yield Finding("chapters-same-second", Severity.ERROR, chapter.span, message, help_, because)
