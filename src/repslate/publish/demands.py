"""The view of what the workout asks of a body: every computed number becomes words and rows here, rounded once.

Beside view.py, which words what the trainer wrote; no output words a figure itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.episode import Episode
from repslate.model.prescription import OneRepMaxShare, Prescription, Weight, write
from repslate.model.quantity import Mass, MassUnit, Range, write_number
from repslate.publish.drawings import Bar, Kind, MuscleRow
from repslate.training.duration import SessionTime
from repslate.training.energy import Energy
from repslate.training.load import LoadRow, Loads
from repslate.training.numbers import Numbers
from repslate.training.pace import Kind as Spent
from repslate.training.volume import MuscleSets

HALVES = {Fraction(0): "", Fraction(1, 2): "½"}
KINDS: dict[Spent, Kind] = {"work": "work", "rest": "rest", "other": "set-up"}
MOST, MORE = Fraction(2, 3), Fraction(1, 3)  # of the muscle with most sets: where the body figure's tones change


@dataclass(frozen=True, slots=True)
class LoadTableView:
    """The working load of one exercise for readers with different maxima: a heading, and (maximum, load) a row."""

    label: str
    name: str
    share: str
    rows: tuple[tuple[str, str], ...]
    source: str


@dataclass(frozen=True, slots=True)
class Demands:
    """What the workout asks of a body, in words and in rows for the drawings.

    `session` is the whole time ("42–47 min"); `levels` are 0 to 3 by muscle. `notes` say what was assumed and whose
    figures were used.
    """

    session: str
    work: str
    rest: str
    bars: tuple[Bar, ...]
    muscles: tuple[MuscleRow, ...]
    levels: dict[str, int]
    loads: tuple[LoadTableView, ...]
    energy: str
    notes: tuple[str, ...]


def word(numbers: Numbers, episode: Episode) -> Demands:
    """Put the computed numbers into words."""
    time = numbers.time
    totals = [row.total.high for row in numbers.muscles]
    return Demands(
        session=minutes(time.total) if time.total.high else "",
        work=minutes(time.work),
        rest=minutes(time.rest),
        bars=tuple(_bars(time, episode)),
        muscles=tuple(map(_muscle, numbers.muscles)),
        levels={row.muscle: _level(row.total.high, max(totals)) for row in numbers.muscles},
        loads=tuple(
            _load_table(exercise.label, exercise.name, loads)
            for _, exercise in episode.exercises()
            for loads in numbers.loads.get(exercise.id, ())
        ),
        energy=_energy(numbers.energy) if numbers.energy else "",
        notes=tuple(_notes(numbers)),
    )


def _bars(time: SessionTime, episode: Episode) -> Iterator[Bar]:
    """Yield each block's stretch, but for the last with the time to the next behind it, as the whole time has it."""
    for number, (block, spent) in enumerate(zip(episode.blocks, time.blocks, strict=True), 1):
        segments = [(KINDS[one.kind], one.seconds) for one in spent.segments]
        if time.between and number < len(time.blocks):
            segments.append(("change-over", time.between))
        yield Bar(block.name, block.letter, minutes(spent.total), tuple(segments))


def minutes(seconds: Range[Fraction]) -> str:
    """Write a length of time in whole minutes, each end to the nearest: "42–47 min", under a minute "1 min"."""
    low, high = (max(1, int(end / 60 + Fraction(1, 2))) for end in (seconds.low, seconds.high))
    return f"{low} min" if low == high else f"{low}–{high} min"


def halves(sets: Range[Fraction]) -> str:
    """Write sets in halves: "4½", "3–4½"."""
    low, high = (_half(sets.low), _half(sets.high))
    return low if low == high else f"{low}–{high}"


def _half(sets: Fraction) -> str:
    doubled = int(sets * 2 + Fraction(1, 2))
    whole, rest = divmod(doubled, 2)
    return f"{whole}{HALVES[Fraction(rest, 2)]}" if whole or not rest else "½"


def _muscle(row: MuscleSets) -> MuscleRow:
    """Draw the middle of a range; the words give both ends."""
    direct, half = ((r.low + r.high) / 2 for r in (row.direct, row.half_counted))
    return MuscleRow(row.shown, direct, half, halves(row.total))


def _level(sets: Fraction, most: Fraction) -> int:
    return 0 if not sets else 3 if sets >= most * MOST else 2 if sets >= most * MORE else 1


def _load_table(label: str, name: str, loads: Loads) -> LoadTableView:
    share = Range(_tenths(loads.percent.low), _tenths(loads.percent.high))
    return LoadTableView(
        label,
        name,
        ", ".join(filter(None, (write(Prescription(load=OneRepMaxShare(share))).removeprefix("@ "), loads.order))),
        tuple((_mass(Range(row.maximum, row.maximum), loads.unit), _load(row, loads.unit)) for row in loads.rows),
        loads.source,
    )


def _load(row: LoadRow, unit: MassUnit) -> str:
    if row.loaded is None:
        return _mass(row.exact, unit)
    low, high = row.loaded
    return _mass(Range(low.load, high.load), unit)


def _mass(load: Range[Fraction], unit: MassUnit) -> str:
    amount = Range(_quarters(load.low), _quarters(load.high))
    return write(Prescription(load=Weight(Mass(amount, unit)))).removeprefix("@ ")


def _quarters(load: Fraction) -> Decimal:
    """Round to quarters of a unit: the smallest step a rack of small plates makes."""
    return Decimal(int(load * 4 + Fraction(1, 2))) / 4


def _tenths(percent: Fraction) -> Decimal:
    return Decimal(int(percent * 10 + Fraction(1, 2))) / 10


def _energy(found: Energy) -> str:
    """Word the estimate in steps of 10 kcal: a finer one would promise what it cannot hold."""
    low, high = (int(end / 10 + Fraction(1, 2)) * 10 for end in (found.low, found.high))
    return f"{low}–{high} kcal"


def _notes(numbers: Numbers) -> Iterator[str]:
    yield from numbers.time.assumed
    for reason in dict.fromkeys(one.reason for one in numbers.not_counted):
        names = ", ".join(one.name for one in numbers.not_counted if one.reason is reason)
        yield f"no sets are counted for {names}: {reason}"
    if numbers.muscles:
        yield (
            "a set counts once for the muscles it trains directly and half for those that help: weights after "
            "Pelland et al. 2024 (preprint); one session counts toward the week and is not judged alone"
        )
    yield from dict.fromkeys(loads.source for each in numbers.loads.values() for loads in each)
    if numbers.energy:
        codes = ", ".join(f"{one.code} ({write_number(one.met)} MET)" for one in numbers.energy.codes)
        yield f"energy, an estimate: {codes}; {numbers.energy.formula}; {'; '.join(numbers.energy.sources)}"
        yield from numbers.energy.assumed
