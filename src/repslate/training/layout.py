"""The sets of a block laid out in order: rounds, straight sets, or against the clock, with every rest between them.

What is assumed because nobody wrote it is noted here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from repslate.model.episode import Block, Exercise, Goal
from repslate.model.forms import BlockKind, Form
from repslate.model.prescription import Prescription, Timed
from repslate.model.quantity import Range, write_number, write_range
from repslate.model.sets import ONCE, all_sets, done, is_unclear, sharing_of, team_sets
from repslate.training.guidelines import RESTS, assumed_rest, heaviest
from repslate.training.laid import Laid, Note, by_interval, capped, teamed
from repslate.training.pace import Seconds, Step, middle, optional, repeat, seconds_of, set_steps, total

# For what no range is published: the widest for growth where no goal is written, the shortest where the work is light
# or continuous. Our policy.
_AS_IF = {None: Goal.HYPERTROPHY, Goal.CONDITIONING: Goal.ENDURANCE, Goal.MOBILITY: Goal.ENDURANCE}
_ZERO = Fraction(0)
_NONE = Range(_ZERO, _ZERO)
#: Times the set-up of a set: finding the seat, the pin and the pad of another machine in a circuit. 30 s by default.
MACHINE = 3  # our policy


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
    block = replace(block, exercises=tuple(replace(one, prescription=_timed(block, one)) for one in block.exercises))
    if block.runs is not None:
        return _by_the_clock(block, block.runs)
    if block.interval is not None:
        laid = by_interval(block, block.interval)
    else:
        laid = _by_the_work(block, goal, set_up=set_up, change_over=change_over)
    return capped(block, teamed(block, laid))


def _by_the_work(block: Block, goal: Goal | None, *, set_up: Fraction, change_over: Fraction) -> Laid:
    """Lay out what takes as long as its sets and rests."""
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


def _timed(block: Block, exercise: Exercise) -> Prescription:
    """Return what is done of an exercise and for how long: in intervals the work and the rest of each."""
    if block.interval is None:
        return done(block, exercise)
    on, off = block.interval.on, block.interval.off
    return Prescription(work=Timed(Range(on, on)), rest=Range(off, off))


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


def rests_after(block: Block) -> Literal["round", "set"]:
    """Return what the rest in a block's heading comes after; a set of intervals is a set."""
    if block.interval is not None and block.interval.times is not None and block.clock is None:
        return "set"
    return "round" if block.runs is not None or takes_turns(block) else "set"


def _counted(block: Block, exercise: Exercise) -> Range[int]:
    """Return the sets to lay out: as many as are written, else once."""
    if exercise.parts:
        return all_sets(exercise)
    return team_sets(block, exercise) or block.rounds or ONCE


def _after_round(block: Block, goal: Goal | None) -> _Gap:
    """Return the rest after a round: the block's, else what the last exercise says, else ours."""
    last = block.exercises[-1].lines[-1].prescription if block.exercises else None
    written = block.rest or (last.rest if last else None)
    if written:
        return _Gap(written, True)
    if all(_counted(block, exercise).high <= 1 for exercise in block.exercises):
        return _Gap(_NONE, False)
    if last and last.rest_as_needed:
        return _assumed(goal, block.kind, block.exercises, "after a round, for one as needed")
    if not (block.form.in_rounds and block.form.asks_rest):
        return _Gap(_NONE, False, "no rest after a round, as none is written")
    return _assumed(goal, block.kind, block.exercises, "after a round, which nobody wrote")


def _after_set(block: Block, exercise: Exercise, goal: Goal | None, *, goes_on: bool) -> _Gap:
    """Return the rest after a set: the exercise's, else the block's, else ours; `goes_on` says that a part follows."""
    said = exercise.prescription
    written = said.rest or block.rest
    if written and not said.rest_as_needed:
        return _Gap(written, True)
    if _counted(block, exercise).high <= 1 and not goes_on:
        return _Gap(_NONE, False)
    if said.rest_as_needed:
        return _assumed(goal, block.kind, (exercise,), "after a set, for one as needed")
    if not block.form.in_sets:
        return _Gap(_NONE, False, "no rest between sets, as none is written")
    return _assumed(goal, block.kind, (exercise,), "after a set, which nobody wrote")


def _assumed(goal: Goal | None, kind: BlockKind, done: tuple[Exercise, ...], where: str) -> _Gap:
    """Return the middle half of what such work usually rests, by the heaviest of it; the midpoint stays the same."""
    main, loaded = heaviest(done)
    guide = assumed_rest(goal, kind, main=main, loaded=loaded) or RESTS[_AS_IF[goal]]
    usual = seconds_of(guide)
    quarter = (usual.high - usual.low) / 4
    rest = Range(usual.low + quarter, usual.high - quarter)
    said = f"a rest of {write_range(rest, 's')} {where}"
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
    marks |= {count.high - 1 for count in counts if count.high}  # the last set may be another than those before it
    last = max((count.high for count in counts), default=0)
    for start, end in pairwise(sorted(mark for mark in marks if mark <= last)):  # rounds between marks are alike
        yield from repeat(tuple(_round(rounds, start)), end - start)


