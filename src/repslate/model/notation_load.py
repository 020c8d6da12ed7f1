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
from repslate.model.quantity import NUMBER_WORDS, Mass, write_range
from repslate.model.tokens import Kind, Reader
from repslate.model.training_max import of_one_rep_max

MASS_UNITS: dict[Unit | None, Literal["kg", "lb"]] = {Unit.KILOGRAMS: "kg", Unit.POUNDS: "lb"}
_ONE_REP_MAX = (
    ("1", "rm"), ("1", "-", "rm"), ("rm",), ("1", "rep", "max"), ("1", "-", "rep", "max"), ("one", "rep", "max"),
    ("one", "-", "rep", "max"), ("max",),
)  # fmt: skip
_TRAINING_MAX = (
    ("tm",), ("training", "max"), ("training", "maximum"), ("training", "-", "max"), ("training", "-", "maximum"),
)  # fmt: skip
#: How the note ends on a share that names no whole.
SHARE_ASSUMED = "is read as a share of the one-repetition maximum"
_BODY = (("bodyweight",), ("bw",), ("body", "weight"), ("body", "-", "weight"))
_BAND = (("band",), ("bands",), ("resistance", "band"), ("resistance", "bands"), ("a", "band"))
_WORKING = (("working", "load"), ("working", "weight"))


def read_load(r: Reader) -> Load | None:
    """Read what stands behind "@"; None after a finding."""
    begin = r.last
    if any(r.take_all(*words) for words in _BAND):
        return Band()
    if any(r.take_all(*words) for words in _BODY):
        return _bodyweight(r)
    expected = "a load such as 24 kg, 75 % 1RM, bodyweight or band"
    if r.here.kind is Kind.WORD and r.here.word not in NUMBER_WORDS:
        is_band = r.ahead().word in ("band", "bands")  # "red band", else "light"
        place = (r.here, r.here) if is_band else (begin, r.end_of_part())
        usual = "write a load as in “@ 24 kg”, an effort as in “RPE 7”, or take the word out"
        r.unexpected(expected, r.beside(place, usual))
        return None
    measure = read_measure(r, expected)
    return measured_load(r, measure) if measure else None


def sees_load(r: Reader) -> bool:
    """Tell whether a load that needs no "@" comes next, one that begins with a word."""
    is_some_band = r.here.kind is Kind.WORD and r.ahead().word in ("band", "bands")
    return is_some_band or any(r.sees(*words) for words in (*_BAND, *_BODY))


def measured_load(r: Reader, measure: Measure) -> Load | None:
    """Read on from a figure: a share names what it is a share of; None after a finding."""
    if measure.unit is None and r.here.is_times:
        r.take()
        return _pieces(r, measure)
    return _share(r, measure) if measure.unit is Unit.PERCENT else weight(r, measure)


def weight(r: Reader, measure: Measure, *, is_whole: bool = True) -> Weight | None:
    """Return a measure in kg or lb as a load, or as a piece of one, which is no share; None after a finding."""
    unit = MASS_UNITS.get(measure.unit)
    if unit:
        return Weight(Mass(measure.decimals(), unit))
    fix, typed = "write a load as in “@ 24 kg”", r.typed(measure.place)
    if measure.unit is None and r.here.text == "/":
        fix = "write the loads of all sets as one range, such as “@ 60–80 % 1RM”, or each set as an exercise of its own"
    elif measure.unit is None and r.here.kind is Kind.WORD and _has_figure(r):  # "2 kettlebells of 24 kg"
        fix = "write several pieces as in “@ 2 × 24 kg”"
    elif measure.unit is None:
        is_behind_at = r.text[: measure.place[0].start].rstrip().endswith("@")  # "Load: 3" is a load and no effort
        is_effort = measure.high <= 10 and is_behind_at
        others = f"{typed} lb, {typed} % 1RM or RPE {typed}" if is_effort else f"{typed} lb or {typed} % 1RM"
        others = others if is_whole else f"{typed} lb"
        fix = r.fixed(measure.place, f"{typed} kg") + f", or {others} if that is meant"
    r.error("notation-unit", measure.place, f"found “{typed}”, expected a load in kg, lb or %", fix)
    return None


def _pieces(r: Reader, count: Measure) -> Weight | None:
    pieces = single(r, count, "pieces")
    measure = read_measure(r, "the load of one piece, such as 24 kg")
    each = measure and weight(r, measure, is_whole=False)
    return replace(each, pieces=pieces) if each and pieces is not None else None


def _has_figure(r: Reader) -> bool:
    """Tell whether a figure stands in the next three words of this part."""
    words = [r.ahead(step) for step in range(4)]
    ends = next((step for step, token in enumerate(words) if token.word in (",", ";", "·", "rest", "tempo")), 4)
    return any(token.is_number for token in words[:ends])


def _share(r: Reader, measure: Measure) -> Load | None:
    percent = measure.decimals()
    names_whole = r.take_any("of")
    r.take_any("the", "your")
    if any(r.take_all(*words) for words in _ONE_REP_MAX):
        return OneRepMaxShare(percent)
    if any(r.take_all(*words) for words in _WORKING):
        return WorkingShare(percent)
    if any(r.take_all(*words) for words in _TRAINING_MAX):
        _refuse_training_max(r, measure)
        return None
    if names_whole:
        r.unexpected("“1RM” or “working load”")
        return None
    typed = r.typed(measure.place)
    message = f"{write_range(percent, '%')} {SHARE_ASSUMED}"
    r.note("notation-assumed", measure.place, message, r.fixed(measure.place, f"{typed} 1RM"))
    return OneRepMaxShare(percent, named=False)


def _refuse_training_max(r: Reader, measure: Measure) -> None:
    place = (measure.first, r.last)
    fix = r.fixed(place, of_one_rep_max(measure.decimals()), keeps=False)
    fix += " if the training max is 90 % of the one-repetition maximum, as is common, else the share that it comes to"
    message = f"found “{r.typed(place)}”, expected a share of the one-repetition maximum, not of the training max"
    r.error("notation-unclear", place, message, fix)


def _bodyweight(r: Reader) -> Bodyweight | None:
    if not r.take_any("+", "plus"):
        return Bodyweight()
    measure = read_measure(r, "the added load, such as 10 kg")
    added = measure and weight(r, measure, is_whole=False)
    return Bodyweight(added.mass) if added else None
