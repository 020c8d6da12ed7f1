"""What one part of a prescription asks, in figures, with the words of which no figure could be made."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypedDict

from repslate.model.notes.amounts import Amount
from repslate.model.quantity import Range

Figures = Range[Decimal]


@dataclass(frozen=True, slots=True)
class TypedLoad:
    """A load as typed: one figure or range, one for each set, or two levels of which each picks one.

    `kind` is kg, lb, mass (no unit on the line), percent_1rm, percent_tm, percent_of_5rm, rep_max, percent_off_top,
    fraction_bodyweight, bodyweight, band, rpe, rir, pace, zone, rate_spm, rate_rpm, percent_ftp, percent_hrmax or
    words.
    """

    kind: str
    value: Figures | None = None
    by_set: tuple[Decimal, ...] = ()
    two_levels: tuple[Decimal, ...] = ()
    words: str = ""


@dataclass(slots=True)
class Dose:
    """One part of a prescription while it is read; times in seconds, lengths in metres; None or empty where unsaid."""

    sets: Figures | None = None
    reps: tuple[Figures, ...] = ()
    seconds: Figures | None = None
    metres: Figures | None = None
    calories: Figures | None = None
    breaths: Figures | None = None
    steps: Figures | None = None
    two_levels: tuple[str, tuple[Decimal, ...]] | None = None
    hold: Figures | None = None
    rest: Figures | None = None
    intra_rest: Figures | None = None
    rest_metres: Figures | None = None
    rest_as_needed: bool = False
    every: Decimal | None = None
    clock: Decimal | None = None
    per_side: bool = False
    alternating: bool = False
    is_max: bool = False
    open_last: bool = False
    max_last: bool = False
    complex: tuple[int, ...] = ()
    cluster: tuple[int, ...] = ()
    partials: Figures | bool | None = None
    tempo: tuple[str, ...] = ()
    drops: int | None = None
    drop_set: bool = False
    drop_last: bool = False
    rest_pause: bool = False
    myo: bool = False
    mini_sets: Figures | None = None
    mini_reps: Figures | None = None
    per_day: int | None = None
    load: TypedLoad | None = None
    effort: TypedLoad | None = None
    role: str = ""
    words: list[str] = field(default_factory=list)

    @property
    def has_work(self) -> bool:
        """Whether it says what to do in a set."""
        return bool(
            self.reps or self.seconds or self.metres or self.calories or self.breaths or self.steps or self.is_max
            or self.complex or self.two_levels
        )  # fmt: skip


@dataclass(slots=True)
class TypedExercise:
    """An exercise as typed: its label and name, "" where none stands there, its parts in turn, and its lines."""

    label: str = ""
    name: str = ""
    parts: list[Dose] = field(default_factory=list)
    typed: tuple[str, ...] = ()


ONE = Range(Decimal(1), Decimal(1))
LONGEST_HOLD = 10  # seconds of a hold inside a repetition; "10 × 6 s hold" is ten of them, "3 × 45 s hold" three sets
FEWEST_HELD = 5  # repetitions, from which on a short hold is one of each
LIGHTEST = 20  # kg or lb; what is less before "×" is a count (common practice, no source)


class Fields(TypedDict, total=False):
    """What a reader fills of a Dose, under the same names, and what it says of the part or the exercise.

    `name` is one for the exercise, `parts` stand in place of the part at hand; `part`: another one begins here; `adds`:
    it belongs to what was said before; `sided_reps` are the repetitions of a side, told behind those of both; `times`
    is "x 4", of which only the dose tells what it counts; `tm`: shares are of a training maximum;
    `is_hold`: the seconds said before are of a hold in each repetition.
    """

    sets: Figures
    reps: tuple[Figures, ...]
    seconds: Figures
    metres: Figures
    calories: Figures
    breaths: Figures
    steps: Figures
    two_levels: tuple[str, tuple[Decimal, ...]]
    hold: Figures
    rest: Figures
    intra_rest: Figures
    rest_metres: Figures
    rest_as_needed: bool
    every: Decimal
    clock: Decimal
    per_side: bool
    alternating: bool
    is_max: bool
    open_last: bool
    max_last: bool
    complex: tuple[int, ...]
    cluster: tuple[int, ...]
    partials: Figures | bool
    tempo: tuple[str, ...]
    drops: int
    drop_set: bool
    drop_last: bool
    rest_pause: bool
    myo: bool
    mini_sets: Figures
    mini_reps: Figures
    per_day: int
    load: TypedLoad
    effort: TypedLoad
    role: str
    words: list[str]
    name: str
    parts: list[Dose]
    part: bool
    adds: bool
    sided_reps: tuple[Figures, ...]
    times: Figures
    tm: bool
    is_hold: bool


@dataclass(slots=True)
class Found:
    """The piece behind what was read, and the fields it fills; `may_begin`: it can be the first of another part."""

    end: int
    fields: Fields = field(default_factory=Fields)
    may_begin: bool = False


def exactly(count: Decimal | int) -> Figures:
    """Return a single figure as a range."""
    return Range(Decimal(count), Decimal(count))


def work_fields(amount: Amount) -> Fields | None:
    """Return the field that an amount of work fills; None for what is no work."""
    figures = amount.figures
    if amount.unit in ("", "rep"):
        return {"reps": (figures,), "open_last": True} if amount.is_open else {"reps": (figures,)}
    works: dict[str, Fields] = {
        "s": {"seconds": figures}, "m": {"metres": figures}, "cal": {"calories": figures},
        "breath": {"breaths": figures}, "step": {"steps": figures},
    }  # fmt: skip
    return works.get(amount.unit)
