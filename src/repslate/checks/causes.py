"""Says one slip once: where a reader has found the cause, findings of checks that only follow from it are left out."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection
from dataclasses import dataclass, replace
from enum import Enum

from repslate.checks.quiet import covers
from repslate.model.episode import Episode, Quiet
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

_WORST_FIRST = (Severity.ERROR, Severity.WARNING, Severity.NOTE)


class Reach(Enum):
    """How far from its own line a cause reaches."""

    BELOW = "what stands below it in its file"
    EXERCISE = "the part under the exercise's heading"
    BLOCK = "the part under the block's heading"
    EPISODE = "everything"


@dataclass(frozen=True, slots=True)
class Cause:
    """What follows from one kind of reader's finding: the names of checks, and how far away."""

    reach: Reach
    checks: frozenset[str]


_CHAPTERS = frozenset({"chapters-few", "exercise-without-chapter"})
_HOW_OFTEN = frozenset({"sets-missing", "rest-missing", "rest-unusual"})
_LOST_MARKERS = (Cause(Reach.EPISODE, _CHAPTERS),)
_SETTINGS = frozenset({"audience-missing", "presenter-missing"})
_NOTHING_YET = _CHAPTERS | _SETTINGS | {"markers-missing", "no-safety-notice"}

CAUSES = {
    "encoding": _LOST_MARKERS,  # of workout.md there are no checks then, so these three speak of the markers
    "file-unreadable": _LOST_MARKERS,
    "file-too-large": _LOST_MARKERS,
    "marker-unreadable": (*_LOST_MARKERS, Cause(Reach.BELOW, frozenset({"chapters-start"}))),
    "markers-twice": _LOST_MARKERS,
    "edit-missing": _LOST_MARKERS,
    "chapter-id-unknown": (Cause(Reach.EPISODE, frozenset({"exercise-without-chapter"})),),
    "front-matter-missing": (Cause(Reach.EPISODE, _SETTINGS),),
    "no-exercises": (Cause(Reach.EPISODE, _NOTHING_YET),),
    "block-kind-unknown": (Cause(Reach.BLOCK, frozenset({"rest-unusual"})),),
    "prescription-elsewhere": (Cause(Reach.EXERCISE, _HOW_OFTEN | {"work-missing"}),),
}


def without_consequences(
    read: Collection[Finding], found: Collection[Finding], episode: Episode
) -> tuple[list[Finding], list[Finding]]:
    """Return the readers' findings and the checks' that stay.

    A cause becomes as severe as the worst that it stands for, so that leaving out an error never lets a build through.
    One that the trainer has quieted explains nothing.
    """
    kept = list(found)
    causes: list[Finding] = []
    for cause in read:
        follows = [one for one in kept if _explains(cause, one, episode)]
        kept = [one for one in kept if one not in follows]
        worst = min((cause.severity, *(one.severity for one in follows)), key=_WORST_FIRST.index)
        causes.append(cause if worst is cause.severity else replace(cause, severity=worst))
    return causes, kept


def _explains(cause: Finding, one: Finding, episode: Episode) -> bool:
    reaches = [known.reach for known in CAUSES.get(cause.check, ()) if one.check in known.checks]
    if not reaches or _is_quieted(cause, episode.quiets):
        return False
    return any(_is_within(reach, cause.span, one.span, episode) for reach in reaches)


def _is_within(reach: Reach, cause: Span, place: Span, episode: Episode) -> bool:
    if reach is Reach.EPISODE:
        return not cause.file.endswith(".yaml")  # what series.yaml says is no part of the episode
    if cause.file != place.file:
        return False
    if reach is Reach.BELOW:
        return cause.line < place.line
    headings = [block.span.line for block in episode.blocks]
    if reach is Reach.EXERCISE:
        headings = sorted([*headings, *(exercise.span.line for _, exercise in episode.exercises())])
    return bisect_right(headings, cause.line) == bisect_right(headings, place.line)


def _is_quieted(cause: Finding, quiets: Collection[Quiet]) -> bool:
    return cause.severity is not Severity.ERROR and any(covers(quiet, cause) for quiet in quiets)
