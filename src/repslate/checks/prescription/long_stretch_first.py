"""No still stretch of a minute or more for one muscle stands before the work in a workout for strength or power.

Why: held that long it costs strength right afterwards; at the end of the workout it costs nothing.
Source: Kay & Blazevich 2012, Med Sci Sports Exerc 44(1):154–164: under 45 s no loss that matters, from 60 s per
    muscle a likely loss. Stretches of the same muscle add up: our reading. Those of a cool-down are block-order's.
Wrong:
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
Right:
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
Fix: hold it for less than a minute in all, or move it to the cool-down.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Goal
from repslate.model.prescription import Timed
from repslate.model.quantity import Range, write_seconds
from repslate.model.sets import sets_of
from repslate.source.finding import Finding, Severity
from repslate.training.movement import is_working

SEVERITY = Severity.WARNING

_LONG = 60  # s per muscle and side: Kay & Blazevich 2012


def find(facts: Facts) -> Iterator[Finding]:
    """Yield still stretches that work follows and with which one side of a muscle comes to a minute or more."""
    if facts.episode.goal not in (Goal.STRENGTH, Goal.POWER):
        return
    lines = list(prescribed(facts))
    last_work = max((n for n, line in enumerate(lines) if is_working(line[0]) and not _is_stretch(line[1])), default=-1)
    held: dict[str, Fraction] = {}
    for block, exercise in lines[: last_work + 1]:
        here = _stretched(block, exercise)
        if exercise.match is None or not here or block.form.stands == "after":  # block-order says what to move
            continue
        muscles = exercise.match.entry.muscles
        held.update({muscle: held.get(muscle, Fraction(0)) + here for muscle in muscles})
        seconds = max((held[muscle] for muscle in muscles), default=here)
        if seconds >= _LONG:
            yield Finding(
                "long-stretch-first",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} is held for {write_seconds(Range(here, here))}"
                f"{f', the muscle for {write_seconds(Range(seconds, seconds))} in all,' if seconds > here else ''}"
                f" before work for {facts.episode.goal.value}, expected less than {_LONG} s in all",
                "hold it for less than a minute in all, or move it to the cool-down",
                "Kay & Blazevich 2012: from 60 s per muscle a likely loss of strength",
            )


def _is_stretch(exercise: Exercise) -> bool:
    return exercise.match is not None and "static-stretch-pre" in exercise.match.entry.traits


def _stretched(block: Block, exercise: Exercise) -> Fraction:
    """Return how long one side is held still, in seconds; 0 for anything but a still stretch."""
    work, sets = exercise.prescription.work, sets_of(block, exercise)
    if not isinstance(work, Timed) or not _is_stretch(exercise):
        return Fraction(0)
    return work.seconds.high * (sets.high if sets else 1)
