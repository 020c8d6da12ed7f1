"""How long the workout takes, low to high: the sums of work, rest and setting up for exercises, blocks and the whole.

Exact seconds, nothing rounded. What nobody wrote is assumed, and every assumption is named in the result.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.model.episode import Block, Episode, Exercise
from repslate.model.quantity import Range, write_number
from repslate.model.sets import done
from repslate.training.laid import Laid, Note
from repslate.training.layout import lay
from repslate.training.pace import Kind, Seconds, Step, assumptions, middle, total

SET_UP = Fraction(10)  # s a set: our policy; Burke et al. 2024 leaves 5–15 s a set beyond its movement (derived)
CHANGE_OVER = Fraction(15)  # s between two exercises of a block that take no turns: our policy
BETWEEN_BLOCKS = Fraction(60)  # s: our policy


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a block's time bar, in seconds at the midpoint of its range."""

    kind: Kind
    seconds: Fraction
    exercise: str | None


@dataclass(frozen=True, slots=True)
class ExerciseTime:
    """Seconds of one exercise over all its sets, both sides; the rest after a whole round belongs to its block.

    `assumed` says in plain words, with the source, what nobody wrote.
    """

    exercise: str
    work: Seconds
    rest: Seconds
    set_up: Seconds
    total: Seconds
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BlockTime:
    """Seconds of one block; `set_up` holds changing over between its exercises too.

    In a block by the clock `total` is the clock, though work and rest are ranges; a block with a cap takes at most
    that. `segments` run in order and add up
    to the midpoint of `total`; over 1000 pieces, like ones are drawn together.
    """

    letter: str
    exercises: tuple[ExerciseTime, ...]
    work: Seconds
    rest: Seconds
    set_up: Seconds
    total: Seconds
    segments: tuple[Segment, ...]
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SessionTime:
    """Seconds of the whole workout, warm-up and cool-down with it; `blocks` are in the episode's order.

    `set_up` holds the time between blocks too, `between` seconds from each to the next. Talk and demonstration before
    the camera are not in it.
    """

    blocks: tuple[BlockTime, ...]
    between: Fraction
    work: Seconds
    rest: Seconds
    set_up: Seconds
    total: Seconds
    assumed: tuple[str, ...]


def session_time(
    episode: Episode,
    *,
    set_up: Fraction = SET_UP,
    change_over: Fraction = CHANGE_OVER,
    between_blocks: Fraction = BETWEEN_BLOCKS,
) -> SessionTime:
    """Estimate the time of a workout in seconds; the three arguments are seconds a set, an exercise and a block.

    Rest counts after every set of an exercise but its last, in rounds after every round but the last. A clock is the
    length of its block. Where no rest is written, the middle half of the published range is assumed. From one exercise
    to the next that takes no turns with it, the rest written for the first passes, at least `change_over`; it belongs
    to the block and to neither exercise.
    """
    laid = [lay(block, episode.goal, set_up=set_up, change_over=change_over) for block in episode.blocks]
    pairs = tuple(zip(episode.blocks, laid, strict=True))
    blocks = tuple(_block_time(block, one) for block, one in pairs)
    walked = between_blocks * max(len(blocks) - 1, 0)
    between = Range(walked, walked)
    notes = [note for block, one in pairs for note in _notes(block, one)]
    return SessionTime(
        blocks,
        between_blocks,
        total(block.work for block in blocks),
        total(block.rest for block in blocks),
        total((between, *(block.set_up for block in blocks))),
        total((between, *(block.total for block in blocks))),
        (*_gather(notes), *_policy(laid, set_up, change_over, between_blocks)),
    )


def _policy(laid: list[Laid], set_up: Fraction, change_over: Fraction, between_blocks: Fraction) -> Iterator[str]:
    """Yield what our own seconds stand for, where they count."""
    filled = [one for one in laid if len(one.steps) > 1]  # a clock without exercises is a single step
    others = [step for one in filled for step in one.steps if step.kind == "other" and step.seconds.high]
    if set_up and any(step.exercise is not None for step in others):
        yield f"{write_number(set_up)} s to set up a set off the clock (our policy, derived from Burke et al. 2024)"
    if change_over and any(step.exercise is None for step in others):
        yield f"{write_number(change_over)} s between exercises that take no turns, or the rest written (our policy)"
    if between_blocks and len(laid) > 1:
        yield f"{write_number(between_blocks)} s between blocks (our policy)"


def _block_time(block: Block, laid: Laid) -> BlockTime:
    return BlockTime(
        block.letter,
        tuple(_exercise_time(block, exercise, laid) for exercise in block.exercises),
        *_sums(laid, laid.steps, laid.clock),
        tuple(_segments(laid.steps)),
        _gather(_notes(block, laid)),
    )


def _exercise_time(block: Block, exercise: Exercise, laid: Laid) -> ExerciseTime:
    own = tuple(step for step in laid.steps if step.exercise == exercise.id)
    return ExerciseTime(exercise.id, *_sums(laid, own), tuple(_assumptions(block, exercise)))


def _assumptions(block: Block, exercise: Exercise) -> Iterator[str]:
    """Yield what is taken for granted about a set; an interval says all that counts for the time."""
    if block.interval is None:
        yield from assumptions(replace(exercise, prescription=done(block, exercise)))


def _sums(
    laid: Laid, steps: tuple[Step, ...], clock: Seconds | None = None
) -> tuple[Seconds, Seconds, Seconds, Seconds]:
    """Return work, rest, set-up and total. By the clock more work is less rest, so the total is the clock's."""
    work, rest, other = (total(s.seconds for s in steps if s.kind == kind) for kind in ("work", "rest", "other"))
    if laid.clock is None:
        return work, rest, other, total((work, rest, other))
    middles = sum((middle(step.seconds) for step in steps), Fraction(0))
    return work, rest, other, clock or Range(middles, middles)


def _segments(steps: Iterable[Step]) -> Iterator[Segment]:
    """Yield the steps at their midpoint, neighbours of one kind and exercise as one, nothing of no length."""
    last: Segment | None = None
    for step in steps:
        seconds = middle(step.seconds)
        if not seconds:
            continue
        if last and (last.kind, last.exercise) == (step.kind, step.exercise):
            last = Segment(last.kind, last.seconds + seconds, last.exercise)
            continue
        if last:
            yield last
        last = Segment(step.kind, seconds, step.exercise)
    if last:
        yield last


def _gather(notes: Iterable[Note]) -> tuple[str, ...]:
    """Return each note once, followed by whom it concerns."""
    concerned: dict[str, list[str]] = {}
    for note in notes:
        concerned.setdefault(note.text, []).append(note.concerns)
    return tuple(f"{text}: {', '.join(names)}" for text, names in concerned.items())


def _notes(block: Block, laid: Laid) -> Iterator[Note]:
    yield from laid.notes
    yield from (Note(text, exercise.label) for exercise in block.exercises for text in _assumptions(block, exercise))
