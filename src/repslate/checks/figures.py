"""Every figure of a prescription or a block heading as one list, so that a check can look at all of them alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.block_parts import write_time
from repslate.model.episode import Block
from repslate.model.prescription import (
    BodyweightShare,
    Complex,
    Counted,
    Distance,
    Exertion,
    Load,
    MyoReps,
    Prescription,
    RepMaxShare,
    Reps,
    Reserve,
    Share,
    Timed,
    WordedShare,
    masses_of,
    write,
)
from repslate.model.quantity import Range, write_metres, write_range, write_seconds
from repslate.training.pace import tempo_seconds


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: `what` kind it is, its ends (seconds, metres, kilograms, per cent or a count), and how it reads."""

    what: str
    low: Fraction
    high: Fraction
    words: str


def figures(said: Prescription) -> Iterator[Figure]:
    """Yield the figures of one prescription line, in the order of the notation."""
    if said.sets is not None:
        yield _figure("sets", said.sets, f"{write_range(said.sets)} sets")
    yield from _work(said)
    if said.partials is not None:
        yield _figure("reps", said.partials, f"{write_range(said.partials)} partials")
    if said.hold is not None:
        yield _figure("hold", said.hold, f"a hold of {write_seconds(said.hold)}")
    for part in said.cluster:
        yield _figure("reps", Range(part, part), f"a cluster part of {part} reps")
    if said.load is not None:
        yield from _load(said.load)
    if said.tempo is not None:
        seconds = tempo_seconds(said.tempo)
        yield _figure("tempo", Range(seconds, seconds), write(Prescription(tempo=said.tempo)))
    if isinstance(said.effort, Exertion):
        yield _figure("exertion", said.effort.rating, f"RPE {write_range(said.effort.rating)}")
    if isinstance(said.effort, Reserve):
        yield _figure("reserve", said.effort.reps, f"{write_range(said.effort.reps)} in reserve")
    if said.drops is not None:
        yield _figure("drops", Range(said.drops.count, said.drops.count), f"{said.drops.count} drops")
    if said.rest is not None:
        yield _figure("rest", said.rest, f"rest {write_seconds(said.rest)}")


def block_figures(block: Block) -> Iterator[Figure]:
    """Yield the figures of a block's heading."""
    if block.rounds is not None:
        yield _figure("rounds", block.rounds, f"{write_range(block.rounds)} rounds")
    if block.rest is not None:
        yield _figure("rest", block.rest, f"rest {write_seconds(block.rest)}")
    if block.clock is not None:
        clock = Range(block.clock, block.clock)
        yield _figure("clock", clock, f"a clock of {write_seconds(clock)}")
    for what, seconds, words in (("clock", block.turn, "a turn of"), ("clock", block.cap, "a cap of")):
        if seconds is not None:
            yield _figure(what, Range(seconds, seconds), f"{words} {write_time(seconds)}")
    yield from _shares(block)


def _shares(block: Block) -> Iterator[Figure]:
    """Yield the figures that the exercises of a block share."""
    for reps in block.scheme.reps if block.scheme else ():
        yield _figure("reps", Range(reps, reps), f"a round of {reps} reps")
    if block.interval is not None:
        on, off, times = block.interval.on, block.interval.off, block.interval.times
        yield _figure("work", Range(on, on), f"intervals of {write_time(on)}")
        yield _figure("rest", Range(off, off), f"{write_time(off)} off")
        if times is not None:
            yield _figure("rounds", Range(times, times), f"{times} intervals")
    if block.people is not None:
        yield _figure("people", Range(block.people, block.people), f"a team of {block.people}")


def _work(said: Prescription) -> Iterator[Figure]:
    work = said.work
    if isinstance(work, Reps):
        for each in work.each:
            yield _figure("reps", each, f"{write_range(each)} reps")
    elif isinstance(work, Counted):
        for each in work.each:
            yield _figure(work.of, each, write(Prescription(work=Counted((each,), work.of))))
    elif isinstance(work, Complex):
        for part in work.parts:
            yield _figure("reps", Range(part, part), f"a part of {part} reps")
    elif isinstance(work, MyoReps):
        yield _figure("reps", work.first, f"a first set of {write_range(work.first)} reps")
        yield _figure("sets", work.minis, f"{write_range(work.minis)} small sets")
        yield _figure("reps", work.reps, f"small sets of {write_range(work.reps)} reps")
    elif isinstance(work, Timed):
        yield _figure("work", work.seconds, f"work of {write_seconds(work.seconds)}")
    elif isinstance(work, Distance):
        yield _figure("distance", work.metres, f"a distance of {write_metres(work.metres)}")


def _load(load: Load) -> Iterator[Figure]:
    words = f"a load of {write(Prescription(load=load)).removeprefix('@ ')}"
    if isinstance(load, RepMaxShare):
        yield _figure("reps", load.reps, words)
    if isinstance(load, Share):
        of_others = isinstance(load, BodyweightShare | WordedShare)
        yield _figure("share of another" if of_others else "share", load.percent, words)
    for mass in masses_of(load):
        yield _figure("load", mass.in_unit("kg"), words)


def _figure(what: str, ends: Range[int] | Range[Fraction] | Range[Decimal], words: str) -> Figure:
    return Figure(what, Fraction(ends.low), Fraction(ends.high), words)
