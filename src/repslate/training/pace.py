"""How long one set takes, from repetitions and tempo, time or distance, with the pauses inside it.

All times are exact seconds, from low to high.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from repslate.model.episode import Exercise
from repslate.model.prescription import (
    Complex,
    Counted,
    Distance,
    Maximum,
    MyoReps,
    Prescription,
    Reps,
    Tally,
    Tempo,
    Timed,
    TwentyOnes,
    Unsaid,
)
from repslate.model.quantity import Range, write_number, write_range
from repslate.training.guidelines import CLUSTER_PAUSE, DROP_PAUSE, REST_PAUSE, Guide

Seconds = Range[Fraction]
Kind = Literal["work", "rest", "other"]

#: Lowering 2 s, lifting 1 s: our choice from ACSM 2009's moderate speed, 1–2 s each way.
REP_SECONDS = Fraction(3)
#: Accepted for a repetition without a tempo: ACSM 2009's moderate speed (Ratamess et al., MSSE 41(3):687–708).
REP_BAND = Range(Fraction(2), Fraction(4))
METRE_SECONDS = Fraction(1)  # a loaded walk; common practice, no source
#: Seconds of one: common practice, no source. What a length measures, and so how long it takes, nobody can know.
TALLY_SECONDS: Mapping[Tally, Seconds] = {
    Tally.CALORIES: Range(Fraction(3), Fraction(7)),  # of a machine's display: about 9 to 20 a minute
    Tally.BREATHS: Range(Fraction(4), Fraction(6)),
    Tally.STEPS: Range(Fraction(1, 2), Fraction(1)),
}
_ONE_OF = {Tally.CALORIES: "calorie", Tally.BREATHS: "breath", Tally.STEPS: "step", Tally.LENGTHS: "length"}
#: What a tempo leaves unsaid: our 3 s of a repetition, and no pause.
UNSAID_SECONDS = (2, 0, 1, 0)
PARTIAL = Fraction(1, 2)  # of a repetition's time, for one over half of the way: our policy
OF_21S = 7 * PARTIAL + 7 * PARTIAL + 7  # whole repetitions
X_SECONDS = 1  # "as fast as possible" in a tempo; common practice, no source
REST_PAUSES = Range(1, 3)  # how many, where only the sum of the repetitions is written: our policy
# As many good repetitions as possible: from the least for growth (6, NSCA handbook) to the middle of endurance work
# (10–25+, ACSM 2009, from memory). A hold without a time: common practice. Both are our policy.
MAX_REPS = Range(Fraction(6), Fraction(20))
MAX_HOLD = Range(Fraction(20), Fraction(60))

_MOST_STEPS = 1000  # more pieces than a bar can show; figures that large are a slip, but must not stall the tool


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of one kind: work, rest, or other (setting up, changing over); `exercise` is an id or None."""

    kind: Kind
    seconds: Seconds
    exercise: str | None = None


def total(ranges: Iterable[Seconds]) -> Seconds:
    """Add up ranges, low ends and high ends apart."""
    low = high = Fraction(0)
    for one in ranges:
        low, high = low + one.low, high + one.high
    return Range(low, high)


def middle(seconds: Seconds) -> Fraction:
    """Return the midpoint of a range."""
    return (seconds.low + seconds.high) / 2


def seconds_of(guide: Guide) -> Seconds:
    """Return a published range of seconds; its low end alone where it is open upwards."""
    bounds = guide.bounds
    return Range(Fraction(bounds.low), Fraction(bounds.low if bounds.high is None else bounds.high))


