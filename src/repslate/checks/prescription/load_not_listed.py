"""A load in the plan is one that the list of equipment has.

Why: whoever packed the 10 kg pair stands there without the 16 kg; or pounds stand where kilograms are meant.
Source: common practice, no source. Only lists that give each piece its weight are held against the plan.
Wrong:
    ---
    format: 1
    title: One bell
    equipment: ["kettlebell, 16 kg"]
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10 @ 16 lb, rest 90 s
Right:
    ---
    format: 1
    title: One bell
    equipment: ["kettlebell, 16 kg"]
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10 @ 16 kg, rest 90 s
Fix: correct the load or its unit, or put the piece on the list.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place
from repslate.facts import Facts
from repslate.model.episode import Episode
from repslate.model.prescription import Weight
from repslate.model.quantity import read_mass, write_range
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_KITS = ("dumbbell", "kettlebell")
_MASS = re.compile(r"(?i)(\d{1,3}(?:[.,]\d{1,2})?)\s*(kg|lbs?)\b")
_OPEN = re.compile(
    r"(?i)\b(?:up to|from|adjust\w*|various|several|range|or|to|about|different|set of)\b|\d\s*[-–]\s*\d"
)
_ROUNDED = Fraction(1, 20)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield loads of one piece that no piece on the list has."""
    listed = {kit: _masses(facts.episode, kit) for kit in _KITS}
    for _, exercise in facts.episode.lines():
        load = exercise.prescription.load
        needed = exercise.match.equipment if exercise.match else ()
        kits = [kit for kit in _KITS if any(kit in one for one in needed)]
        masses = [mass for kit in kits for mass in listed[kit]]
        if not isinstance(load, Weight) or not masses or any("barbell" in one for one in needed):
            continue
        if any(not listed[kit] and any(kit in one.text for one in facts.episode.equipment) for kit in kits):
            continue
        one = load.mass.in_unit("kg")
        pieces = {Fraction(1), Fraction(1, 2)} if load.pieces == 1 else {Fraction(1)}
        fits = any(abs(one.high * share - mass) <= _ROUNDED * mass for share in pieces for mass in masses)
        mass = write_range(load.mass.amount, load.mass.unit)
        if not fits and one.low == one.high:
            yield Finding(
                "load-not-listed",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} has {mass}, expected a weight of the list of equipment",
                "correct the load or its unit, or put the piece on the list",
            )


def _masses(episode: Episode, kit: str) -> list[Fraction]:
    """Return the masses in kilograms that the list gives a kind of piece; none where it leaves them open."""
    found: list[Fraction] = []
    for words in episode.equipment:
        if kit not in words.text.casefold():
            continue
        masses = _MASS.findall(words.text)
        if not masses or _OPEN.search(words.text):
            return []
        for figure, unit in masses:
            found.append(read_mass(figure, unit).in_unit("kg").low)
    return found
