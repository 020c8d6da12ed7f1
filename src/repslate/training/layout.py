"""The sets of a block laid out in order: rounds, straight sets, or against the clock, with every rest between them.

What is assumed because nobody wrote it is noted here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from repslate.model.episode import Block, Exercise, Goal
from repslate.model.forms import BlockKind, Form
from repslate.model.prescription import Reps, Timed
from repslate.model.quantity import Range, write_number, write_range
from repslate.model.sets import ONCE, all_sets, sets_of
from repslate.training.guidelines import RESTS, assumed_rest, heaviest
from repslate.training.pace import Seconds, Step, middle, optional, repeat, seconds_of, set_steps, total

# For what no range is published: the widest for growth where no goal is written, the shortest where the work is light
# or continuous. Our policy.
_AS_IF = {None: Goal.HYPERTROPHY, Goal.CONDITIONING: Goal.ENDURANCE, Goal.MOBILITY: Goal.ENDURANCE}
_ZERO = Fraction(0)
_NONE = Range(_ZERO, _ZERO)
_MINUTE = Fraction(60)
#: Times the set-up of a set: finding the seat, the pin and the pad of another machine in a circuit. 30 s by default.
MACHINE = 3  # our policy


@dataclass(frozen=True, slots=True)
class Note:
    """What was assumed, in plain words with its source, and for whom: the exercise's label or the block's name."""

    text: str
    concerns: str


@dataclass(frozen=True, slots=True)
class Laid:
    """The steps of a block in order, and what was assumed in laying them out."""

    steps: tuple[Step, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class _Gap:
    """A rest between sets or rounds; `written` tells the trainer's from ours, `why` says where ours is from."""

    seconds: Seconds
    written: bool
    why: str = ""


@dataclass(frozen=True, slots=True)
class _Rounds:
    """Stations done in turn: how many sets each has, the rest between rounds, and seconds to set up each of them."""

    form: Form
    stations: tuple[Exercise, ...]
    counts: tuple[Range[int], ...]
    gap: _Gap
    set_ups: tuple[Fraction, ...]


def lay(block: Block, goal: Goal | None, *, set_up: Fraction, change_over: Fraction) -> Laid:
    """Lay out a block; `set_up` is seconds a set, `change_over` seconds between exercises that take no turns.

    Between two of those the rest written for the one just done passes, at least the change-over. A rest nobody wrote
    does not, and none of it is any exercise's own time.
    """
    if block.clock is not None:
        return _by_the_clock(block, block.clock)
    notes: list[Note] = []
    steps: list[Step] = []
    if block.form.on_the_clock:
        notes.append(Note("no clock is written, so its exercises count as done once in turn", block.name))
    if takes_turns(block):
        gap = _after_round(block, goal)
        notes += [Note(gap.why, block.name)] if gap.why else []
        turns = tuple(_in_turn(block, block.exercises, gap, set_up))
        return Laid(turns, (*notes, *_machine_notes(block, turns, set_up * MACHINE)))
    before: _Gap | None = None
    for exercise in block.exercises:
        if before:
            steps += _between(before, change_over)
        for number, line in enumerate(exercise.lines):
            if before and number:  # the rest after one part comes before the next
                steps.append(Step("rest", before.seconds, exercise.id))
            before = gap = _after_set(block, line, goal, goes_on=number + 1 < len(exercise.parts))
            notes += [Note(gap.why, exercise.label)] if gap.why else []
            steps += _in_turn(block, (line,), gap, set_up)
    return Laid(tuple(steps), tuple(dict.fromkeys(notes)))


def _between(gap: _Gap, change_over: Fraction) -> tuple[Step, ...]:
    """Return the way to the next exercise, and what is left of the rest written for the one just done."""
    way = Step("other", Range(change_over, change_over))
    if not gap.written:
        return (way,)
    left = Range(max(gap.seconds.low - change_over, _ZERO), max(gap.seconds.high - change_over, _ZERO))
    return (way, Step("rest", left))


def takes_turns(block: Block) -> bool:
    """Tell whether its exercises are done in turn, so that its rest is one after a round, not one after a set."""
    return block.form.in_rounds or (not block.form.in_sets and block.rounds is not None)


