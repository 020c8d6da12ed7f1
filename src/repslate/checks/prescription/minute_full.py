"""In a block that starts every minute, or every two, the work leaves time to rest before the next turn.

Why: what is left of the turn is the only rest; work that fills it turns the block into one long set.
Source: fixed work at the start of each minute, rest for the remainder: Oliver-López et al. 2025, PeerJ 13:e19265.
    Pace: the tempo written, else the library's, else 3 s a repetition, the middle of ACSM 2009's moderate speed. The
    line at three quarters of a turn is our choice.
Wrong:
    ## Every minute for 10 min
    ### Goblet squat
    12 reps, tempo 3-1-1-0
Right:
    ## Every minute for 10 min
    ### Goblet squat
    8 reps
Fix: take fewer repetitions or seconds. An estimate is only a warning; a written time or tempo of a whole turn is an
    error. Where every exercise has all the turns (“all every turn”), their work counts together.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, unread
from repslate.facts import Facts
from repslate.model.block_parts import write_time
from repslate.model.episode import Block, Exercise
from repslate.model.prescription import Timed
from repslate.model.sets import done, sharing_of
from repslate.source.finding import Finding, Severity
from repslate.training.pace import tempo_seconds

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

_PACE = Fraction(3)  # s a repetition: lowering 2, lifting 1; ACSM 2009 moderate is 1–2 s each way
_TIGHT = Fraction(3, 4)  # of a turn: less than a quarter is left to rest (our choice)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield what takes over three quarters of its turn: an exercise, or all of a block that share each turn."""
    for block in facts.episode.blocks:
        turn = block.turn_length
        if not turn:
            continue
        read = tuple(exercise for exercise in block.exercises if not unread(exercise))
        together = sharing_of(block) == "each" and len(read) > 1
        for group in (read,) if together else tuple((exercise,) for exercise in read):
            what = block if together else group[0]
            taken = [_seconds(block, exercise) for exercise in group]
            seconds, written = sum(one for one, _ in taken), all(is_written for _, is_written in taken)
            if seconds <= turn * _TIGHT:
                continue
            yield Finding(
                "minute-full",
                SEVERITY if written and seconds >= turn else Severity.WARNING,
                block.span if together else place(group[0]),
                f"{called(what)} takes {'' if written else 'about '}{int(seconds)} s of each "
                f"{_named(turn)}, expected {int(turn * _TIGHT)} s at most, so that some rest is left",
                "take fewer repetitions or seconds",
            )


def _named(turn: Fraction) -> str:
    return "minute" if turn == 60 else f"turn of {write_time(turn)}"


def _seconds(block: Block, exercise: Exercise) -> tuple[Fraction, bool]:
    """Return the longest time the work takes, in seconds, and whether it was written down rather than estimated."""
    said = done(block, exercise)
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
