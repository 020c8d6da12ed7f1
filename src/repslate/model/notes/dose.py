"""What one part of a prescription asks, in figures, with the words of which no figure could be made."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.amounts import Amount
from repslate.model.quantity import Range

Figures = Range[Decimal]


@dataclass(frozen=True, slots=True)
class TypedLoad:
    """A load as typed: one figure or range, one for each set, or two levels of which each picks one.

    `kind` is kg, lb, mass (no unit on the line), percent_1rm, percent_tm, percent_of_5rm, rep_max, percent_off_top,
    fraction_bodyweight, bodyweight, band, rpe, rir, pace, zone, rate_spm, rate_rpm, percent_ftp, percent_hrmax or words.
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
    """An exercise as typed: its label and name, "" where none stands there, and its parts in turn."""

    label: str = ""
    name: str = ""
    parts: list[Dose] = field(default_factory=list)


ONE = Range(Decimal(1), Decimal(1))


LONGEST_HOLD = 10  # seconds of a hold inside a repetition; "10 × 6 s hold" is ten of them, "3 × 45 s hold" three sets


FEWEST_HELD = 5


LIGHTEST = 20


@dataclass(slots=True)
class Found:
    """The token behind what was read, and the fields it fills; `may_begin`: it can be the first of another part."""

    end: int
    fields: dict[str, object] = field(default_factory=dict)
    may_begin: bool = False


def work_fields(amount: Amount) -> dict[str, object] | None:
    """Return the field that an amount of work fills; None for what is no work."""
    name = {
        "s": "seconds", "m": "metres", "cal": "calories", "breath": "breaths", "step": "steps",
    }.get(amount.unit)  # fmt: skip
    if name:
        return {name: amount.figures}
    if amount.unit in ("", "rep"):
        return {"reps": (amount.figures,), **({"open_last": True} if amount.is_open else {})}
    return None