def _counted(block: Block, exercise: Exercise) -> Range[int]:
    """Return the sets to lay out: as many as are written, else once."""
    if exercise.parts:
        return all_sets(exercise)
    return sets_of(block, exercise) or block.rounds or ONCE


def _after_round(block: Block, goal: Goal | None) -> _Gap:
    """Return the rest after a round: the block's, else what the last exercise says, else ours."""
    written = block.rest or (block.exercises[-1].lines[-1].prescription.rest if block.exercises else None)
    if written:
        return _Gap(written, True)
    if all(_counted(block, exercise).high <= 1 for exercise in block.exercises):
        return _Gap(_NONE, False)
    if not block.form.in_rounds:
        return _Gap(_NONE, False, "no rest after a round, as none is written")
    return _assumed(goal, block.kind, block.exercises, "after a round")


def _after_set(block: Block, exercise: Exercise, goal: Goal | None, *, goes_on: bool) -> _Gap:
    """Return the rest after a set: the exercise's, else the block's, else ours; `goes_on` says that a part follows."""
    written = exercise.prescription.rest or block.rest
    if written:
        return _Gap(written, True)
    if _counted(block, exercise).high <= 1 and not goes_on:
        return _Gap(_NONE, False)
    if not block.form.in_sets:
        return _Gap(_NONE, False, "no rest between sets, as none is written")
    return _assumed(goal, block.kind, (exercise,), "after a set")


def _assumed(goal: Goal | None, kind: BlockKind, done: tuple[Exercise, ...], where: str) -> _Gap:
    """Return the middle half of what such work usually rests, by the heaviest of it; the midpoint stays the same."""
    main, loaded = heaviest(done)
    guide = assumed_rest(goal, kind, main=main, loaded=loaded) or RESTS[_AS_IF[goal]]
    usual = seconds_of(guide)
    quarter = (usual.high - usual.low) / 4
    rest = Range(usual.low + quarter, usual.high - quarter)
    said = f"a rest of {write_range(rest, 's')} {where}, which nobody wrote"
    source = f"our policy from {', '.join(guide.sources)}"
    return _Gap(rest, False, f"{said} (the middle half of {write_range(usual, 's')}: {source})")


def _in_turn(block: Block, stations: tuple[Exercise, ...], gap: _Gap, set_up: Fraction) -> Iterator[Step]:
    """Yield all rounds of some exercises; straight sets are rounds of a single one."""
    counts = tuple(_counted(block, station) for station in stations)
    set_ups = tuple(
        set_up * (MACHINE if _changes_machine(block.form, stations, i) else 1) for i in range(len(stations))
    )
    rounds = _Rounds(block.form, stations, counts, gap, set_ups)
    marks = {0, 1, *(end for count in counts for end in (count.low, count.high)), *range(_longest(stations))}
    last = max((count.high for count in counts), default=0)
    for start, end in pairwise(sorted(mark for mark in marks if mark <= last)):  # rounds between marks are alike
        yield from repeat(tuple(_round(rounds, start)), end - start)


def _round(rounds: _Rounds, index: int) -> Iterator[Step]:
    """Yield one round with the rest before it; sets beyond the low end of their number may be left out."""
    every = zip(rounds.stations, rounds.counts, rounds.set_ups, strict=True)
    here = [(station, index >= count.low, set_up) for station, count, set_up in every if index < count.high]
    if index:
        alone = rounds.stations[0].id if len(rounds.stations) == 1 else None
        rest = (Step("rest", rounds.gap.seconds, alone),)
        yield from optional(rest) if all(maybe for _, maybe, _ in here) else rest
    rested = bool(index) and rounds.gap.written
    before: tuple[Step, ...] = ()
    for station, maybe, set_up in here:
        steps, said = before, station.at_set(index)[0].prescription
        if not (rested and rounds.form.has_stations and isinstance(said.work, Timed)):
            steps += (Step("other", Range(set_up, set_up), station.id),)
        steps += set_steps(station, index)
        yield from optional(steps) if maybe else steps
        own = said.rest
        before = (Step("rest", own, station.id),) if own else ()
        rested = bool(own)


