"""The loads of a prescription line: kilograms, pounds, shares, bodyweight, band. One family of parts of notation.py."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from repslate.model.measure import Measure, Unit, read_measure, single
from repslate.model.prescription import (
    Band,
    Bodyweight,
    Load,
    OneRepMaxShare,
    Weight,
    WorkingShare,
)
from repslate.model.quantity import Mass, write_range
from repslate.model.tokens import Reader

MASS_UNITS: dict[Unit | None, Literal["kg", "lb"]] = {Unit.KILOGRAMS: "kg", Unit.POUNDS: "lb"}
_ONE_REP_MAX = (
    ("1", "rm"), ("1", "-", "rm"), ("rm",), ("1", "rep", "max"), ("1", "-", "rep", "max"), ("one", "rep", "max"),
    ("one", "-", "rep", "max"), ("max",),
)  # fmt: skip
_BODY = (("bodyweight",), ("bw",), ("body", "weight"), ("body", "-", "weight"))
_WORKING = (("working", "load"), ("working", "weight"))


def read_load(r: Reader) -> Load | None:
    """Read what stands behind "@"; None after a finding."""
    if r.take_any("band", "bands"):
        return Band()
    if any(r.take_all(*words) for words in _BODY):
        return _bodyweight(r)
    measure = read_measure(r, "a load such as 24 kg, 75 % 1RM, bodyweight or band")
    if measure is None:
        return None
    if measure.unit is None and r.here.is_times:
        r.take()
        return _pieces(r, measure)
    return measured_load(r, measure)


def sees_load(r: Reader) -> bool:
    """Tell whether a load that needs no "@" comes next, one that begins with a word."""
    return r.here.word in ("band", "bands") or any(r.sees(*words) for words in _BODY)


def measured_load(r: Reader, measure: Measure) -> Load | None:
    """Read on from a figure: a share names what it is a share of; None after a finding."""
    return _share(r, measure) if measure.unit is Unit.PERCENT else weight(r, measure)


def weight(r: Reader, measure: Measure) -> Weight | None:
    """Return a measure in kg or lb as a load; None after a finding."""
    unit = MASS_UNITS.get(measure.unit)
    if unit:
        return Weight(Mass(measure.decimals(), unit))
    amount = write_range(measure.decimals())
    mend = "write a load as in @ 24 kg"
    if measure.unit is None:
        mend = (
            r.mended(measure.place, f"{amount} kg")
            + f", or {amount} lb, {amount} % 1RM or RPE {amount} if that is meant"
        )
    r.error("notation-unit", measure.place, f'found "{r.typed(measure.place)}", expected a load in kg, lb or %', mend)
    return None


def _pieces(r: Reader, count: Measure) -> Weight | None:
    pieces = single(r, count, "pieces")
    measure = read_measure(r, "the load of one piece, such as 24 kg")
    each = measure and weight(r, measure)
    return replace(each, pieces=pieces) if each and pieces is not None else None


def _share(r: Reader, measure: Measure) -> Load | None:
    percent = measure.decimals()
    names_whole = r.take_any("of")
    r.take_any("the", "your")
    if any(r.take_all(*words) for words in _ONE_REP_MAX):
        return OneRepMaxShare(percent)
    if any(r.take_all(*words) for words in _WORKING):
        return WorkingShare(percent)
    if names_whole:
        r.unexpected('"1RM" or "working load"')
        return None
    typed = write_range(percent, "%")
    message = f"{typed} is read as a share of the one-repetition maximum"
    r.note("notation-assumed", measure.place, message, r.mended(measure.place, f"{typed} 1RM"))
    return OneRepMaxShare(percent)


def _bodyweight(r: Reader) -> Bodyweight | None:
    if not r.take_any("+", "plus"):
        return Bodyweight()
    measure = read_measure(r, "the added load, such as 10 kg")
    added = measure and weight(r, measure)
    return Bodyweight(added.mass) if added else None
