"""How many sets of an exercise are written: one answer for checks, numbers, outputs, the audit and what is heard."""

from __future__ import annotations

from repslate.model.episode import Block, Exercise
from repslate.model.prescription import Prescription, Reps
from repslate.model.quantity import Range

ONCE = Range(1, 1)


def sets_of(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return the exercise's own sets, one a figure of "12/10/8", else the rounds of its block, else its minutes.

    "1 × 5" in a block of three rounds is one set each round, so three (the trade's reading, common practice). None
    where nothing says it, where as many rounds as possible are done, where the line could not be read, and where words
    as typed may say it.
    """
    said = exercise.prescription
    is_unread = exercise.prescription_span is not None and said == Prescription()
    is_in_words = bool(said.words) and said.sets is None and said.work is None
    if block.form.is_open or is_unread or is_in_words:
        return None
    if said.sets is None and isinstance(said.work, Reps) and len(said.work.each) > 1:
        return Range(len(said.work.each), len(said.work.each))
    if said.sets is not None and (said.sets != ONCE or block.rounds is None):
        return said.sets
    if block.rounds is None and block.form.by_minute:
        return _minutes(block)
    return block.rounds


def _minutes(block: Block) -> Range[int] | None:
    """Share the whole minutes of the clock among the exercises, which take turns; a rest of the division is a range."""
    if block.clock is None:
        return None
    minutes = int(block.clock // 60)
    fewest = minutes // len(block.exercises)
    return Range(fewest, fewest + (1 if minutes % len(block.exercises) else 0))