def _changes_machine(form: Form, stations: tuple[Exercise, ...], index: int) -> bool:
    """Tell whether a station of a circuit is a machine and the one before it, in the ring, another or none."""
    if not form.has_stations or not (own := _machines(stations[index])):
        return False
    return _machines(stations[index - 1]) != own


def _machine_notes(block: Block, steps: tuple[Step, ...], seconds: Fraction) -> Iterator[Note]:
    """Yield a note for each station that takes the longer set-up; a timed one is set up in the rest before it."""
    long = {step.exercise for step in steps if step.kind == "other" and step.seconds.high >= seconds > 0}
    said = f"{write_number(seconds)} s to set up another machine in a circuit (our policy)"
    for index, station in enumerate(block.exercises):
        if station.id in long and _changes_machine(block.form, block.exercises, index):
            yield Note(said, station.label)


def _machines(exercise: Exercise) -> frozenset[str]:
    """Return the machines that have to be set to the body, as the trainer or the library names them."""
    named = tuple(words.text.casefold() for words in exercise.equipment)
    needed = named or (exercise.match.equipment if exercise.match else ())
    return frozenset(item for item in needed if "machine" in item and "band" not in item)


def _longest(stations: tuple[Exercise, ...]) -> int:
    """Return how many sets have figures of their own: the longest list such as "12/10/8"."""
    lines = [line for station in stations for line in station.lines]
    works = (line.prescription.work for line in lines)
    lists = max((len(work.each) for work in works if isinstance(work, Reps)), default=1)
    return max([lists, *(all_sets(station).high for station in stations if station.parts)])


def _by_the_clock(block: Block, clock: Fraction) -> Laid:
    """Fill the clock; setting up comes out of the rest or the work, since the clock runs on."""
    if not block.exercises:
        nothing = Note("no exercise is written, so none of the clock is work", block.name)
        return Laid((Step("other", Range(clock, clock)),), (nothing,))
    by_minute = block.form.by_minute
    once = _minutes if by_minute else _once_through
    cycle = tuple(step for index in range(_longest(block.exercises)) for step in once(block, index))
    length = sum((middle(step.seconds) for step in cycle), Fraction(0))
    if not length:
        return Laid((Step("work", Range(clock, clock)),), ())
    steps = repeat(cycle, int(clock // length)) + tuple(_cut(cycle, clock % length))
    return Laid(steps, tuple(_full_minutes(block)) if by_minute else (_filled(block),))


def _filled(block: Block) -> Note:
    return Note("the clock is work but for the rest that is written, each round at its midpoint", block.name)


def _minutes(block: Block, index: int) -> Iterator[Step]:
    """Yield one minute for each exercise in turn: its work, up to the whole minute, and what is left as rest."""
    for exercise in block.exercises:
        work = _work_of(exercise, index)
        low, high = min(work.low, _MINUTE), min(work.high, _MINUTE)
        yield Step("work", Range(low, high), exercise.id)
        yield Step("rest", Range(_MINUTE - high, _MINUTE - low), exercise.id)


def _full_minutes(block: Block) -> Iterator[Note]:
    for exercise in block.exercises:
        if any(_work_of(exercise, index).high > _MINUTE for index in range(_longest((exercise,)))):
            yield Note("the work takes longer than its minute and is counted up to the minute", exercise.label)


def _work_of(exercise: Exercise, index: int) -> Seconds:
    return total(step.seconds for step in set_steps(exercise, index) if step.kind == "work")


def _once_through(block: Block, index: int) -> Iterator[Step]:
    """Yield one round at its midpoint with the rest that is written, the one after the round with it."""
    for exercise in block.exercises:
        rest = exercise.at_set(index)[0].prescription.rest
        if exercise is block.exercises[-1]:
            rest = block.rest or rest
        for step in (*set_steps(exercise, index), Step("rest", rest or _NONE, exercise.id)):
            seconds = middle(step.seconds)
            yield Step(step.kind, Range(seconds, seconds), step.exercise)


def _cut(steps: Iterable[Step], left: Fraction) -> Iterator[Step]:
    """Yield as much of the steps as fits into the time left."""
    for step in steps:
        seconds = middle(step.seconds)
        if seconds > left:
            yield Step(step.kind, Range(left, left), step.exercise)
            return
        yield step
        left -= seconds
