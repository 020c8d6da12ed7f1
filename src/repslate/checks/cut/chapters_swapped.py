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

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Episode
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the chapter of an exercise or block that comes after one of a later part of the plan."""
    exercises = list(facts.episode.exercises())
    places = {exercise.id: at for at, (_, exercise) in enumerate(exercises)}
    seen: set[int] = set()
    latest, before = -1, ""
    for chapter in sorted(facts.chapters, key=lambda chapter: chapter.start):
        at = places.get(chapter.exercise or "", _first_of(facts.episode, chapter.block))
        if at is None or at in seen:
            continue
        seen.add(at)
        name = called(exercises[at][1])
        if at < latest:
            yield Finding(
                "chapters-swapped",
                SEVERITY,
                chapter.span,
                f"the chapter of {name} starts after that of {before}, expected the order of the plan",
                "change the two chapters, or the order of the exercises in the plan",
            )
        else:
            latest, before = at, name


def _first_of(episode: Episode, block: int | None) -> int | None:
    """Return the number of the first exercise of a block; None for no block, or one without exercises."""
    if block is None or block >= len(episode.blocks) or not episode.blocks[block].exercises:
        return None
    return sum(len(one.exercises) for one in episode.blocks[:block])
