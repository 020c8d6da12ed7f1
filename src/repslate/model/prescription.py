"""The trade's notation for what to do in an exercise: what it says, and how it is written.

Reading it is the longer half and stands in notation.py; parse("3 × 10–12 per side, rest 60 s") here is the way in.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import Enum, StrEnum
from fractions import Fraction

from repslate.model.quantity import Mass, Range
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


@dataclass(frozen=True, slots=True)
class WorkingShare:
    """Load as a share of the working load, in per cent."""

    percent: Range[Decimal]


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
class Band:
    """An elastic band, unmeasured."""


Load = OneRepMaxShare | WorkingShare | Weight | Bodyweight | Band


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
