"""No still stretch of a minute or more stands in the warm-up of a workout for strength or power.

Why: held that long it costs strength right afterwards; at the end of the workout it costs nothing.
Source: Kay & Blazevich 2012, Med Sci Sports Exerc 44(1):154–164: under 45 s no loss that matters, from 60 s per
    muscle a likely loss.
Bad:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Warm-up
    ### Standing calf stretch
    2 × 30 s per side

    ## Straight sets
    ### Goblet squat
    5 × 3, rest 3 min
Good:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Warm-up
    ### Standing calf stretch
    1 × 30 s per side

    ## Straight sets
    ### Goblet squat
    5 × 3, rest 3 min
Mend: hold it for less than a minute in all, or move it to the cool-down.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, prescribed, sets_of
from repslate.facts import Facts
from repslate.model.episode import Block, BlockKind, Exercise, Goal
from repslate.model.prescription import Timed
from repslate.model.quantity import Range, write_seconds
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_LONG = 60  # s per muscle and side: Kay & Blazevich 2012


def find(facts: Facts) -> Iterator[Finding]:
    """Yield still stretches of the warm-up that add up to a minute or more on one side."""
    if facts.episode.goal not in (Goal.STRENGTH, Goal.POWER):
        return
    for block, exercise in prescribed(facts):
        seconds = _stretched(block, exercise)
        if block.kind is BlockKind.WARM_UP and seconds >= _LONG:
            yield Finding(
                "long-stretch-first",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} is held for {write_seconds(Range(seconds, seconds))} before work for "
                f"{facts.episode.goal.value}, expected less than {_LONG} s in all",
                "hold it for less than a minute in all, or move it to the cool-down",
                "Kay & Blazevich 2012: from 60 s per muscle a likely loss of strength",
            )


def _stretched(block: Block, exercise: Exercise) -> Fraction:
    """Return how long one side is held still, in seconds; 0 for anything but a still stretch."""
    work, sets = exercise.prescription.work, sets_of(block, exercise)
    if not isinstance(work, Timed) or exercise.match is None:
        return Fraction(0)
    if "static-stretch-pre" not in exercise.match.entry.traits:
        return Fraction(0)
    return work.seconds.high * (sets.high if sets else 1)
