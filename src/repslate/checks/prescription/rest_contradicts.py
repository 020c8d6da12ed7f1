"""The rest under an exercise and the rest of its block do not contradict each other.

Why: the card prints both; a viewer who is told 60 s and 2 min rests as it pleases.
Source: common practice, no source. In a circuit 15–30 s between stations and more after the round are right: NSCA and
    ACSM teaching texts, from memory.
Wrong:
    ## Straight sets · rest 2–3 min
    ### Goblet squat
    3 × 10, rest 60 s
Right:
    ## Straight sets · rest 2–3 min
    ### Goblet squat
    3 × 10, rest 2 min
Fix: say the rest once, or bring both into agreement. Straight sets: the two must meet. Superset, tri-set, giant set:
    the last exercise's rest is the rest after the round. Circuit: no station rests longer than the round (a warning).
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, rest_words
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises whose rest does not go with their block's."""
    for block in facts.episode.blocks:
        for exercise in (line for one in _bound(block) for line in one.lines):
            own, rest = exercise.prescription.rest, block.rest
            if own is None or rest is None:
                continue
            stations = block.form.has_stations
            if own.low <= rest.high if stations else own.meets(rest):
                continue
            yield Finding(
                "rest-contradicts",
                Severity.WARNING if stations else SEVERITY,
                place(exercise),
                f"{called(exercise)} says {rest_words(own)} where {called(block)} says {rest_words(rest)}, "
                f"expected {'no longer than that' if stations else 'the same rest'}",
                "say the rest once, in the heading or under the exercise",
            )


def _bound(block: Block) -> tuple[Exercise, ...]:
    """Return the exercises whose rest the block's rest speaks about."""
    if block.form.in_sets or block.form.has_stations:
        return block.exercises
    if block.form.in_rounds:
        return block.exercises[-1:]
    return ()
