"""The tempo of one repetition stays within what has been shown to work, up to 8 s.

Why: longer repetitions force a load so light that they build less; often the digits were meant otherwise.
Source: Schoenfeld, Ogborn & Krieger 2015, Sports Medicine 45(4):577–585: similar growth from 0.5 to 8 s a repetition,
    less above 10 s. X counts as one second (common practice, no source).
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 6, tempo 6-2-4-0, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 6, tempo 3-1-1-0, rest 90 s
Fix: shorten the tempo, or quiet the check with your reason.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.prescription import Prescription, write
from repslate.source.finding import Finding, Severity
from repslate.training.pace import tempo_seconds

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield tempos over 8 s."""
    for _, exercise in prescribed(facts):
        tempo = exercise.prescription.tempo
        if tempo is None or (seconds := tempo_seconds(tempo)) <= 8:
            continue
        yield Finding(
            "tempo-slow",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} has {write(Prescription(tempo=tempo))}, {seconds} s a repetition, expected up to 8 s",
            "shorten the tempo, or quiet the check with your reason",
            "Schoenfeld et al. 2015: similar growth from 0.5 to 8 s a repetition, less above 10 s",
        )
