"""Sets for each muscle and head: in full where it is trained directly, by half where it only helps.

Half: fractional counting had the strongest evidence of three ways to count (Pelland, Remmert, Robinson, Hinson &
Zourdos 2024, SportRxiv preprint, 67 studies). Which muscle is direct is the trainer's “Muscles:”, else the library's.

Our policy for what is one set: both sides of a one-sided exercise; a drop set, rest-pause or cluster set with all its
parts; in a block that starts every minute, one minute's work. Not counted, and listed with the reason: warm-ups and
cool-downs; mobility, balance and breathing, which are no sets of a resistance exercise; rounds against the clock, whose
number nobody knows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction

from repslate.model.episode import Block, Episode, Exercise
from repslate.model.library import Library
from repslate.model.quantity import Range
from repslate.model.sets import ONCE, done, sets_of, turns_of
from repslate.training.movement import is_working

HALF = Fraction(1, 2)  # of a set, for a muscle that helps: Pelland et al. 2024
_NO_RESISTANCE = frozenset({"mobility", "balance", "breathing"})  # patterns of the library
_NONE = Range(Fraction(0), Fraction(0))


class Reason(StrEnum):
    """Why an exercise adds to no muscle, in words that a reader understands."""

    AROUND = "warm-up or cool-down"
    NO_RESISTANCE = "mobility, balance or breathing"
    MUSCLES_UNKNOWN = "muscles not known"
    ROUNDS_UNKNOWN = "number of rounds not known"
    SETS_UNKNOWN = "number of sets not written"


@dataclass(frozen=True, slots=True)
class NotCounted:
    """An exercise (its id and name) that adds to no muscle."""

    exercise: str
    name: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class Trained:
    """The muscles, heads or parts that an exercise trains, as the library spells them: directly, and as helpers."""

    direct: tuple[str, ...] = ()
    helping: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MuscleSets:
    """The sets of one muscle: `total` is `direct` and `half_counted` together, the latter halved already.

    `shown` is what a viewer calls the muscle. `exercises` are the ids of those that add to it, in their order. `parts`
    are the heads that an exercise names; a set counts once for the whole, however many of its heads it trains.
    """

    muscle: str
    shown: str
    direct: Range[Fraction]
    half_counted: Range[Fraction]
    total: Range[Fraction]
    exercises: tuple[str, ...]
    parts: tuple[MuscleSets, ...] = ()


class Band(StrEnum):
    """Where the sets of a week stand."""

    LOW = "low"
    MODERATE = "moderate"
    HIGH = "high"
    VERY_HIGH = "very high"


@dataclass(frozen=True, slots=True)
class WeekSets:
    """The sets of one muscle in a week; `episodes` are the slugs of those that add to it.

    `bands` are all that the total reaches from its low to its high figure; none where the week is a single session.
    """

    muscle: str
    shown: str
    direct: Range[Fraction]
    half_counted: Range[Fraction]
    total: Range[Fraction]
    episodes: tuple[str, ...]
    bands: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """One ISO 8601 week of a series, by its Monday; `episodes` are slugs.

    A single session is never judged against figures for a week: its sets only count toward one.
    """

    monday: date
    episodes: tuple[str, ...]
    muscles: tuple[WeekSets, ...]


@dataclass(slots=True)
class _Sum:
    direct: Range[Fraction] = _NONE
    half_counted: Range[Fraction] = _NONE
    sources: dict[str, None] = field(default_factory=dict)

    def add(self, direct: Range[Fraction], half_counted: Range[Fraction], source: str) -> None:
        self.direct = _plus(self.direct, direct)
        self.half_counted = _plus(self.half_counted, half_counted)
        self.sources[source] = None

    @property
    def total(self) -> Range[Fraction]:
        return _plus(self.direct, self.half_counted)


def volume(episode: Episode, library: Library) -> tuple[MuscleSets, ...]:
    """Return the sets of every muscle that a counted exercise trains, the most first."""
    sums: dict[str, _Sum] = {}
    for exercise, sets, trained in _counted(episode, library):
        done = Range(Fraction(sets.low), Fraction(sets.high))
        for muscle, is_direct in _weighed(trained, library).items():
            half = Range(done.low * HALF, done.high * HALF)
            one = sums.setdefault(muscle, _Sum())
            one.add(done if is_direct else _NONE, _NONE if is_direct else half, exercise.id)
    return _rows((name for name in sums if library.muscles[name].counts_as == name), sums, library)


def not_counted(episode: Episode, library: Library) -> tuple[NotCounted, ...]:
    """Return the exercises that `volume` leaves out, in their order, each with the reason."""
    found = ((exercise, why_not(block, exercise, library)) for block, exercise in episode.exercises())
    return tuple(NotCounted(exercise.id, exercise.name, reason) for exercise, reason in found if reason)


def working_sets(episode: Episode, library: Library) -> Range[int]:
    """Return the number of sets that `volume` counts."""
    done = [sets for _, sets, _ in _counted(episode, library)]
    return Range(sum(sets.low for sets in done), sum(sets.high for sets in done))


def trained_by(exercise: Exercise, library: Library) -> Trained:
    """Return what an exercise trains; the trainer's own “Muscles:” stand in place of the library's and are direct."""
    if exercise.muscles:
        said = (muscle for word in exercise.muscles for muscle in library.muscle(word.text))
        return Trained(tuple(dict.fromkeys(said)))
    if exercise.match is None:
        return Trained()
    return Trained(exercise.match.entry.muscles, exercise.match.entry.secondary)


def why_not(block: Block, exercise: Exercise, library: Library) -> Reason | None:
    """Return why an exercise is not counted, None if it is."""
    if not is_working(block):
        return Reason.AROUND
    if block.form.is_easy:
        return Reason.NO_RESISTANCE
    if exercise.match is not None and exercise.match.entry.pattern in _NO_RESISTANCE:
        return Reason.NO_RESISTANCE
    if trained_by(exercise, library) == Trained():
        return Reason.MUSCLES_UNKNOWN
    if done_sets(block, exercise) is None:
        return Reason.ROUNDS_UNKNOWN if block.is_open else Reason.SETS_UNKNOWN
    return None


def done_sets(block: Block, exercise: Exercise) -> Range[int] | None:
    """Return how many sets are counted: those written, else one of what has a dose; None where that is unknown."""
    is_by_clock = block.form.on_the_clock or block.is_open or turns_of(block) is not None
    if is_by_clock or done(block, exercise).work is None or exercise.parts:
        return sets_of(block, exercise)
    return sets_of(block, exercise) or ONCE


def bands(total: Range[Fraction]) -> tuple[Band, ...]:
    """Return the bands that the sets of a week reach, from the low figure to the high one."""
    order = tuple(Band)
    return order[order.index(_band(total.low)) : order.index(_band(total.high)) + 1]


def week(episodes: Iterable[Episode], library: Library) -> tuple[tuple[Week, ...], tuple[str, ...]]:
    """Return the weeks of a series in order, and the slugs of the episodes without a date, which are in none.

    An episode belongs to the week in which it is published, when viewers train with it, else to that of the recording.
    """
    dated: dict[date, list[Episode]] = {}
    undated: list[str] = []
    for episode in episodes:
        day = episode.published or episode.recorded
        if day is None:
            undated.append(episode.slug)
        else:
            dated.setdefault(day - timedelta(days=day.weekday()), []).append(episode)
    return tuple(_week(monday, dated[monday], library) for monday in sorted(dated)), tuple(undated)


def _week(monday: date, episodes: list[Episode], library: Library) -> Week:
    sums: dict[str, _Sum] = {}
    for episode in episodes:
        for row in volume(episode, library):
            sums.setdefault(row.muscle, _Sum()).add(row.direct, row.half_counted, episode.slug)
    rows = tuple(
        WeekSets(
            row.muscle,
            row.shown,
            row.direct,
            row.half_counted,
            row.total,
            row.exercises,
            bands(row.total) if len(episodes) > 1 else (),
        )
        for row in _rows(sums, sums, library)
    )
    return Week(monday, tuple(episode.slug for episode in episodes), rows)


def _band(sets: Fraction) -> Band:
    """Return the band of a week's fractional sets; for display, not for judging a single session.

    At least 4: Iversen et al. 2021, Sports Med 51:2079–2095. At least 10: ACSM 2026 (overview of reviews, Med Sci
    Sports Exerc) and the highest tier of Schoenfeld, Ogborn & Krieger 2017, J Sports Sci 35(11):1073–1082. Up to 20:
    Baz-Valle et al. 2022, J Hum Kinet 81:199–210. That these are our bands is our policy.
    """
    if sets < 4:
        return Band.LOW
    if sets < 10:
        return Band.MODERATE
    return Band.HIGH if sets <= 20 else Band.VERY_HIGH


def _counted(episode: Episode, library: Library) -> Iterator[tuple[Exercise, Range[int], Trained]]:
    for block, exercise in episode.exercises():
        sets = done_sets(block, exercise)
        if sets is not None and why_not(block, exercise, library) is None:
            yield exercise, sets, trained_by(exercise, library)


def _weighed(trained: Trained, library: Library) -> dict[str, bool]:
    """Return each muscle and each named head with whether it is trained directly; the whole takes its best head's."""
    found: dict[str, bool] = {}
    for names, is_direct in ((trained.direct, True), (trained.helping, False)):
        for name in names:
            found.setdefault(name, is_direct)
            found.setdefault(library.muscles[name].counts_as, is_direct)
    return found


def _rows(names: Iterable[str], sums: dict[str, _Sum], library: Library) -> tuple[MuscleSets, ...]:
    """Return a row for each name, the most sets first, then the most direct ones, then in the order of the alphabet."""
    found = []
    for name in names:
        one = sums[name]
        heads = (part for part in sums if part != name and library.muscles[part].counts_as == name)
        parts = _rows(heads, sums, library)
        shown = library.muscles[name].shown
        found.append(MuscleSets(name, shown, one.direct, one.half_counted, one.total, tuple(one.sources), parts))

    def rank(row: MuscleSets) -> tuple[Fraction, Fraction, str]:
        return -(row.total.low + row.total.high), -(row.direct.low + row.direct.high), row.muscle

    return tuple(sorted(found, key=rank))


def _plus(one: Range[Fraction], other: Range[Fraction]) -> Range[Fraction]:
    return Range(one.low + other.low, one.high + other.high)
