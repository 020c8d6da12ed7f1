"""A published prescription read back by the notation's parser, and what it says other than the episode's.

Loads in brackets are the audit's own to read: the notation knows no second unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from repslate.model.episode import Block
from repslate.model.prescription import Bodyweight, Load, Prescription, TwoLevels, Weight, parse, write
from repslate.model.quantity import Mass, Range, write_range, write_seconds
from repslate.proof.wording import figures
from repslate.source.bounds import DOSE
from repslate.source.span import Span
from repslate.training.layout import takes_turns

_BRACKET = re.compile(r"\(([^()]*?\d[^()]*?\b(?:kg|lb)s?)\)")
_MARKS = re.compile(r"[*_`]")
_PARTS = re.compile(r"\s*[·•|;,]\s*")
_AFTER = re.compile(r"\s+(?:after|between)\s+(?:each|every|the)?\s*(round|set)s?\b.*", re.IGNORECASE)
_FULL = (
    "sets", "work", "per_side", "partials", "load", "hold", "open_last", "effort", "tempo", "drops", "rest_pause",
    "cluster", "rest", "rest_as_needed",
)  # fmt: skip
_MAIN = ("sets", "work", "per_side", "partials")
_CALLED = {
    "sets": "sets", "work": "work", "per_side": "“per side”", "load": "load", "effort": "effort", "tempo": "tempo",
    "drops": "drops", "rest_pause": "“rest-pause”", "cluster": "cluster", "rest": "rest", "partials": "partials",
    "rest_as_needed": "“rest as needed”", "hold": "hold", "open_last": "“last set max”",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Dose:
    """A prescription as published; `converted` are the loads in brackets, "16 kg (35 lb)"."""

    prescription: Prescription
    converted: tuple[Load, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """One part of a dose or a heading that differs: what it is, as found ("" if it is not there) and as expected."""

    what: str
    found: str
    expected: str


@lru_cache(maxsize=4096)
def read_dose(text: str) -> Dose | None:
    """Read a published prescription such as "10–12 reps @ 16 kg (35 lb), tempo 3-1-1-0"; None for other text."""
    if len(text) > DOSE:
        return None
    plain = _MARKS.sub("", text).strip().rstrip(".")
    converted = []
    for bracket in _BRACKET.finditer(plain):
        load = _parsed(f"@ {bracket[1]}")
        if load is None or load.load is None:
            return None
        converted.append(load.load)
    said = _parsed(_BRACKET.sub(" ", plain))
    return Dose(said, tuple(converted)) if said is not None and said != Prescription() else None


def _parsed(text: str) -> Prescription | None:
    return parse(" ".join(text.split()), Span("published"))[0]


def differences(dose: Dose, expected: Prescription, *, full: bool) -> Iterator[Difference]:
    """Yield what a dose says other than expected; unless it is given in `full`, details may be left out."""
    for part in _FULL:
        found, wanted = getattr(dose.prescription, part), getattr(expected, part)
        same = _same_load(found, wanted) if part == "load" else found == wanted
        if same or (not found and part not in _MAIN and not full):
            continue
        yield Difference(_CALLED[part], _worded(part, found), _worded(part, wanted) or f"no {_CALLED[part]}")
    for load in dose.converted:
        if not _same_load(load, expected.load):
            yield Difference(
                "load in brackets", _worded("load", load), f"what {_worded('load', expected.load)} comes to"
            )


def has_details(prescription: Prescription) -> bool:
    """Tell whether a prescription says more than sets, work and sides."""
    return any(getattr(prescription, part) for part in _FULL if part not in _MAIN)


def _worded(part: str, value: object) -> str:
    given: dict[str, Any] = {part: value}
    return write(Prescription(**given)) if value else ""


def _same_load(found: Load | None, expected: Load | None) -> bool:
    """Tell whether two loads are the same, within the rounding that a converted one is promised in."""
    match found, expected:
        case Weight(), Weight():
            return found.pieces == expected.pieces and _same_mass(found.mass, expected.mass)
        case TwoLevels(), TwoLevels():
            both = zip(found.masses, expected.masses, strict=True)
            return found.pieces == expected.pieces and all(_same_mass(one, other) for one, other in both)
        case Bodyweight(), Bodyweight():
            if found.added is None or expected.added is None:
                return found.added is expected.added
            return _same_mass(found.added, expected.added)
        case Weight(), Bodyweight():  # "@ bodyweight + 10 kg (22 lb)": in brackets only the added load is converted
            return (
                found.pieces == 1
                and expected.added is not None
                and found.mass.unit != expected.added.unit
                and (_same_mass(found.mass, expected.added))
            )
        case _:
            return found == expected


def _same_mass(found: Mass, expected: Mass) -> bool:
    if found.unit == expected.unit:
        return found.amount == expected.amount
    exact = expected.in_unit(found.unit)
    pairs = ((found.amount.low, exact.low), (found.amount.high, exact.high))
    return all(abs(Fraction(shown) - wanted) <= _half_step(shown, wanted, found.unit) for shown, wanted in pairs)


def _half_step(shown: Decimal, exact: Fraction, unit: str) -> Fraction:
    """Return half of a converted load's rounding: to wholes, kilograms under 20 to halves."""
    fine = unit == "kg" and exact < 20
    return Fraction(1, 4) if fine and shown <= 20 else Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class BlockFacts:
    """What stands behind a block's name: rounds, rest and clock; `rest` and `clock` in seconds.

    `after` is what the rest comes after, "round" or "set"; "" where it is not said.
    """

    rounds: Range[int] | None = None
    rest: Range[Fraction] | None = None
    clock: Fraction | None = None
    after: str = ""


