"""A block done in several sets or rounds says how long to rest between them.

Why: rest decides how heavy the next set can be; left open, viewers rest as long as the film happens to pause.
Source: rest is part of every published prescription, NSCA handbook tables and ACSM 2009 (tables from a second copy).
Wrong:
    ## Superset A · 3 rounds
    ### Goblet squat
    10–12 reps
    ### Push-up
    8–10 reps
Right:
    ## Superset A · 3 rounds · rest 60–90 s
    ### Goblet squat
    10–12 reps
    ### Push-up
    8–10 reps
Fix: straight sets: write it after the reps (3 × 10–12, rest 90 s) or into the block's heading. Superset, tri-set,
    giant set, circuit: write the rest after the round into the heading (Superset A · 3 rounds · rest 60–90 s). Not
    asked for where it is as needed, in a warm-up, a cool-down, a finisher, a block with a clock, or a single set, nor
    where the rest is part of the form: intervals, work for time, a ladder, a flow, work with a partner.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, may_say_more, place
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.model.sets import sets_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks in rounds without a rest after the round, and straight sets without a rest after the set."""
    for block in facts.episode.blocks:
        if block.rest is not None or block.runs is not None or block.interval is not None or not block.exercises:
            continue
        if not block.form.asks_rest:
            continue
        if block.form.in_rounds:
            yield from _after_round(block)
        elif block.form.in_sets:
            yield from _after_set(block)


def _once(block: Block, exercise: Exercise) -> bool:
    """Tell whether the exercise is done a single time, so that nothing follows to rest for."""
    sets = sets_of(block, exercise)
    return sets is not None and sets.high <= 1


def _after_round(block: Block) -> Iterator[Finding]:
    is_said = any(line.prescription.says_rest for line in block.exercises[-1].lines) or any(
        may_say_more(block, e) for e in block.exercises
    )
    if is_said or all(_once(block, e) for e in block.exercises):
        return
    yield Finding(
        "rest-missing",
        SEVERITY,
        block.span,
        f"{called(block)} does not say how long to rest after a round, expected a rest",
        "add it to the heading, such as: · rest 60–90 s",
    )


def _after_set(block: Block) -> Iterator[Finding]:
    for exercise in block.exercises:
        said = exercise.prescription
        is_said = any(line.prescription.says_rest for line in exercise.lines)
        if is_said or may_say_more(block, exercise) or _once(block, exercise):
            continue
        if said.work or said.sets:
            yield Finding(
                "rest-missing",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} does not say how long to rest between sets, expected a rest",
                "add it to the line, such as: , rest 90 s",
            )
