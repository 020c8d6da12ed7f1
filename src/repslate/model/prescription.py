"""The trade's notation for what to do in an exercise: what it says, and how it is written.

Reading it is the longer half and stands in notation.py; parse("3 × 10–12 per side, rest 60 s") here is the way in.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import Enum, StrEnum
from fractions import Fraction

from repslate.model.quantity import Mass, MassUnit, Range
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Reps:
    """Repetitions: one range for every set, or one for each set in turn ("12/10/8")."""

    each: tuple[Range[int], ...]


class Tally(StrEnum):
    """What else is counted one by one, as it is written behind a figure above one."""

    CALORIES = "cal"
    BREATHS = "breaths"
    STEPS = "steps"
    LENGTHS = "lengths"


@dataclass(frozen=True, slots=True)
class Counted:
    """Work counted in calories of a machine's display, breaths, steps or lengths; `each` as of repetitions.

    How many metres a length has is not known.
    """

    each: tuple[Range[int], ...]
    of: Tally


@dataclass(frozen=True, slots=True)
class Timed:
    """Work or a hold for a length of time, in seconds."""

    seconds: Range[Fraction]


@dataclass(frozen=True, slots=True)
class Distance:
    """Work over a distance, in metres."""

    metres: Range[Decimal]


@dataclass(frozen=True, slots=True)
class Maximum:
    """As many good repetitions as possible; the trade's "to failure" is read as this (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Complex:
    """Repetitions of each of several movements in turn, all of them one set: (1 + 2)."""

    parts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TwentyOnes:
    """The trade's 21s: 7 repetitions in the lower half, 7 in the upper half, 7 whole ones (common practice)."""


@dataclass(frozen=True, slots=True)
class MyoReps:
    """A set of `first` repetitions, then `minis` small sets of `reps` after a few breaths each (common practice)."""

    first: Range[int]
    minis: Range[int]
    reps: Range[int]


Work = Reps | Counted | Timed | Distance | Maximum | Complex | TwentyOnes | MyoReps


@dataclass(frozen=True, slots=True)
class OneRepMaxShare:
    """Load as a share of the one-repetition maximum, in per cent; `named` tells that the line says of what."""

    percent: Range[Decimal]
    named: bool = field(default=True, compare=False)


#: Of the one-repetition maximum, in per cent, what plans reckon with in its place: common practice, no source.
TRAINING_MAX = Decimal(90)
WHOLE = Range(Decimal(100), Decimal(100))


@dataclass(frozen=True, slots=True)
class TrainingMaxShare:
    """Load as a share of a training max, in per cent; `training_max` is the episode's, in per cent of the maximum."""

    percent: Range[Decimal]
    training_max: Decimal = field(default=TRAINING_MAX, compare=False)


@dataclass(frozen=True, slots=True)
class RepMaxShare:
    """The load that allows just so many repetitions ("8RM"), or a share of it, in per cent; of two and more."""

    reps: Range[int]
    percent: Range[Decimal] = WHOLE


@dataclass(frozen=True, slots=True)
class WorkingShare:
    """Load as a share of the working load, in per cent."""

    percent: Range[Decimal]


@dataclass(frozen=True, slots=True)
class TopSetShare:
    """Load as a share of the heaviest set before it, in per cent; "−12 %" is 88."""

    percent: Range[Decimal]


@dataclass(frozen=True, slots=True)
class BodyweightShare:
    """Load as a share of the body's own weight, in per cent; 1.5 times it is 150."""

    percent: Range[Decimal]


@dataclass(frozen=True, slots=True)
class WordedShare:
    """Load as a share of something else, in per cent and the trainer's words: of another lift ("105 % of snatch")."""

    percent: Range[Decimal]
    of: str


@dataclass(frozen=True, slots=True)
class Weight:
    """An absolute load; `pieces` is 2 for "2 × 24 kg" (one in each hand)."""

    mass: Mass
    pieces: int = 1


@dataclass(frozen=True, slots=True)
class Bodyweight:
    """The body itself, with or without `added` load."""

    added: Mass | None = None


@dataclass(frozen=True, slots=True)
class TwoLevels:
    """A load for each of two levels, never a range between them ("24 / 16 kg"); `pieces` as of a weight."""

    first: Decimal
    second: Decimal
    unit: MassUnit
    pieces: int = 1

    @property
    def masses(self) -> tuple[Mass, Mass]:
        """Both loads."""
        return Mass(Range(self.first, self.first), self.unit), Mass(Range(self.second, self.second), self.unit)


@dataclass(frozen=True, slots=True)
class Band:
    """An elastic band, unmeasured; `kind` is what the line calls it ("red"), "" where it says nothing."""

    kind: str = ""


@dataclass(frozen=True, slots=True)
class EmptyBar:
    """The bar without plates."""


@dataclass(frozen=True, slots=True)
class WordedLoad:
    """A load in the trainer's words: "as heavy as possible"."""

    words: str


Share = OneRepMaxShare | TrainingMaxShare | RepMaxShare | WorkingShare | TopSetShare | BodyweightShare | WordedShare
Load = Share | Weight | TwoLevels | Bodyweight | Band | EmptyBar | WordedLoad


