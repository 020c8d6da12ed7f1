"""A drop takes off a tenth to a half of the load.

Why: less hardly counts as a drop, more leaves a load that no longer trains.
Source: usual 20–25 % a drop: Schoenfeld & Grgic 2018, Strength Cond J 40(6):95–98 (from memory); a web review says
    20–40 %. The accepted 10–50 % is our choice around both.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, 2 drops of 5 %, rest 2 min
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, 2 drops of 20 %, rest 2 min
Fix: write the share of the load that comes off with each drop: 2 drops of 20 %.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.prescription import Prescription, write
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield drops outside 10–50 %."""
    for _, exercise in prescribed(facts):
        drops = exercise.prescription.drops
        if drops is None or drops.percent is None or (drops.percent.low >= 10 and drops.percent.high <= 50):
            continue
        yield Finding(
            "drop-size",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} has {write(Prescription(drops=drops))}, expected 10–50 % a drop",
            "write the share of the load that comes off each time, such as: 2 drops of 20 %",
            "usual 20–25 %: Schoenfeld & Grgic 2018, from memory",
        )
