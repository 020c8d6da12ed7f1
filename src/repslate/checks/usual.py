"""What the checks against published ranges share: whom they judge, and how they name the range and its source."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import prescribed
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Goal
from repslate.model.quantity import Range, write_seconds
from repslate.training.guidelines import Bounds, Guide, Ranges, Status, ranges
from repslate.training.hazards import is_unspotted
from repslate.training.movement import is_loaded, is_main_lift

HELP = "write a figure within that range, or leave it as it is if you mean it"


def judged(facts: Facts) -> Iterator[tuple[Block, Exercise, Ranges]]:
    """Yield the exercises whose load one can choose, with what is usual; without a load, repetitions tell little.

    In a workout for power only the fast lifts are judged: the rest of it assists. Swings are never judged, as they
    stop far from failure.
    """
    goal = facts.episode.goal
    for block, exercise in prescribed(facts):
        match = exercise.match
        if not is_loaded(match, exercise.prescription) or (match and "ballistic-swing" in match.entry.traits):
            continue
        main = match is not None and is_unspotted(match) if goal is Goal.POWER else is_main_lift(match)
        yield block, exercise, ranges(goal, facts.episode.level, block.kind, main=main)


def write_bounds(bounds: Bounds, unit: str) -> str:
    """Write "6–12 reps", "at least 10 reps" or "at most 60 s"; seconds as the trade does."""
    if bounds.high is None:
        return f"at least {bounds.low} {unit}"
    if unit == "s":
        high = write_seconds(Range(Fraction(bounds.high), Fraction(bounds.high)))
        return write_seconds(Range(Fraction(bounds.low), Fraction(bounds.high))) if bounds.low else f"at most {high}"
    if bounds.low <= 1:
        return f"at most {bounds.high} {unit}"
    return f"{bounds.low}–{bounds.high} {unit}"


def sources(guide: Guide) -> str:
    """Name the sources of a range, and that it is our choice or partly from memory where it is."""
    note = {Status.POLICY: " (the range is our choice from these)", Status.MEMORY: " (in part from memory)"}
    return "; ".join(guide.sources) + note.get(guide.status, "")