def _round(rounds: _Rounds, index: int) -> Iterator[Step]:
    """Yield one round with the rest before it; sets beyond the low end of their number may be left out.

    What is set up once a round is set up for the first station that is sure to be done in it.
    """
    every = zip(rounds.stations, rounds.counts, rounds.set_ups, strict=True)
    last = {station.id: count.high - 1 for station, count in zip(rounds.stations, rounds.counts, strict=True)}
    here = [(station, index >= count.low, set_up) for station, count, set_up in every if index < count.high]
    if index:
        alone = rounds.stations[0].id if len(rounds.stations) == 1 else None
        rest = (Step("rest", rounds.gap.seconds, alone),)
        yield from optional(rest) if all(maybe for _, maybe, _ in here) else rest
    rested = bool(index) and rounds.gap.written
    first = next((station for station, maybe, _ in here if not maybe), here[0][0])
    before: tuple[Step, ...] = ()
    for station, maybe, set_up in here:
        steps, said = before, station.at_set(index)[0].prescription
        is_set_up = rested and rounds.form.has_stations and isinstance(said.work, Timed)
        if not is_set_up and not (rounds.form.sets_up_once and station is not first):
            steps += (Step("other", Range(set_up, set_up), station.id),)
        steps += set_steps(station, index, is_last=index == last[station.id])
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
    lists = max((len(line.prescription.each) or 1 for line in lines), default=1)
    return max([lists, *(all_sets(station).high for station in stations if station.parts)])


def _by_the_clock(block: Block, clock: Seconds) -> Laid:
    """Fill the clock; setting up comes out of the rest or the work, since the clock runs on."""
    if not block.exercises:
        nothing = Note("no exercise is written, so none of the clock is work", block.name)
        return Laid((Step("other", clock),), (nothing,), clock)
    turn = block.turn_length
    cycle = tuple(step for index in range(_longest(block.exercises)) for step in _cycle(block, turn, index))
    length = sum((middle(step.seconds) for step in cycle), _ZERO)
    if not length:
        return Laid((Step("work", clock),), (), clock)
    more = clock.high - clock.low
    steps = _filling(cycle, length, clock.low) + optional(map(_at_middle, _filling(cycle, length, more)))
    return Laid(steps, tuple(_full_turns(block, turn)) if turn else (_filled(block),), clock)


def _filling(cycle: tuple[Step, ...], length: Fraction, clock: Fraction) -> tuple[Step, ...]:
    return repeat(cycle, int(clock // length)) + tuple(_cut(cycle, clock % length))


def _at_middle(step: Step) -> Step:
    seconds = middle(step.seconds)
    return replace(step, seconds=Range(seconds, seconds))


def _filled(block: Block) -> Note:
    return Note("the clock is work but for the rest that is written, each round at its midpoint", block.name)


def _cycle(block: Block, turn: Fraction | None, index: int) -> Iterator[Step]:
    """Yield what comes round: a turn for each exercise, one turn for all of them, or one round without turns."""
    if not turn:
        yield from _once_through(block, index)
    elif sharing_of(block) == "each":
        yield from _turn(block.exercises, turn, index)
    else:
        for exercise in block.exercises:
            yield from _turn((exercise,), turn, index)


def _turn(exercises: tuple[Exercise, ...], turn: Fraction, index: int) -> Iterator[Step]:
    """Yield one turn of the clock: the work, up to the whole turn, and what is left as rest."""
    left = Range(turn, turn)
    for exercise in exercises:
        work = _work_of(exercise, index)
        done_now = Range(min(work.low, left.high), min(work.high, left.low))
        done_now = Range(min(done_now.low, done_now.high), done_now.high)
        yield Step("work", done_now, exercise.id)
        left = Range(left.low - done_now.high, left.high - done_now.low)
    yield Step("rest", left, exercises[0].id if len(exercises) == 1 else None)


def _full_turns(block: Block, turn: Fraction) -> Iterator[Note]:
    if is_unclear(block):
        yield Note(
            "one exercise is counted for each turn of the clock, as nothing says that each has them all", block.name
        )
    groups = (block.exercises,) if sharing_of(block) == "each" else tuple((one,) for one in block.exercises)
    what = "minute" if block.form.turn is not None else "turn"
    for group in groups:
        works = (total(_work_of(one, index) for one in group) for index in range(_longest(group)))
        if any(work.high > turn for work in works):
            name = group[0].label if len(group) == 1 else block.name
            yield Note(f"the work takes longer than its {what} and is counted up to the {what}", name)


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
