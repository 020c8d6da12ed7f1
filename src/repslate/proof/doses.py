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

from repslate.model.block_heading import read_parts
from repslate.model.block_parts import Parts, given, write_parts
from repslate.model.episode import Block
from repslate.model.forms import PLAIN, form_of
from repslate.model.prescription import Bodyweight, Load, Prescription, TwoLevels, Weight, parse, write
from repslate.model.quantity import Mass
from repslate.model.sets import told_sharing
from repslate.proof.wording import figures, standing
from repslate.source.bounds import DOSE
from repslate.source.span import Span
from repslate.training.layout import rests_after

_BRACKET = re.compile(r"\(([^()]*?\d[^()]*?\b(?:kg|lb)s?)\)")
_MARKS = re.compile(r"[*_`]")
_PARTS = re.compile(r"\s*[·•|;,]\s*")
_AFTER = re.compile(r"\s+(?:after|between)\s+(?:each|every|the)?\s*(round|set)s?\b.*", re.IGNORECASE)
_CLOCK = re.compile(r"(?:for|in)\s", re.IGNORECASE)
_FULL = (
    "sets", "work", "per_side", "partials", "load", "hold", "open_last", "effort", "tempo", "drops", "rest_pause",
    "cluster", "rest", "rest_as_needed", "words",
)  # fmt: skip
_MAIN = ("sets", "work", "per_side", "partials", "words")
_JOINTS = " \t,;·|.:()[]“”\"'"
_CALLED = {
    "sets": "sets", "work": "work", "per_side": "“per side”", "load": "load", "effort": "effort", "tempo": "tempo",
    "drops": "drops", "rest_pause": "“rest-pause”", "cluster": "cluster", "rest": "rest", "partials": "partials",
    "rest_as_needed": "“rest as needed”", "hold": "hold", "open_last": "“last set max”", "words": "words",
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
def read_dose(text: str, words: tuple[str, ...] = ()) -> Dose | None:
    """Read a published prescription such as "10–12 reps @ 16 kg (35 lb), tempo 3-1-1-0"; None for other text.

    `words` are those that stand in it as typed; they are taken out before its figures are read, each where it is met.
    """
    if words:
        left, found = without(text, words)
        left = left.strip(_JOINTS)
        dose = read_dose(left) if left else Dose(Prescription(), ())
        return replace(dose, prescription=replace(dose.prescription, words=found)) if dose and found else dose
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


def without(text: str, words: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    """Return a text without the words that it holds, and which it holds; blanks and typography do not matter."""
    found = []
    for typed in words:
        place = standing(typed, text)
        if place is not None:
            found.append(typed)
            text = f"{text[: place.start]}, {text[place.stop :]}"
    return text, tuple(found)


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


def has_main(prescription: Prescription) -> bool:
    """Tell whether a prescription says sets, work or sides, which no list may leave out."""
    return any(getattr(prescription, part) for part in _MAIN)


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
class BlockFacts(Parts):
    """What stands behind a block's name. `after` is what the rest comes after, "round" or "set"; "" if not said."""

    after: str = ""


@lru_cache(maxsize=1024)
def read_block_facts(text: str) -> BlockFacts | None:
    """Read "3 rounds · rest 75–90 s after each round" or "for 6 min"; None where a figure in it is none of these."""
    found = BlockFacts()
    if len(text) > DOSE:
        return None
    for part in _PARTS.split(text.strip().strip("()")):
        after = _AFTER.search(part) if part.casefold().startswith("rest") else None
        said = read_parts(part[: after.start()] if after else part, PLAIN)
        if said is not None and said.clock is not None and not _CLOCK.match(part):
            said = None
        if said is None and figures(part):
            return None
        told: dict[str, Any] = {name: value for name, value in given(said).items() if value is not None} if said else {}
        if after:
            told["after"] = after[1].casefold()
        found = replace(found, **told)
    return found


def block_differences(found: BlockFacts, block: Block) -> Iterator[Difference]:
    """Yield what a block's heading says other than the episode. The length of a turn is part of its name."""
    wanted = replace(Parts(**given(block)), turn=None, sharing=told_sharing(block))
    if found.sharing is None and block.sharing is None:
        wanted = replace(wanted, sharing=None)  # the trade's usage may be left out
    for what, said in given(found).items():
        expected = getattr(wanted, what)
        if said != expected:
            yield Difference(what, _told(what, said, found), _told(what, expected, block) or f"no {what}")
    after = rests_after(block)
    if found.after and found.after != after and block.rest and (len(block.exercises) > 1 or block.interval):
        yield Difference("rest", f"after each {found.after}", f"after each {after}")


def _told(what: str, value: object, among: Parts) -> str:
    """Word one part of a heading; sets of intervals are told with these."""
    if value is None:
        return ""
    one: dict[str, Any] = {what: value}
    form = among.form if isinstance(among, Block) else form_of(PLAIN)
    return " · ".join(write_parts(Parts(**one), form))
