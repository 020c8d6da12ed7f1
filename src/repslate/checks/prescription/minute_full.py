"""In a block that starts every minute, the work leaves time to rest before the next minute.

Why: what is left of the minute is the only rest; work that fills it turns the block into one long set.
Source: fixed work at the start of each minute, rest for the remainder: Oliver-López et al. 2025, PeerJ 13:e19265.
    Pace: the tempo written, else the library's, else 3 s a repetition, the middle of ACSM 2009's moderate speed. The
    line at 45 s is our choice.
Wrong:
    ## Every minute for 10 min
    ### Goblet squat
    12 reps, tempo 3-1-1-0
Right:
    ## Every minute for 10 min
    ### Goblet squat
    8 reps
Fix: take fewer repetitions or seconds. An estimate is only a warning; a written time or tempo of a minute is an
    error.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.model.prescription import Timed
from repslate.source.finding import Finding, Severity
from repslate.training.pace import tempo_seconds

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

_PACE = Fraction(3)  # s a repetition: lowering 2, lifting 1; ACSM 2009 moderate is 1–2 s each way
_FULL, _TIGHT = 60, 45  # s of work: nothing left to rest; less than a quarter of the minute left (our choice)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises that take over 45 s of their minute; each exercise of the block has a minute of its own."""
    for block, exercise in prescribed(facts):
        if not block.form.by_minute:
            continue
        seconds, written = _seconds(exercise)
        if seconds <= _TIGHT:
            continue
        about = "" if written else "about "
        yield Finding(
            "minute-full",
            SEVERITY if written and seconds >= _FULL else Severity.WARNING,
            place(exercise),
            f"{called(exercise)} takes {about}{int(seconds)} s of each minute, expected {_TIGHT} s at most, "
            "so that some rest is left",
            "take fewer repetitions or seconds",
        )


def _seconds(exercise: Exercise) -> tuple[Fraction, bool]:
    """Return the longest time the work takes, in seconds, and whether it was written down rather than estimated."""
    said = exercise.prescription
    sides = 2 if said.per_side else 1
    if isinstance(said.work, Timed):
        return said.work.seconds.high * sides, True
    if not said.reps:
        return Fraction(0), False
    reps = max(each.high for each in said.reps) * sides
    held = said.hold.high if said.hold else Fraction(0)
    if said.tempo is not None:
        return reps * (tempo_seconds(said.tempo) + held), True
    return reps * ((exercise.match.entry.pace if exercise.match else _PACE) + held), False