def masses_of(load: Load | None) -> tuple[Mass, ...]:
    """Return the weights that a load names: of one piece, of both levels, or what the body has added."""
    match load:
        case Weight(mass):
            return (mass,)
        case TwoLevels():
            return load.masses
        case Bodyweight(added) if added:
            return (added,)
    return ()


def of_one_rep_max(load: Load | None) -> Range[Decimal] | None:
    """Return a share of the one-repetition maximum or of a training max as one of the former, exact, in per cent."""
    match load:
        case OneRepMaxShare(percent):
            return percent
        case TrainingMaxShare(percent, training_max):
            return Range(percent.low * training_max / 100, percent.high * training_max / 100)
    return None


@dataclass(frozen=True, slots=True)
class Exertion:
    """Rating of perceived exertion, 1 to 10, halves allowed ("RPE 8")."""

    rating: Range[Decimal]


@dataclass(frozen=True, slots=True)
class Reserve:
    """Repetitions left in reserve ("leave 2 in reserve")."""

    reps: Range[int]


Effort = Exertion | Reserve


class Unsaid(Enum):
    """A phase of a tempo that the line leaves open."""

    UNSAID = "?"


Phase = int | Unsaid | None


@dataclass(frozen=True, slots=True)
class Tempo:
    """Lowering, pause at the bottom, lifting, pause at the top, in whole seconds; None is X, as fast as possible.

    "3-1-1" leaves the pause at the top unsaid, "3 s down" all but the lowering. The first phase is always the
    eccentric one, also in lifts that begin with the lift (common practice, no source).
    """

    phases: tuple[Phase, Phase, Phase, Phase]


@dataclass(frozen=True, slots=True)
class Drops:
    """Drop sets: `count` reductions of `percent` of the load, each done at once; None where the line says no size."""

    count: int
    percent: Range[Decimal] | None

    @property
    def fall(self) -> bool:
        """Whether each drop leaves less than before, and something."""
        return self.percent is None or (self.percent.low > 0 and self.percent.high < 100)


@dataclass(frozen=True, slots=True)
class Prescription:
    """Everything the one line under an exercise's heading says; None where it says nothing.

    `sets` is None where the block's rounds or a list of repetitions ("12/10/8") say it. `rest` is in seconds, after
    the exercise. `cluster` holds the repetitions of each part of a cluster set. `partials` are repetitions of a part
    of the way behind those of each set, `hold` is the seconds that each repetition is held. With `open_last` the last
    set goes on to as many good repetitions as possible; "5+" and "last set max" are the same (common practice).
    `rest_as_needed` is a rest that is said and has no seconds.
    `words` are parts of which no figure could be made, as typed, without typographic quotes; they count nowhere.
    """

    sets: Range[int] | None = None
    work: Work | None = None
    per_side: bool = False
    load: Load | None = None
    effort: Effort | None = None
    tempo: Tempo | None = None
    rest: Range[Fraction] | None = None
    drops: Drops | None = None
    rest_pause: bool = False
    cluster: tuple[int, ...] = ()
    partials: Range[int] | None = None
    hold: Range[Fraction] | None = None
    open_last: bool = False
    rest_as_needed: bool = False
    words: tuple[str, ...] = ()

    @property
    def has_figures(self) -> bool:
        """Whether it says anything beside words as typed."""
        return replace(self, words=()) != Prescription()

    @property
    def each(self) -> tuple[Range[int], ...]:
        """The figures of work that is counted: one for every set, or one for each in turn; () of all other work."""
        return self.work.each if isinstance(self.work, Reps | Counted) else ()

    @property
    def reps(self) -> tuple[Range[int], ...]:
        """The repetitions of a set, whatever parts it has: one range, or one for each set in turn; () of other work."""
        match self.work:
            case Reps(each):
                return each
            case Complex(parts):
                return (Range(sum(parts), sum(parts)),)
            case TwentyOnes():
                return (Range(21, 21),)
            case MyoReps(first, minis, reps):
                return (Range(first.low + minis.low * reps.low, first.high + minis.high * reps.high),)
        return ()

    @property
    def says_rest(self) -> bool:
        """Whether it tells how long to rest, be it as needed."""
        return self.rest is not None or self.rest_as_needed

    @property
    def is_in_reps(self) -> bool:
        """Whether the work is repetitions, of which each may be held."""
        return bool(self.reps) or isinstance(self.work, Maximum)


def parse(text: str, span: Span) -> tuple[Prescription | None, tuple[Finding, ...]]:
    """Read one line of notation that stands at `span`; None if any finding is an error. "" says nothing: no finding.

    What stands in double quotes, straight or typographic, is taken for words as typed. Read figures have at most six
    digits, and two behind a decimal mark.
    """
    from repslate.model import notation  # the grammar imports the dataclasses above

    return notation.read(text, span)


def looks_like(text: str) -> bool:
    """Tell whether a line is a prescription, or an attempt at one whose findings the trainer should see; else prose.

    What is longer than any prescription is prose.
    """
    from repslate.model import notation

    return len(text) <= DOSE and notation.is_attempt(text)


def write(p: Prescription) -> str:
    """Write the canonical form, which `parse` reads back to the same prescription."""
    from repslate.model import notation_written

    return notation_written.write(p)
