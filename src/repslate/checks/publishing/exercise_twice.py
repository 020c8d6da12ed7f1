"""No exercise stands twice in one block with the same load.

Why: it is mostly a line copied and not changed; on the card nobody can tell A1 from A2.
Wrong:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Goblet squat
    10 reps
Right:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Push-up
    10 reps
Fix: rename one of the two, or write one exercise with more sets. In another block the same exercise may come again, in
    a warm-up as often as you like, and with another load (a heavy set, then lighter ones) in the same block too.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.prescription import Load
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every exercise whose name and load were used before in its block, warm-ups aside."""
    for block in facts.episode.blocks:
        if block.form.stands == "before":
            continue
        first: dict[tuple[str, Load | None], str] = {}
        for exercise in block.exercises:
            name = " ".join(exercise.name.casefold().split())
            same = (name, exercise.prescription.load)
            if same not in first:
                first[same] = exercise.label
                continue
            yield Finding(
                "exercise-twice",
                SEVERITY,
                exercise.span,
                f"{called(exercise)} has the name and the load of {first[same]} in the same block, expected each once",
                "rename one of the two, or write one exercise with more sets",
            )
