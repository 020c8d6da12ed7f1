"""What may be talked of: the blocks and exercises of a written plan, or of one gathered from the talk alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.episode import Block, Episode, Exercise
from repslate.model.forms import BlockKind, Form, form_of
from repslate.model.library import Entry
from repslate.model.prescription import (
    Bodyweight,
    Distance,
    Exertion,
    Load,
    OneRepMaxShare,
    Prescription,
    Reps,
    Reserve,
    Timed,
    Weight,
    Work,
    WorkingShare,
)
from repslate.model.quantity import Range
from repslate.model.sets import done, sets_of

#: What is counted in which field, as `repslate heard` prints it: times in seconds, lengths in metres, loads as named.
FIELDS = (
    "sets", "rounds", "reps", "seconds", "metres", "rest_s", "rir", "rpe", "percent_1rm", "percent_working", "tempo_s",
    "kg", "lb", "drop_sets",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Written:
    """A figure of the written plan: `field` is one of FIELDS."""

    field: str
    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class Subject:
    """An exercise that may be talked of: its id and name in the plan, what the library knows of it, its figures."""

    id: str
    name: str
    entry: Entry | None
    written: tuple[Written, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A block that may be talked of: its name, its kind, its exercises in order, its figures (rounds, rest)."""

    name: str
    kind: BlockKind
    subjects: tuple[Subject, ...]
    written: tuple[Written, ...] = ()

    @property
    def form(self) -> Form:
        """What its kind means."""
        return form_of(self.kind)


@dataclass(frozen=True, slots=True)
class Topic:
    """What is talked of from the word `word` on, until the next topic.

    `time` is the first second of the cue that holds that word. `part` is the index of the block, None in the greeting
    and the goodbye; `subject` the index of the exercise in it, None where the block as a whole is spoken of. `name` is
    what was said of it, "" where nothing was.
    """

    word: int
    time: Fraction
    part: int | None
    subject: int | None
    name: str = ""


def plan_of(episode: Episode) -> tuple[Part, ...]:
    """Return the blocks of a written plan."""
    return tuple(
        Part(block.name, block.kind, tuple(_subject(block, one) for one in block.exercises), tuple(_of_block(block)))
        for block in episode.blocks
    )


def _subject(block: Block, exercise: Exercise) -> Subject:
    entry = exercise.match.entry if exercise.match else None
    own = [one for line in exercise.lines for one in _of_exercise(done(block, line), sets_of(block, line))]
    return Subject(exercise.id, exercise.name, entry, tuple(own))


def _of_block(block: Block) -> Iterator[Written]:
    if block.rounds:
        yield _written("rounds", block.rounds)
    if block.rest:
        yield _written("rest_s", block.rest)
    if block.interval:
        yield Written("rest_s", block.interval.off, block.interval.off)
        if block.interval.times is not None:
            yield Written("rounds", Fraction(block.interval.times), Fraction(block.interval.times))


def _of_exercise(said: Prescription, sets: Range[int] | None) -> Iterator[Written]:
    if said.sets and sets:  # else the block's rounds say it, or a figure for each set
        yield _written("sets", sets)
    yield from _of_work(said.work)
    yield from _of_load(said.load)
    match said.effort:
        case Exertion(rating):
            yield _written("rpe", rating)
        case Reserve(reps):
            yield _written("rir", reps)
    if said.tempo:  # each phase of a tempo is a figure of its own
        yield from (
            Written("tempo_s", Fraction(phase), Fraction(phase))
            for phase in said.tempo.phases
            if isinstance(phase, int) and phase
        )
    if said.rest:
        yield _written("rest_s", said.rest)
    if said.drops:
        yield Written("drop_sets", Fraction(said.drops.count), Fraction(said.drops.count))


def _of_work(work: Work | None) -> Iterator[Written]:
    match work:
        case Reps(each):
            yield Written("reps", Fraction(min(one.low for one in each)), Fraction(max(one.high for one in each)))
        case Timed(seconds):
            yield _written("seconds", seconds)
        case Distance(metres):
            yield _written("metres", metres)


def _of_load(load: Load | None) -> Iterator[Written]:
    """Yield a share as it is, a weight in both units: either may be said."""
    match load:
        case OneRepMaxShare(percent):
            yield _written("percent_1rm", percent)
        case WorkingShare(percent):
            yield _written("percent_working", percent)
        case Weight(mass) | Bodyweight(mass) if mass is not None:
            yield _written("kg", mass.in_unit("kg"))
            yield _written("lb", mass.in_unit("lb"))


def _written(field: str, figures: Range[int] | Range[Fraction] | Range[Decimal]) -> Written:
    return Written(field, Fraction(figures.low), Fraction(figures.high))
