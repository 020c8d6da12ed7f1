"""A load written in kilograms and pounds is the same in both.

Why: viewers read the unit they know, and half of them then lift another load.
Source: 1 lb is 0.45359237 kg exactly: international yard and pound agreement, 1959. Rounding to the plates of a gym
    stays within a twentieth; that bound is our choice.
Wrong:
    The light bell is 16 kg (35 lb), the heavy one 28 kg (45 lb).

    ## Straight sets
    ### Goblet squat
    3 × 10 @ 16 kg, rest 90 s
Right:
    The light bell is 16 kg (35 lb), the heavy one 28 kg (62 lb).

    ## Straight sets
    ### Goblet squat
    3 × 10 @ 16 kg, rest 90 s
Fix: correct the figure that is wrong, or leave one unit out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import quoted, texts
from repslate.facts import Facts
from repslate.model.quantity import read_mass, write_number
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_BOTH = re.compile(
    r"(?i)(?<![\d.,–-])(\d{1,3}(?:[.,]\d{1,2})?)\s*(kgs?|kilos?|lbs?|pounds?)\s*(?:\(|/|,?\s*or\s|=|,?\s*about\s)\s*"
    r"(?:about\s+|~\s*|≈\s*)?(\d{1,3}(?:[.,]\d{1,2})?)\s*(kgs?|kilos?|lbs?|pounds?)\b"
)
_ROUNDED = Fraction(1, 20)
_PLATES = Fraction(3, 2)  # kg; small loads are rounded to whole pounds and half kilograms


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each load of which the two figures are not the same."""
    for text in texts(facts.episode):
        for found in _BOTH.finditer(text.words):
            first, second = read_mass(found[1], found[2]), read_mass(found[3], found[4])
            if first.unit == second.unit:
                continue
            one, other = first.in_unit("kg").low, second.in_unit("kg").low
            if abs(one - other) <= max(_ROUNDED * max(one, other), min(_PLATES, one / 4)):
                continue
            meant = first.in_unit(second.unit).low
            yield Finding(
                "units-differ",
                SEVERITY,
                text.at(found),
                f"the text says {quoted(found)}, expected {write_number(round(meant))} {second.unit} "
                f"for {write_number(first.amount.low)} {first.unit}",
                "correct the figure that is wrong, or leave one unit out",
            )
