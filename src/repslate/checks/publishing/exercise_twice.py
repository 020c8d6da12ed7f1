"""No exercise stands twice in one block.

Why: it is mostly a line copied and not changed; on the card nobody can tell A1 from A2.
Source: common practice, no source.
Bad:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Goblet squat
    10 reps
Good:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Push-up
    10 reps
Mend: rename one of the two, or write one exercise with more sets. In another block the same exercise may come again.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every exercise whose name was used before in its block."""
    for block in facts.episode.blocks:
        first: dict[str, str] = {}
        for exercise in block.exercises:
            name = " ".join(exercise.name.casefold().split())
            if name not in first:
                first[name] = exercise.label
                continue
            yield Finding(
                "exercise-twice",
                SEVERITY,
                exercise.span,
                f"{called(exercise)} has the name of {first[name]} in the same block, expected each exercise once",
                "rename one of the two, or write one exercise with more sets",
            )
