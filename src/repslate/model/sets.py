"""How many sets of an exercise are written: one answer for checks, numbers, outputs, the audit and what is heard."""

from __future__ import annotations

from dataclasses import replace

from repslate.model.block_parts import Sharing
from repslate.model.episode import Block, Exercise
from repslate.model.prescription import MyoReps, Prescription, Reps, Timed
from repslate.model.quantity import Range

ONCE = Range(1, 1)


def done(block: Block, exercise: Exercise) -> Prescription:
    """Return what is done of an exercise: its own line, with the work of its block where that names none.

    A scheme is repetitions for each set in turn, an interval a time.
    """
    said = exercise.prescription
    if said.work is not None or said.cluster or _is_unread(exercise):
        return said
    if block.scheme is not None:
        return replace(said, work=Reps(tuple(Range(reps, reps) for reps in block.scheme.reps)))
    if block.interval is not None:
        return replace(said, work=Timed(Range(block.interval.on, block.interval.on)))
    return said


def sets_of(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return the exercise's own sets, one a figure of "12/10/8", else the rounds of its block, else its turns.

    "1 × 5" in a block of three rounds is one set each round, so three (the trade's reading, common practice). None
    where nothing says it, where as many rounds as possible are done, and where the line could not be read. What people
    share is from their part to all of it, as nobody wrote whether each does it all. None too where words as typed may
    say it. Of an exercise in parts, all sets of work together; those before the work are none.
    """
    sets = team_sets(block, exercise)
    if sets is None or exercise.parts or block.shared_by == 1 or _own(block, exercise) is not None:
        return sets
    return Range(max(sets.low // block.shared_by, min(sets.low, 1)), sets.high)


def team_sets(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return the sets as of `sets_of`, those of all who share them together."""
    if exercise.parts:
        return None if block.is_open else _of_parts(exercise)
    if block.is_open or _is_unread(exercise) or _is_in_words(exercise):
        return None
    if (own := _own(block, exercise)) is not None:
        return own
    if (turns := turns_of(block)) is not None:
        return _shared(block, turns)
    return block.rounds or _of_form(block)


def _of_form(block: Block) -> Range[int] | None:
    if block.scheme is not None:
        return Range(len(block.scheme.reps), len(block.scheme.reps))
    return ONCE if block.form.is_once else None


def turns_of(block: Block) -> Range[int] | None:
    """Return how many turns of the clock, or intervals, the exercises share; None where they do not go by such.

    Where a clock by turns has rounds too, those say it.
    """
    if (turn := block.turn_length) is not None:
        if block.clock is None:
            return block.rounds
        return (
            None if block.rounds is not None or not turn else Range(int(block.clock // turn), int(block.clock // turn))
        )
    if block.interval is None or block.interval.times is None:
        return None
    sets = block.rounds or ONCE
    return Range(sets.low * block.interval.times, sets.high * block.interval.times)


def sharing_of(block: Block) -> Sharing | None:
    """Return whether the exercises take turns: as written, for one a minute by the trade's usage; None if unknown."""
    if block.sharing is not None:
        return block.sharing
    if len(block.exercises) < 2:
        return "each"
    return "alternating" if block.form.turn is not None and block.clock is not None else None


def told_sharing(block: Block) -> Sharing | None:
    """Return what a viewer is told of whose each turn is: what is written, and that several exercises take turns."""
    if block.sharing is not None or len(block.exercises) < 2 or sharing_of(block) == "each":
        return block.sharing
    return sharing_of(block) if turns_of(block) is not None or block.clock is not None else None


def is_unclear(block: Block) -> bool:
    """Tell whether nothing says if the exercises take turns or each has them all."""
    return turns_of(block) is not None and sharing_of(block) is None


def _own(block: Block, exercise: Exercise) -> Range[int] | None:
    said = exercise.prescription
    if said.sets is None and len(said.each) > 1:
        return Range(len(said.each), len(said.each))
    if said.sets is not None and (said.sets != ONCE or block.rounds is None):
        return said.sets
    if block.rounds is None and isinstance(said.work, MyoReps):
        return ONCE  # its small sets are all of one
    return None


def _shared(block: Block, turns: Range[int]) -> Range[int] | None:
    """Share turns among the exercises; a rest of the division is a range."""
    sharing, among = sharing_of(block), len(block.exercises)
    if sharing != "alternating":
        return turns if sharing else None
    return Range(turns.low // among, turns.high // among + (1 if turns.high % among else 0))


def _is_in_words(exercise: Exercise) -> bool:
    said = exercise.prescription
    return bool(said.words) and said.sets is None and said.work is None


def _is_unread(exercise: Exercise) -> bool:
    return exercise.prescription_span is not None and exercise.prescription == Prescription()


def all_sets(exercise: Exercise) -> Range[int]:
    """Return the sets of an exercise in parts, those before the work with them."""
    return Range(sum(part.sets.low for part in exercise.parts), sum(part.sets.high for part in exercise.parts))


def _of_parts(exercise: Exercise) -> Range[int] | None:
    work = [part for part in exercise.parts if not part.is_warm_up]
    if not work or not all(part.prescription.has_figures for part in work):
        return None
    return all_sets(replace(exercise, parts=tuple(work)))
