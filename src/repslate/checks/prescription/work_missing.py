"""An exercise that says its sets also says the work of one set: reps, a time, a distance, or max.

Why: three sets of what? Readers fill the hole with a figure of their own.
Wrong:
    ## Straight sets
    ### Push-up
    3 sets, rest 60 s
Right:
    ## Straight sets
    ### Push-up
    3 × max, rest 60 s
Fix: write the work after the ×: 3 × 10–12, 3 × 30–45 s, 3 × 40 m, or 3 × max for as many good reps as possible.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import asked, called, place
from repslate.facts import Facts
from repslate.model.sets import done
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises with sets but without work."""
    for block, exercise in asked(facts):
        said = done(block, exercise)
        if said.sets is not None and said.work is None and not said.cluster:
            yield Finding(
                "work-missing",
                Severity.WARNING if said.tempo or said.hold else SEVERITY,  # "6 rounds of 4-4-4-4" is of breaths
                place(exercise),
                f"{called(exercise)} says how many sets but not of what, expected reps, a time, a distance or max",
                "write the work after the ×, such as: 3 × 10–12",
            )
