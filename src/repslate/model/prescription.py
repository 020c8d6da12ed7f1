"""The trade's notation for what to do in an exercise: what it says, and how it is written.

Reading it is the longer half and stands in notation.py; parse("3 × 10–12 per side, rest 60 s") here is the way in.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction

from repslate.model.quantity import Mass, Range, write_range, write_seconds
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding
from repslate.source.span import Span


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
    """As many good repetitions as possible; the trade's "to failure" is read as this (common practice, no source)."""


Work = Reps | Timed | Distance | Maximum


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

    @property
    def fall(self) -> bool:
        """Whether each drop leaves less than before, and something."""
        return self.percent.low > 0 and self.percent.high < 100


@dataclass(frozen=True, slots=True)
class Prescription:
    """Everything the one line under an exercise's heading says; None where it says nothing.

    `sets` is None where the block's rounds or a list of repetitions ("12/10/8") say it. `rest` is in seconds, after
    the exercise. `cluster` holds the repetitions of each part of a cluster set. `words` are parts of which no figure
    could be made, as typed, without typographic quotes in them; they count nowhere.
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
    words: tuple[str, ...] = ()

    @property
    def has_figures(self) -> bool:
        """Whether it says anything beside words as typed."""
        return replace(self, words=()) != Prescription()


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
    parts = (
        " ".join(filter(None, (_write_work(p), "per side" if p.per_side else "", _write_load(p.load)))),
        "tempo " + "-".join("X" if phase is None else str(phase) for phase in p.tempo.phases) if p.tempo else "",
        _write_effort(p.effort),
        _write_drops(p.drops),
        "rest-pause" if p.rest_pause else "",
        "cluster " + "+".join(map(str, p.cluster)) if p.cluster else "",
        f"rest {write_seconds(p.rest)}" if p.rest else "",
        *(f"“{words}”" for words in p.words),
    )
    return ", ".join(filter(None, parts))


def _write_work(p: Prescription) -> str:
    sets = write_range(p.sets) if p.sets else ""
    if p.work is None:
        return sets and f"{sets} {'set' if sets == '1' else 'sets'}"
    match p.work:
        case Reps(each):
            dose = "/".join(write_range(reps) for reps in each)
            if not sets and len(each) == 1:
                dose += " rep" if dose == "1" else " reps"
        case Timed(seconds):
            dose = write_seconds(seconds)
        case Distance(metres):
            dose = write_range(metres, "m")
        case Maximum():
            dose = "max"
    return f"{sets} × {dose}" if sets else dose


def _write_load(load: Load | None) -> str:
    match load:
        case OneRepMaxShare(percent):
            return f"@ {write_range(percent, '%')} 1RM"
        case WorkingShare(percent):
            return f"@ {write_range(percent, '%')} of working load"
        case Weight(mass, pieces):
            return f"@ {_write_mass(mass)}" if pieces == 1 else f"@ {pieces} × {_write_mass(mass)}"
        case Bodyweight(added):
            return f"@ bodyweight + {_write_mass(added)}" if added else "@ bodyweight"
        case Band():
            return "@ band"
        case None:
            return ""


def _write_mass(mass: Mass) -> str:
    return write_range(mass.amount, mass.unit)


def _write_effort(effort: Effort | None) -> str:
    match effort:
        case Exertion(rating):
            return f"RPE {write_range(rating)}"
        case Reserve(reps):
            return f"leave {write_range(reps)} in reserve"
        case None:
            return ""


def _write_drops(drops: Drops | None) -> str:
    if drops is None:
        return ""
    return f"{drops.count} {'drop' if drops.count == 1 else 'drops'} of {write_range(drops.percent, '%')}"
