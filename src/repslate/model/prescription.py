"""The trade's notation for what to do in an exercise, read and written: parse("3 × 10–12 per side, rest 60 s")."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.quantity import Mass, Range


@dataclass(frozen=True, slots=True)
class Reps:
    """Repetitions: one range for every set, or one for each set in turn ("12/10/8")."""

    each: tuple[Range[int], ...]


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
    """As many good repetitions as possible."""


Work = Reps | Timed | Distance | Maximum


@dataclass(frozen=True, slots=True)
class OneRepMaxShare:
    """Load as a share of the one-repetition maximum, in per cent."""

    percent: Range[Decimal]


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


@dataclass(frozen=True, slots=True)
class Tempo:
    """Lowering, pause at the bottom, lifting, pause at the top, in whole seconds; None is X, as fast as possible.

    The first phase is always the eccentric one, also in lifts that begin with the lift (common practice, no source).
    """

    phases: tuple[int | None, int | None, int | None, int | None]


@dataclass(frozen=True, slots=True)
class Drops:
    """Drop sets: `count` reductions of `percent` of the load, each done at once."""

    count: int
    percent: Range[Decimal]


@dataclass(frozen=True, slots=True)
class Prescription:
    """Everything the one line under an exercise's heading says; None where it says nothing.

    `sets` is None where the block's rounds say it. `rest` is in seconds, after the exercise. `cluster` holds the
    repetitions of each part of a cluster set.
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
