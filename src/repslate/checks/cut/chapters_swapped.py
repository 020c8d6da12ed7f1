"""Chapters name the exercises in the order of the plan.

Why: whoever goes to the third exercise lands in the second; as a rule two lines of the list were changed by mistake.
Source: common practice, no source. A workout that is filmed in another order than it is written is one that the
    viewer cannot follow on paper.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Push-up
    3 × 10, rest 90 s
    ### Plank
    3 × 30 s, rest 60 s
    chapters.txt:
    0:00 Welcome
    1:00 Goblet squat
    5:00 Plank
    9:00 Push-up
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Push-up
    3 × 10, rest 90 s
    ### Plank
    3 × 30 s, rest 60 s
    chapters.txt:
    0:00 Welcome
    1:00 Goblet squat
    5:00 Push-up
    9:00 Plank
Fix: change the two chapters, or the order of the exercises in the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called
from repslate.cut.chapters import Chapter
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the first chapter of an exercise that comes after one of a later exercise."""
    exercises = {exercise.id: (at, exercise) for at, (_, exercise) in enumerate(facts.episode.exercises())}
    seen: set[str] = set()
    latest, before = -1, ""
    for chapter in sorted(facts.chapters, key=_start):
        if chapter.exercise is None or chapter.exercise not in exercises or chapter.exercise in seen:
            continue
        seen.add(chapter.exercise)
        at, exercise = exercises[chapter.exercise]
        if at < latest:
            yield Finding(
                "chapters-swapped",
                SEVERITY,
                chapter.span,
                f"the chapter of {called(exercise)} starts after that of {before}, expected the order of the plan",
                "change the two chapters, or the order of the exercises in the plan",
            )
        else:
            latest, before = at, called(exercise)


def _start(chapter: Chapter) -> Fraction:
    return chapter.start
