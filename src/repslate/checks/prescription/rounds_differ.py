"""The sets of an exercise and the rounds of its block do not contradict each other.

Why: 3 rounds in the heading and 4 × in the line are two orders; the card would print both.
Source: common practice, no source. "1 ×" is left alone: it means once a round.
Wrong:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    4 × 10
    ### Push-up
    10 reps
Right:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Push-up
    10 reps
Fix: say it once: the rounds in the heading, only the reps under the exercise.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.block_parts import write_scheme
from repslate.model.quantity import Range, write_range
from repslate.model.sets import turns_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield schemes of another number of rounds, and exercises whose sets are neither the block's rounds nor one."""
    for block in facts.episode.blocks:
        rounds, scheme = block.rounds, block.scheme
        if rounds and scheme and not scheme.goes_on and rounds != Range(len(scheme.reps), len(scheme.reps)):
            yield Finding(
                "rounds-differ",
                SEVERITY,
                block.span,
                f"{called(block)} says {write_range(rounds)} rounds, but {write_scheme(scheme)} are the repetitions of "
                f"{len(scheme.reps)}, expected the same number",
                "say it once: the repetitions of each round, without the number of rounds",
            )
    for block, exercise in prescribed(facts):
        sets = exercise.prescription.sets
        if exercise.parts:
            continue  # its parts are done one after the other, each as often as it says
        once = Range(1, 1)  # "once through, 2 × 10": as often within the round
        if sets is None or block.rounds in (None, once) or sets in (block.rounds, once, turns_of(block)):
            continue
        yield Finding(
            "rounds-differ",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} says {write_range(sets)} sets where {called(block)} says "
            f"{write_range(block.rounds)} rounds, expected the same number",
            "say it once: the rounds in the heading, only the reps under the exercise",
        )
