"""An exercise that is written is spoken of in the film.

Why: who reads six exercises and hears five looks for the sixth; mostly it was cut out, or written for another film.
Source: common practice, no source. Where a chapter shows the exercise nothing is said here, nor where the subtitles
    speak of less than half of the workout: they are of another film then, or of one without talk.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Romanian deadlift
    3 × 10, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Romanian deadlift
    3 × 10, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten

    2
    00:04:50,000 --> 00:04:54,000
    then romanian deadlifts three by ten
Fix: take the exercise out of the page if the cut has lost it, or give it a chapter if it is shown without a word.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from repslate.checks.shared import called
from repslate.cut.named import mentions
from repslate.facts import Facts
from repslate.source.finding import About, Finding, Severity

if TYPE_CHECKING:
    from repslate.speech.heard import Heard

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises that no word, no figure and no chapter speaks of."""
    if facts.heard is None:
        return
    shown = {chapter.exercise for chapter in facts.chapters}
    ids = {mention.exercise for mention in mentions(facts.cues, facts.episode)} | set(_spoken(facts.heard))
    every = list(facts.episode.exercises())
    known = {exercise.movement for _, exercise in every if exercise.id in ids}
    unknown = [(block, one) for block, one in every if one.movement not in known and one.id not in shown]
    if 2 * len(unknown) > len(every):
        return
    for block, exercise in unknown:
        yield Finding(
            "exercise-never-spoken-of",
            SEVERITY,
            exercise.span,
            f"{called(exercise)} is written but never spoken of in the subtitles, expected its name or a figure of it",
            "take it out if the cut has lost it, or give it a chapter if it is shown without a word",
            about=About(exercise.name, block.name),
        )


def _spoken(heard: Heard) -> Iterator[str]:
    """Yield the ids of the exercises that were named or given a figure."""
    for topic in heard.topics:
        if topic.name and topic.part is not None and topic.subject is not None:
            yield heard.plan[topic.part].subjects[topic.subject].id
    yield from (figure.exercise.id for figure in heard.figures if figure.exercise is not None)