def optional(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return steps that may be left out, as the third round of "2–3 rounds": their low end is nothing."""
    return tuple(replace(step, seconds=Range(Fraction(0), step.seconds.high)) for step in steps)


def repeat(steps: tuple[Step, ...], times: int) -> tuple[Step, ...]:
    """Return the steps `times` over; from 1000 pieces on each step once, as long as all its repetitions together."""
    if len(steps) * times <= _MOST_STEPS:
        return steps * times
    return tuple(replace(step, seconds=_by(step.seconds, Fraction(times))) for step in steps)


def set_steps(exercise: Exercise, index: int, *, is_last: bool = False) -> tuple[Step, ...]:
    """Return the work of the set number `index` (from 0) with the pauses inside it, both sides where it says per side.

    The last set may go on to as many repetitions as possible. A drop is another set of about the same repetitions.
    Nothing written is no work; `assumptions` says so.
    """
    exercise, index = exercise.at_set(index)
    said = exercise.prescription
    work = _work(exercise, index)
    if said.open_last and is_last:
        work = Range(work.low, max(work.high, _most(exercise).high))
    steps = tuple(_parts(exercise, work))
    if said.drops:
        drop = (Step("rest", seconds_of(DROP_PAUSE), exercise.id), Step("work", work, exercise.id))
        steps += repeat(drop, said.drops.count)
    return steps * 2 if said.per_side else steps


def seconds_per_rep(exercise: Exercise) -> Fraction:
    """Return the seconds of one repetition: the tempo written, else the library's pace, else 3 s."""
    if tempo := exercise.prescription.tempo:
        return Fraction(tempo_seconds(tempo))
    entry = exercise.match.entry if exercise.match else None
    return entry.pace if entry and entry.unit != "metres" else REP_SECONDS


def tempo_seconds(tempo: Tempo) -> int:
    """Return the seconds of one repetition; X counts as one second, a phase that is unsaid as UNSAID_SECONDS."""
    typed = zip(tempo.phases, UNSAID_SECONDS, strict=True)
    return sum(X_SECONDS if phase is None else usual if isinstance(phase, Unsaid) else phase for phase, usual in typed)


def assumptions(exercise: Exercise) -> Iterator[str]:
    """Yield in plain words, with the source, what is taken for granted about a set because nobody wrote it."""
    if len(exercise.parts) > 1:
        yield from dict.fromkeys(text for line in exercise.lines for text in assumptions(line))
        return
    said = exercise.prescription
    yield from _work_assumptions(exercise)
    if said.tempo and None in said.tempo.phases:
        yield "X in a tempo counts as 1 s (common practice, no source)"
    if said.tempo and Unsaid.UNSAID in said.tempo.phases:
        yield "what a tempo leaves open counts as 2 s down, 1 s up and no pause (our default)"
    if said.partials:
        yield "a partial repetition counts half of a whole one (our policy)"
    if said.open_last:
        most = _s(MAX_HOLD) if _is_held(exercise) else f"{write_range(MAX_REPS)} repetitions"
        yield f"the last set, as many as possible, counts up to the most of {most} (our policy)"
    if said.drops:
        yield _pause(DROP_PAUSE, "before each drop, which has about the repetitions of the set")
    if said.cluster:
        yield _pause(CLUSTER_PAUSE, "between the parts of a cluster")
    elif said.rest_pause:
        yield _pause(REST_PAUSE, f"in each of {write_range(REST_PAUSES)} pauses of a rest-pause set, a number of ours")


def _pause(guide: Guide, where: str) -> str:
    return f"{_s(seconds_of(guide))} {where} ({'; '.join(guide.sources)})"


def _work_assumptions(exercise: Exercise) -> Iterator[str]:
    said = exercise.prescription
    match said.work:
        case Distance():
            pace, known = _metre_seconds(exercise)
            yield f"{write_number(pace)} s a metre ({'the library' if known else 'common practice, no source'})"
        case Counted(of=Tally.STEPS) if _is_in_reps(exercise):
            yield from _rep_assumptions(exercise)
        case Counted(of=of) if of in TALLY_SECONDS:
            yield f"{_s(TALLY_SECONDS[of])} a {_ONE_OF[of]} (common practice, no source)"
        case Counted(of=of):
            yield f"nothing says how long a {_ONE_OF[of]} is, so its work counts as no time"
        case Maximum() if _is_hold(exercise):
            yield f"“max” counts as a hold of {_s(MAX_HOLD)} (our policy, common practice)"
        case Maximum():
            why = "our policy: from the least for growth, NSCA, to the middle of endurance work, ACSM 2009, from memory"
            yield f"“max” counts as {write_range(MAX_REPS)} repetitions ({why})"
            yield from _rep_assumptions(exercise)
        case TwentyOnes():
            yield f"21s count as {write_number(OF_21S)} whole repetitions, the halves half of one (our policy)"
            yield from _rep_assumptions(exercise)
        case MyoReps():
            yield _pause(REST_PAUSE, "before each small set of myo-reps, as in a rest-pause set")
            yield from _rep_assumptions(exercise)
        case Reps() | Complex():
            yield from _rep_assumptions(exercise)
        case None if said.cluster:
            yield from _rep_assumptions(exercise)
        case None:
            yield "nothing says how much to do, so its work counts as no time"


def _rep_assumptions(exercise: Exercise) -> Iterator[str]:
    if exercise.prescription.tempo is not None:
        return
    known = exercise.match is not None and exercise.match.entry.unit != "metres"
    source = "the library" if known else f"our default; {_s(REP_BAND)} is a moderate speed: ACSM 2009"
    yield f"{write_number(seconds_per_rep(exercise))} s a repetition where no tempo is written ({source})"


def _work(exercise: Exercise, index: int) -> Seconds:
    """Return how long the work of one set of one side takes, without pauses."""
    said = exercise.prescription
    done = _whole_work(exercise, index)
    if said.partials:
        one = seconds_per_rep(exercise) * PARTIAL
        done = Range(done.low + said.partials.low * one, done.high + said.partials.high * one)
    return done


def _whole_work(exercise: Exercise, index: int) -> Seconds:
    """Return how long it takes without partial repetitions; of myo-reps the first set alone."""
    said = exercise.prescription
    match said.work:
        case Counted(each, of):
            return _tallied(exercise, each[min(index, len(each) - 1)], of)
        case Timed(seconds):
            return seconds
        case Distance(metres):
            return _by(Range(Fraction(metres.low), Fraction(metres.high)), _metre_seconds(exercise)[0])
        case Maximum():
            return _most(exercise)
    return _reps(exercise, _whole_reps(said, index))


def _whole_reps(said: Prescription, index: int) -> Range[int] | Range[Fraction]:
    """Return how many whole repetitions a set takes the time of; none where nothing says it."""
    match said.work:
        case Reps(each):
            return each[min(index, len(each) - 1)]
        case Complex(parts):
            return Range(sum(parts), sum(parts))
        case TwentyOnes():
            return Range(OF_21S, OF_21S)
        case MyoReps(first=first):
            return first
    return Range(sum(said.cluster), sum(said.cluster))


def _reps(exercise: Exercise, count: Range[int] | Range[Fraction]) -> Seconds:
    """Return how long repetitions take, with what each of them is held."""
    one, held = seconds_per_rep(exercise), exercise.prescription.hold or Range(Fraction(0), Fraction(0))
    return Range(count.low * (one + held.low), count.high * (one + held.high))


def _most(exercise: Exercise) -> Seconds:
    """Return how long as many as possible take."""
    return MAX_HOLD if _is_held(exercise) else _reps(exercise, MAX_REPS)


def _is_held(exercise: Exercise) -> bool:
    work = exercise.prescription.work
    return isinstance(work, Timed) or (isinstance(work, Maximum) and _is_hold(exercise))


def _tallied(exercise: Exercise, count: Range[int], of: Tally) -> Seconds:
    """Return how long so many calories, breaths or steps take; no time for what nobody can tell it of."""
    one = TALLY_SECONDS.get(of, Range(Fraction(0), Fraction(0)))
    if of is Tally.STEPS and _is_in_reps(exercise):  # of a walking lunge each step is a repetition
        one = Range(seconds_per_rep(exercise), seconds_per_rep(exercise))
    return Range(count.low * one.low, count.high * one.high)


def _parts(exercise: Exercise, work: Seconds) -> Iterator[Step]:
    """Yield one set's work, split where a cluster or rest-pause puts pauses."""
    said = exercise.prescription
    if said.cluster and sum(said.cluster):
        for number, part in enumerate(said.cluster):
            if number:
                yield Step("rest", seconds_of(CLUSTER_PAUSE), exercise.id)
            yield Step("work", _by(work, Fraction(part, sum(said.cluster))), exercise.id)
    elif isinstance(said.work, MyoReps):
        yield Step("work", work, exercise.id)
        mini = (
            Step("rest", seconds_of(REST_PAUSE), exercise.id),
            Step("work", _reps(exercise, said.work.reps), exercise.id),
        )
        yield from repeat(mini, said.work.minis.low)
        yield from optional(repeat(mini, said.work.minis.high - said.work.minis.low))
    elif said.rest_pause:
        half = Step("work", _by(work, Fraction(1, 2)), exercise.id)
        pause = seconds_of(REST_PAUSE)
        pauses = Range(REST_PAUSES.low * pause.low, REST_PAUSES.high * pause.high)
        yield from (half, Step("rest", pauses, exercise.id), half)
    else:
        yield Step("work", work, exercise.id)


def _metre_seconds(exercise: Exercise) -> tuple[Fraction, bool]:
    """Return the seconds of one metre, and whether the library says so."""
    entry = exercise.match.entry if exercise.match else None
    if entry and entry.metre_pace:
        return entry.metre_pace, True
    return (entry.pace, True) if entry and entry.unit == "metres" else (METRE_SECONDS, False)


def _is_in_reps(exercise: Exercise) -> bool:
    return exercise.match is not None and exercise.match.entry.unit == "reps"


def _is_hold(exercise: Exercise) -> bool:
    """Tell whether the movement is counted in time or distance, so that "max" is no number of repetitions."""
    return exercise.match is not None and exercise.match.entry.unit != "reps"


def _by(seconds: Seconds, factor: Fraction) -> Seconds:
    return Range(seconds.low * factor, seconds.high * factor)


def _s(seconds: Seconds) -> str:
    return write_range(seconds, "s")
