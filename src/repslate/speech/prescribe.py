"""What a drafted plan prescribes: of all the figures said of an exercise or a block, those that count.

Nothing is made up: what nobody said is a gap.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import takewhile, zip_longest

from repslate.model.block_heading import BlockHeading
from repslate.model.forms import AFTER_WORK, BEFORE_WORK, PLAIN, ROUNDS_ONLY, BlockKind, by_size, form_of, resized
from repslate.model.prescription import Maximum, Prescription, Reps, Tempo, Work
from repslate.model.quantity import Range
from repslate.speech.heard import Heard, HeardFigure, OpenEnded
from repslate.speech.pick_figure import (
    BREATH,
    WORK,
    differing,
    effort_of,
    in_order,
    is_same_dose,
    load_of,
    ramp_of,
    ramped,
    seconds_of,
    settled,
    whole_of,
    with_alternative,
    with_field,
    work_of,
)
from repslate.speech.plan import Subject
from repslate.speech.words import quote

_COUNTS = ("sets", "rounds")
_AROUND = frozenset({"mobility", "breathing"})  # patterns of the library
_TO_GET_WARM = frozenset({"locomotion"})
_UNSETTLED = Fraction(2, 5)  # how sure a figure is that nothing but the place speaks for
_MANY_ROUNDS = 5  # more likely repetitions where nothing else is said to do
_LONG_AFTER = 80  # words behind the work, where "two rounds" is of something else
_SHORT_HOLD = 10  # seconds; of an exercise that is counted, less is a pause within a repetition (our choice)
# Common practice, no source: how a rest from one exercise to the next is told from one after the round.
_LONGEST_REST = 1200  # seconds; nobody rests longer, so that it was said of something else
_LONG_REST = 60  # seconds, from which "off" is after the round
_BETWEEN_EXERCISES = frozenset("off exercises exercise moves stations station change changeover swap".split())
_AFTER_ROUND = frozenset("round rounds circuit circuits lap laps end through loop pair both trip trips".split())


@dataclass(frozen=True, slots=True)
class DraftedExercise:
    """An exercise as drafted, the subject `at` of its part of the plan.

    `said` are the figures that the line rests on, `aside` others that were said of it, `gaps` what was not said.
    """

    at: int
    subject: Subject
    prescription: Prescription
    said: tuple[HeardFigure, ...] = ()
    aside: tuple[HeardFigure, ...] = ()
    gaps: tuple[str, ...] = ()
    open_ended: str = ""


@dataclass(frozen=True, slots=True)
class DraftedBlock:
    """A block as drafted, in the same terms; `part` is its index in the plan.

    `around` tells that it stands before or after the work of its part: what is said of the part is not about it.
    """

    part: int
    heading: BlockHeading
    exercises: tuple[DraftedExercise, ...]
    said: tuple[HeardFigure, ...] = ()
    aside: tuple[HeardFigure, ...] = ()
    gaps: tuple[str, ...] = ()
    around: bool = False


def dose(heard: Heard) -> tuple[DraftedBlock, ...]:
    """Return what was said as blocks and exercises, in the order of the plan.

    An exercise that is spoken of again without a dose (a recap) stands once, and a block without one is left out.
    """
    parts = [_Part(heard, *segment) for segment in _segments(heard) if segment[1]]
    kinds = [part.kind for part in parts]
    return tuple(
        part.drafted(str(kinds[: at + 1].count(part.kind)) if kinds.count(part.kind) > 1 else "")
        for at, part in enumerate(parts)
    )


def _segments(heard: Heard) -> Iterator[tuple[int, tuple[Subject, ...], BlockKind | None]]:
    """Yield the exercises of each block; what comes before and after the work is a block of its own.

    Stretches at the end of the last straight sets, of which no sets are said, are the cool-down, whether it was called
    so or not; such and machines to get warm on at the beginning of the first are the warm-up (common practice).
    """
    passing = _in_passing(heard)
    several = {one.exercise.id for one in heard.figures if one.exercise and one.field in _COUNTS and one.high > 1}
    for index, part in enumerate(heard.plan):
        subjects = tuple(subject for subject in part.subjects if subject.id not in passing)
        first = last = 0
        if part.form.in_sets:
            loose = [_eases(subject, _AROUND | _TO_GET_WARM) and subject.id not in several for subject in subjects]
            stretch = [_eases(subject, _AROUND) and subject.id not in several for subject in subjects]
            if index == 0 and not _has(heard, "before"):
                first = len(list(takewhile(bool, loose)))
            if index == len(heard.plan) - 1 and not _has(heard, "after"):
                last = len(list(takewhile(bool, reversed(stretch))))
            if len(heard.plan) == 1 and first + last >= len(subjects):
                first = last = 0  # all of it is stretches: they are the work
        end = max(first, len(subjects) - last)
        yield index, subjects[:first], BEFORE_WORK
        yield index, subjects[first:end], None
        yield index, subjects[end:], AFTER_WORK


def _has(heard: Heard, stands: str) -> bool:
    return any(part.form.stands == stands for part in heard.plan)


def _eases(subject: Subject, patterns: Collection[str]) -> bool:
    return subject.entry is not None and subject.entry.pattern in patterns


def _in_passing(heard: Heard) -> frozenset[str]:
    """Return the ids of exercises that are named without a dose while the same one has it elsewhere."""
    dosed = {one.exercise.id for one in heard.figures if one.exercise and one.field in WORK}
    dosed |= {one.exercise.id for one in heard.open_ended if one.exercise}
    subjects = [subject for part in heard.plan for subject in part.subjects]
    names = {subject.name for subject in subjects if subject.id in dosed}
    return frozenset(subject.id for subject in subjects if subject.name in names and subject.id not in dosed)


class _Part:
    """One block: its own figures, those of each of its exercises, and what they come to."""

    def __init__(self, heard: Heard, index: int, subjects: tuple[Subject, ...], around: BlockKind | None) -> None:
        """`around` is the kind of a block before or after the work of its part; None for the work itself."""
        self.heard, self.index, self.part = heard, index, heard.plan[index]
        self.subjects, self.around = subjects, around
        self.own: list[HeardFigure] = []
        self.each: dict[str, list[HeardFigure]] = {subject.id: [] for subject in self.part.subjects}
        for figure in heard.figures:
            if figure.part == index:
                owner = figure.exercise or self._sole(figure)
                if owner or not around:
                    (self.each[owner.id] if owner else self.own).append(figure)
        self.kind = around or self._kind()
        self.form = form_of(self.kind)

    def _sole(self, figure: HeardFigure) -> Subject | None:
        """Return the exercise that a figure of straight sets belongs to though it sounds like one of a whole block."""
        subjects = self.part.subjects
        if len(self.subjects) == 1 and not self.around:
            return None if self.part.form.on_the_clock else self.subjects[0]
        topic = next((one for one in reversed(self.heard.topics) if one.word <= figure.first), None)
        if self.part.form.in_rounds or self.part.form.on_the_clock or topic is None or topic.part != self.index:
            return None
        return subjects[topic.subject] if topic.subject is not None and self.part.form.in_sets else None

    def _kind(self) -> BlockKind:
        """Return the kind of the block; exercises that go round together are no straight sets."""
        rounds = any(figure.field == "rounds" and figure.low >= 2 for figure in self.own)
        count = len(self.subjects)
        if self.part.form.in_sets:
            return by_size(count, more=ROUNDS_ONLY) if rounds else self.part.kind
        if self.part.form.has_stations and count == 1:
            return PLAIN
        return resized(self.part.kind, count)

    def drafted(self, number: str) -> DraftedBlock:
        chosen: list[HeardFigure] = []
        rounds = self._rounds(chosen)
        between, after = self._rests(chosen)
        clock = self._clock(chosen, rounds)
        if clock is not None and self.form.on_the_clock:
            rounds = None
        heading = BlockHeading(self.kind, number, rounds=rounds, rest=after, clock=clock)
        exercises = tuple(self._exercise(subject, rounds, between, after, chosen) for subject in self.subjects)
        used = {id(figure) for one in exercises for figure in one.said} | {id(figure) for figure in chosen}
        aside = differing([figure for figure in self.own if id(figure) not in used], [*chosen, *_said(exercises)])
        return DraftedBlock(
            self.index, heading, exercises, tuple(chosen), tuple(aside), tuple(self._gaps(heading)), bool(self.around)
        )

    def _gaps(self, heading: BlockHeading) -> Iterator[str]:
        if self.form.in_rounds and heading.rounds is None:
            yield "how many rounds"
        if self.form.in_rounds and heading.rest is None and (heading.rounds is None or heading.rounds.high > 1):
            yield "the rest after a round"
        if self.form.on_the_clock and heading.clock is None:
            yield "how long the clock runs"

    def _rounds(self, chosen: list[HeardFigure]) -> Range[int] | None:
        """Return the rounds said of the block, else of supersets and the like the sets on which all exercises agree."""
        if self.form.in_sets or (len(self.subjects) == 1 and not self.form.on_the_clock):
            return None
        own = [figure for figure in self.own if figure.field in ("rounds", "sets")]
        if own:
            return whole_of(with_alternative(own, self.heard, chosen))
        sets = [settled(with_field(figures, "sets"), self.heard) for figures in self.each.values()]
        said = [figure for figure in sets if figure]
        if self.form.in_rounds and said and len({(one.low, one.high) for one in said}) == 1:
            chosen.append(said[0])
            return whole_of(said[0])
        return None

    def _rests(self, chosen: list[HeardFigure]) -> tuple[Range[Fraction] | None, Range[Fraction] | None]:
        """Return the rest between exercises and that after the round, where they are said of the whole block."""
        rests = _rests_of(self.own)
        if not rests and self.form.in_rounds:
            rests = in_order(one for figures in self.each.values() for one in _rests_of(figures))
        if not rests or self.form.on_the_clock:
            return None, None
        between = [figure for figure in rests if self._is_between(figure, len(rests) > 1)]
        after = [figure for figure in rests if figure not in between]
        found = []
        for figures in (between, after):
            first = settled(figures, self.heard)
            chosen += [first] if first else []
            found.append(seconds_of(first) if first else None)
        return found[0], found[1]

    def _is_between(self, figure: HeardFigure, several: bool) -> bool:
        words = self.heard.words
        near = {word.text for word in words[max(0, figure.first - 6) : figure.last + 7]}
        close = {word.text for word in words[figure.last + 1 : figure.last + 4]}
        if self.form.in_rounds and "off" in close and figure.high < _LONG_REST:
            return True  # "forty on, twenty off"
        return several and bool(near & _BETWEEN_EXERCISES) and not near & _AFTER_ROUND

    def _clock(self, chosen: list[HeardFigure], rounds: Range[int] | None) -> Fraction | None:
        """Return how long a block on the clock runs: as said, else of one exercise a minute a round."""
        if not self.form.on_the_clock:
            return None
        times = [figure for figure in with_field(self.own, "seconds") if figure.low >= 120]  # shorter is the work in it
        if first := settled(times, self.heard):
            chosen.append(first)
            return first.high
        if self.form.turn is not None and rounds and len(self.subjects) == 1:
            return rounds.high * self.form.turn
        return None

    # ---- exercises

    def _exercise(
        self,
        subject: Subject,
        rounds: Range[int] | None,
        between: Range[Fraction] | None,
        after: Range[Fraction] | None,
        of_block: Sequence[HeardFigure],
    ) -> DraftedExercise:
        every = self.each[subject.id]
        ramp, others = ramp_of(every)
        figures = others if any(figure.field in WORK for figure in others) or not ramp else every
        chosen: list[HeardFigure] = []
        if ramp and figures is every:
            said = ramped(ramp)
            chosen += [figure for pair in ramp for figure in pair]
        else:
            said = Prescription(work=self._work(subject, figures, chosen))
            said = replace(said, load=load_of(figures, self.heard, chosen))
        open_ended = next((one.quote for one in self._open(subject)), "")
        if said.work is None and open_ended:
            said = replace(said, work=Maximum())
        said = replace(
            said, sets=self._sets(figures, said, rounds, chosen), effort=effort_of(figures, self.heard, chosen)
        )
        per_side = said.work is not None and any(
            one.per_side and is_same_dose(one, chosen) for one in [*every, *chosen]
        )
        said = replace(said, per_side=per_side, tempo=self._tempo(subject, chosen))
        rest = settled(_rests_of(figures), self.heard)
        if rest and not self.form.in_rounds and after is None:
            said = replace(said, rest=seconds_of(rest))
            chosen.append(rest)
        elif between is not None:
            said = replace(said, rest=between)
        aside = differing([figure for figure in every if figure not in chosen], [*chosen, *of_block])
        gaps = [*self._missing(said, after)]
        if any(figure.field == "drop_sets" for figure in aside):
            gaps.append("how much each drop takes off, such as 2 drops of 20 %")
        return DraftedExercise(
            self.part.subjects.index(subject),
            subject,
            said,
            tuple(in_order(chosen)),
            tuple(aside),
            tuple(gaps),
            open_ended,
        )

    def _work(self, subject: Subject, figures: Sequence[HeardFigure], chosen: list[HeardFigure]) -> Work | None:
        own = [figure for figure in figures if figure.field in WORK and work_of(figure)]
        counted = [figure for figure in own if figure.field == "reps"]
        if counted:
            own = [figure for figure in own if figure.field != "seconds" or figure.high >= _SHORT_HOLD]
        unit = subject.entry.unit if subject.entry else "reps"
        if unit != "reps":  # what is held or walked is seldom counted
            own = [figure for figure in own if figure.field != "reps"] or own
        figure = settled(own, self.heard) or self._unsettled(subject)
        if figure and figure.field == "reps" and any(one.time < figure.time for one in self._open(subject)):
            return None  # as many as one can; what is counted after that is no prescription
        if figure is None and not self.form.in_sets:
            shared = [one for one in self.own if one.field in WORK and one.field in (unit, "seconds")]
            if self.form.on_the_clock:
                shared = [one for one in shared if one.field != "seconds" or one.high < 60]
            figure = settled([one for one in shared if work_of(one)], self.heard)
        if figure is None:
            return None
        chosen.append(figure)
        return work_of(figure)

    def _open(self, subject: Subject) -> list[OpenEnded]:
        return [one for one in self.heard.open_ended if one.exercise and one.exercise.id == subject.id]

    def _unsettled(self, subject: Subject) -> HeardFigure | None:
        """Return the first figure said of an exercise that only a plan could have settled: here the line needs one."""
        spans = [
            (one.word, after.word if after else len(self.heard.words))
            for one, after in zip_longest(self.heard.topics, self.heard.topics[1:])
            if one.part == self.index and one.subject is not None and self.part.subjects[one.subject] is subject
        ]
        for figure in self.heard.said:
            if any(first <= figure.first < end for first, end in spans) and not figure.sure:
                field = figure.field
                if field == "rest_s" and self._open(subject):
                    field = "seconds"  # "sixty seconds, as many as you can"
                if field == "rounds" and figure.high >= _MANY_ROUNDS:
                    field = "reps"  # "five or six of those"
                words = quote(self.heard.words, figure.first, figure.end)
                made = HeardFigure(
                    self.heard.words[figure.first].start, field, figure.low, figure.high, figure.per_side, subject,
                    self.index, words, _UNSETTLED, figure.first, figure.last,
                )  # fmt: skip
                if field in WORK and work_of(made):
                    return made
        return None

    def _sets(
        self, figures: Sequence[HeardFigure], said: Prescription, rounds: Range[int] | None, chosen: list[HeardFigure]
    ) -> Range[int] | None:
        """Return the sets of its own: those said beside the work, else the first; none where the block has rounds."""
        if rounds is not None or (isinstance(said.work, Reps) and len(said.work.each) > 1):
            return None
        counts = [figure for figure in figures if figure.field in _COUNTS and whole_of(figure)]
        work = next((figure for figure in chosen if figure.field in WORK), None)
        if work:
            counts = [one for one in counts if one.first - work.last <= _LONG_AFTER]
        beside = [
            one for one in counts if work and min(abs(one.first - work.last), abs(work.first - one.last)) <= BREATH
        ]
        found = with_alternative(beside or counts, self.heard, chosen) if counts else None
        return whole_of(found)

    def _tempo(self, subject: Subject, chosen: list[HeardFigure]) -> Tempo | None:
        """Return a tempo only where all four phases are said in a row: no phase is made up."""
        phases = with_field(self.each[subject.id], "tempo_s")[:4]
        if len(phases) < 4 or phases[3].first - phases[0].first > 4 * BREATH:
            return None
        if any(one.low != one.high or one.low % 1 for one in phases):
            return None
        chosen += phases
        down, bottom, up, top = (int(one.low) for one in phases)
        return Tempo((down, bottom, up, top))

    def _missing(self, said: Prescription, after: Range[Fraction] | None) -> Iterator[str]:
        if said.work is None:
            yield "reps, a time or a distance"
        if self.form.in_sets and said.work is not None:
            several = isinstance(said.work, Reps) and len(said.work.each) > 1
            if said.sets is None and not several:
                yield "how many sets"
            if said.rest is None and after is None and (said.sets is None or said.sets.high > 1):
                yield "the rest between sets"


def _rests_of(figures: Iterable[HeardFigure]) -> list[HeardFigure]:
    """Return the rests among figures that somebody may rest for."""
    return [figure for figure in with_field(figures, "rest_s") if figure.high <= _LONGEST_REST]


def _said(exercises: Iterable[DraftedExercise]) -> list[HeardFigure]:
    return [figure for one in exercises for figure in one.said]
