"""Very many repetitions of one exercise come with a word on pace.

Why: unaccustomed volume can break muscle down (exertional rhabdomyolysis), in trained people too where the movement is
    new to them; a word on doing fewer costs nothing.
Source: the danger: Rider et al. 2019, ACSM's Health & Fitness Journal 23(3):16–20. From 150 repetitions of one side:
    our policy. Beginners get the word earlier, see caution-missing; jumps are counted by contacts-many.
Wrong:
    ## Straight sets
    ### Push-up
    10 × 20, rest 60 s
Right:
    ## Straight sets
    ### Push-up
    10 × 20, rest 60 s

    Caution (pace): If you are new to this, do fewer and build up over weeks.
Fix: type the caution under the exercise or its block in your own words, or write fewer repetitions.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, prescribed, repetitions
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Level
from repslate.source.finding import Finding, Severity
from repslate.training.cautions import speaks_of

SEVERITY = Severity.WARNING
SAFETY = True

_MANY = 150  # of one side in a workout: our policy after Rider et al. 2019


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises with very many written repetitions and no caution on pace, at every level but the beginners'."""
    if facts.episode.level is Level.BEGINNER:
        return
    for block, exercise in prescribed(facts):
        said = exercise.prescription
        reps = repetitions(block, exercise).high / (2 if said.per_side else 1)
        if reps >= _MANY and not _is_jump(exercise) and not _is_told(block, exercise):
            yield Finding(
                "reps-many",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} comes to {int(reps)} reps, expected a caution on pace from {_MANY} on",
                "type under it: Caution (pace): If you are new to this, do fewer and build up over weeks.",
                "unaccustomed volume can break muscle down: Rider et al. 2019; the limit is our policy",
            )


def _is_jump(exercise: Exercise) -> bool:
    """Tell whether contacts-many says it."""
    return exercise.match is not None and exercise.match.entry.pattern == "jump"


def _is_told(block: Block, exercise: Exercise) -> bool:
    return any(speaks_of(caution, "pace") for caution in (*exercise.cautions, *block.cautions))
