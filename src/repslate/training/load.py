"""Kilograms from a prescription: working loads for readers with different maxima.

Exact figures; what can be loaded comes from plates.py, what goes with what from repmax.py.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from repslate.model.prescription import Load, Prescription, RepMaxShare, Reps, TrainingMaxShare
from repslate.model.quantity import MassUnit, Range, write_number
from repslate.model.series import LoadTable
from repslate.training.plates import Loaded, Rack, round_load
from repslate.training.repmax import EFFORT_SOURCE, TABLES, Refusal, reserve_range, share_at, share_written

#: One-repetition maxima on a bar that most readers find themselves between (our choice), by unit.
MAXIMA: dict[MassUnit, tuple[Fraction, ...]] = {
    "kg": tuple(map(Fraction, (40, 60, 80, 100, 120, 140))),
    "lb": tuple(map(Fraction, (95, 135, 185, 225, 275, 315))),
}
WRITTEN_SOURCE = "the share the prescription gives"
_NEVER_UP_FROM = 85  # % of the maximum, where NSCA's range for strength begins: a plate more, a rep less (our choice)


@dataclass(frozen=True, slots=True)
class LoadRow:
    """What a reader with this one-repetition maximum works with: exact, and as it can be loaded.

    `loaded` is None without a rack, and where there is nothing to load (0, or beyond 1000). The two ends may be the
    same load, and may be the lightest there is, heavier than asked: see their rule.
    """

    maximum: Fraction
    exact: Range[Fraction]
    loaded: tuple[Loaded, Loaded] | None


@dataclass(frozen=True, slots=True)
class Loads:
    """Working loads in `unit` for several maxima; `percent` of the maximum is exact, `source` what it rests on.

    `order` says how the two ends of a load go with the sets where their repetitions fall or rise set by set, else "".
    """

    percent: Range[Fraction]
    unit: MassUnit
    rows: tuple[LoadRow, ...]
    source: str
    order: str = ""


def load_table(
    p: Prescription, *, maxima: tuple[Fraction, ...], unit: MassUnit, table: LoadTable, rack: Rack | None = None
) -> Loads | Refusal | None:
    """Return the working load of an exercise for each maximum, rounded to the rack, from the lowest to the highest.

    Where the share reaches 85 %, no load is rounded up.
    A written share of the maximum counts; else repetitions with an effort, by the table. None where the prescription
    gives neither, or another load; a Refusal where the table does not reach. Of dumbbells and kettlebells a load, and
    so a maximum, is one piece. Raises ValueError for a rack in the other unit.
    """
    if rack is not None and rack.unit != unit:
        raise ValueError(f"maxima in {unit}, but a rack in {rack.unit}")
    found = share_of(p, table)
    if found is None or isinstance(found, Refusal):
        return found
    percent, source = found
    order = _order(p) if percent.low < percent.high else ""
    return Loads(percent, unit, tuple(_row(maximum, percent, rack) for maximum in maxima), source, order)


def share_of(p: Prescription, table: LoadTable) -> tuple[Range[Fraction], str] | Refusal | None:
    """Return the per cent of the one-repetition maximum that a prescription asks for, and its source; as load_table."""
    written = share_written(p.load, table)
    if written is not None:
        return written if isinstance(written, Refusal) else (written, _source(p.load, table))
    if p.load is not None or p.effort is None or not isinstance(p.work, Reps):
        return None
    reserve = reserve_range(p.effort)
    if isinstance(reserve, Refusal):
        return reserve
    most = share_at(max(each.high for each in p.work.each) + reserve.high, table)
    fewest = share_at(min(each.low for each in p.work.each) + reserve.low, table)
    if isinstance(most, Refusal):
        return most
    if isinstance(fewest, Refusal):
        return fewest
    return Range(most.value, fewest.value), f"{EFFORT_SOURCE}; {TABLES[table].source}"


def _source(load: Load | None, table: LoadTable) -> str:
    if isinstance(load, TrainingMaxShare):
        training_max = write_number(load.training_max)
        return f"{WRITTEN_SOURCE}, of a training max that is {training_max} % of the one-repetition maximum"
    return TABLES[table].source if isinstance(load, RepMaxShare) else WRITTEN_SOURCE


def _order(p: Prescription) -> str:
    """Say which set the lighter end is for, where every set has other repetitions than the one before it."""
    each = p.work.each if isinstance(p.work, Reps) else ()
    pairs = tuple(pairwise((reps.low, reps.high) for reps in each))
    if pairs and all(one > other for one, other in pairs):
        return "first to last set"
    return "last to first set" if pairs and all(one < other for one, other in pairs) else ""


def _row(maximum: Fraction, percent: Range[Fraction], rack: Rack | None) -> LoadRow:
    exact = Range(maximum * percent.low / 100, maximum * percent.high / 100)
    if rack is None:
        return LoadRow(maximum, exact, None)
    careful = percent.high >= _NEVER_UP_FROM
    low, high = (round_load(end, rack, not_above=careful) for end in (exact.low, exact.high))
    return LoadRow(maximum, exact, (low, high) if low and high else None)
