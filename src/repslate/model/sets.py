"""How many sets of an exercise are written: one answer for checks, numbers, outputs, the audit and what is heard."""

from __future__ import annotations

from dataclasses import replace

from repslate.model.episode import Block, Exercise
from repslate.model.prescription import Prescription, Reps
from repslate.model.quantity import Range

ONCE = Range(1, 1)


def sets_of(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return the exercise's own sets, one a figure of "12/10/8", else the rounds of its block, else its minutes.

    "1 × 5" in a block of three rounds is one set each round, so three (the trade's reading, common practice). None
    where nothing says it, where as many rounds as possible are done, where the line could not be read, and where words
    as typed may say it. Of an exercise in parts, all sets of work together; those before the work are none.
    """
    if exercise.parts:
        return None if block.form.is_open else _of_parts(exercise)
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


def all_sets(exercise: Exercise) -> Range[int]:
    """Return the sets of an exercise in parts, those before the work with them."""
    return Range(sum(part.sets.low for part in exercise.parts), sum(part.sets.high for part in exercise.parts))


def _of_parts(exercise: Exercise) -> Range[int] | None:
    work = [part for part in exercise.parts if not part.is_warm_up]
    if not work or not all(part.prescription.has_figures for part in work):
        return None
    return all_sets(replace(exercise, parts=tuple(work)))


def _minutes(block: Block) -> Range[int] | None:
    """Share the whole minutes of the clock among the exercises, which take turns; a rest of the division is a range."""
    if block.clock is None:
        return None
    minutes = int(block.clock // 60)
    fewest = minutes // len(block.exercises)
    return Range(fewest, fewest + (1 if minutes % len(block.exercises) else 0))
