"""Every exercise has a chapter that starts where it is shown.

Why: the article and the card lead from each exercise to its moment in the film.
Source: common practice, no source. In a warm-up, a cool-down and a block with a clock, which are filmed in one go, a
    chapter for the whole block is enough; elsewhere each exercise is shown and explained by itself.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Push-up
    3 × 10, rest 60 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    9:40 Goodbye
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Push-up
    3 × 10, rest 60 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    5:20 Push-up
    9:40 Goodbye
Fix: add a line with the exercise's name to chapters.txt; if the line's title is another, end it with
    {the-exercise-id}.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises that no chapter shows, or may show by what the reader says of its title, where there are any."""
    if not facts.chapters:
        return
    shown = {chapter.exercise for chapter in facts.chapters}.union(*(one.may_show for one in facts.chapters))
    announced = {chapter.block for chapter in facts.chapters}
    for index, block in enumerate(facts.episode.blocks):
        if index in announced and (block.form.stands or block.form.on_the_clock):
            continue
        for exercise in block.exercises:
            if exercise.id not in shown:
                yield Finding(
                    "exercise-without-chapter",
                    SEVERITY,
                    exercise.span,
                    f"{called(exercise)} has no chapter, expected one where it is shown",
                    f"add a line to chapters.txt: the time, then {exercise.name} {{{exercise.id}}}",
                )