@lru_cache(maxsize=1024)
def read_block_facts(text: str) -> BlockFacts | None:
    """Read "3 rounds · rest 75–90 s after each round" or "for 6 min"; None where a figure in it is none of these."""
    found = BlockFacts()
    if len(text) > DOSE:
        return None
    for part in _PARTS.split(text.strip().strip("()")):
        said = figures(part)
        if {one.unit for one in said} == {"rounds"} or (said and said[-1].unit == "rounds"):
            found = replace(found, rounds=Range(int(said[0].value), int(said[-1].value)))
        elif part.casefold().startswith("rest"):
            after = _AFTER.search(part)
            rest = _parsed(part[: after.start()] if after else part)
            if rest is None or rest.rest is None:
                return None
            found = replace(found, rest=rest.rest, after=after[1].casefold() if after else "")
        elif said:
            clock = _clock(part)
            if clock is None:
                return None
            found = replace(found, clock=clock)
    return found


def _clock(text: str) -> Fraction | None:
    said = re.fullmatch(r"(?:for|in)\s+(.*)", text.strip(), re.IGNORECASE)
    timed = _parsed(said[1]) if said else None
    seconds = getattr(timed.work, "seconds", None) if timed else None
    return seconds.low if seconds and seconds.low == seconds.high else None


def block_differences(found: BlockFacts, block: Block) -> Iterator[Difference]:
    """Yield what a block's heading says other than the episode."""
    both = (found, BlockFacts(block.rounds, block.rest, block.clock))
    rounds, rests, clocks = ([getattr(one, part) for one in both] for part in ("rounds", "rest", "clock"))
    shown = (
        ("rounds", [write_range(one, "rounds") if one else "" for one in rounds]),
        ("rest", [f"rest {write_seconds(one)}" if one else "" for one in rests]),
        ("clock", [write_seconds(Range(one, one)) if one else "" for one in clocks]),
    )
    for what, (said, wanted) in shown:
        if said != wanted:
            yield Difference(what, said, wanted or f"no {what}")
    wanted_after = "round" if block.clock is not None or takes_turns(block) else "set"
    if found.after and found.after != wanted_after and block.rest and len(block.exercises) > 1:
        yield Difference("rest", f"after each {found.after}", f"after each {wanted_after}")
