"""How many sets of an exercise are written: one answer for checks, numbers, outputs, the audit and what is heard."""

from __future__ import annotations

from repslate.model.episode import Block, Exercise
from repslate.model.prescription import MyoReps, Prescription
from repslate.model.quantity import Range

ONCE = Range(1, 1)


def sets_of(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return the exercise's own sets, one a figure of "12/10/8", else the rounds of its block, else its minutes.

    "1 × 5" in a block of three rounds is one set each round, so three (the trade's reading, common practice). Myo-reps
    alone are one set. None where nothing says it, where as many rounds as possible are done, and where the line could
    not be read.
    """
    said = exercise.prescription
    is_unread = exercise.prescription_span is not None and said == Prescription()
    if block.form.is_open or is_unread:
        return None
    if said.sets is None and len(said.each) > 1:
        return Range(len(said.each), len(said.each))
    if said.sets is not None and (said.sets != ONCE or block.rounds is None):
        return said.sets
    if block.rounds is None and block.form.by_minute:
        return _minutes(block)
    if block.rounds is None and isinstance(said.work, MyoReps):
        return ONCE  # its small sets are all of one
    return block.rounds


def _minutes(block: Block) -> Range[int] | None:
    """Share the whole minutes of the clock among the exercises, which take turns; a rest of the division is a range."""
    if block.clock is None:
        return None
    minutes = int(block.clock // 60)
    fewest = minutes // len(block.exercises)
    return Range(fewest, fewest + (1 if minutes % len(block.exercises) else 0))
