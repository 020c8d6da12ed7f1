"""A block laid out: its steps and what was assumed; intervals, the most a block may take, and people who share it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.model.block_parts import Interval, write_people, write_time
from repslate.model.episode import Block
from repslate.model.quantity import Range
from repslate.model.sets import ONCE, is_unclear, sharing_of
from repslate.training.pace import Seconds, Step, optional, repeat, total

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Note:
    """What was assumed, in plain words with its source, and for whom: the exercise's label or the block's name."""

    text: str
    concerns: str


@dataclass(frozen=True, slots=True)
class Laid:
    """The steps of a block in order, and what was assumed in laying them out; `clock` is what it lasts by the clock."""

    steps: tuple[Step, ...]
    notes: tuple[Note, ...]
    clock: Seconds | None = None


def by_interval(block: Block, interval: Interval) -> Laid:
    """Lay out work and rest in turn; after the last work nothing follows, after a set of intervals its rest."""
    one = _one_set(block, interval)
    if not one:
        return Laid((), (Note("no exercise is written, so no interval is counted", block.name),))
    last = one[-1]
    left = Range(last.seconds.low - interval.off, last.seconds.high - interval.off)
    work = (*one[:-1], *((replace(last, seconds=left),) if left.high else ()))
    gap = block.rest or Range(interval.off, interval.off)
    following = (Step("rest", gap), *work)
    sets = block.rounds or ONCE
    steps = work if sets.low else optional(work) if sets.high else ()
    steps += repeat(following, max(sets.low - 1, 0)) + repeat(optional(following), sets.high - max(sets.low, 1))
    if not is_unclear(block):
        return Laid(steps, ())
    words = f"{interval.times} intervals are counted in all, as nothing says that each exercise has as many"
    return Laid(steps, (Note(words, block.name),))


def _one_set(block: Block, interval: Interval) -> tuple[Step, ...]:
    """Return one set of intervals, the rest after the last of them with it."""
    on, off = Range(interval.on, interval.on), Range(interval.off, interval.off)
    each = tuple((Step("work", on, one.id), Step("rest", off, one.id)) for one in block.exercises)
    if not each:
        return ()
    if interval.times is None:
        return tuple(step for pair in each for step in pair)
    if sharing_of(block) == "each":
        return tuple(step for pair in each for step in repeat(pair, interval.times))
    whole, left = divmod(interval.times, len(each))
    return repeat(tuple(step for pair in each for step in pair), whole) + tuple(s for pair in each[:left] for s in pair)


def teamed(block: Block, laid: Laid) -> Laid:
    """Add the time in which the others work: none where the work is shared, all of it again where each does it all."""
    others = block.shared_by - 1
    if not others:
        return laid
    waits = Step("rest", Range(_ZERO, total(step.seconds for step in laid.steps).high * others))
    words = f"done {write_people(block.shared_by)}, it takes from the time of all the work once to that of it for each"
    return Laid((*laid.steps, waits), (*laid.notes, Note(words, block.name)))


def capped(block: Block, laid: Laid) -> Laid:
    """Let a block take at most its cap; what its work leaves of that is breaks, from none to all of it."""
    cap = block.cap
    if cap is None:
        return laid
    whole = total(step.seconds for step in laid.steps)
    if whole.high <= cap:
        breaks = Step("rest", Range(_ZERO, cap - whole.high))
        words = f"it takes at most its cap of {write_time(cap)}, and at least the work that is written"
        return Laid((*laid.steps, breaks), (*laid.notes, Note(words, block.name)))
    words = f"it ends at its cap of {write_time(cap)}, though the work that is written may take longer"
    return Laid(tuple(_within(step, whole, cap) for step in laid.steps), (*laid.notes, Note(words, block.name)))


def _within(step: Step, whole: Seconds, cap: Fraction) -> Step:
    """Shorten a step so that all of them end at the cap: as much above their low ends as it leaves, or below those."""
    low, high = step.seconds.low, step.seconds.high
    if whole.low >= cap:
        share = low * cap / whole.low if whole.low else _ZERO
        return replace(step, seconds=Range(share, share))
    return replace(step, seconds=Range(low, low + (high - low) * (cap - whole.low) / (whole.high - whole.low)))
