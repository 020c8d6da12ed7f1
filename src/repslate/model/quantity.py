"""Exact quantities with their units, and ranges of them. No floats: a figure must come out as it went in."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Generic, Literal, TypeVar

KILOGRAMS_PER_POUND = Decimal("0.45359237")  # exact: international avoirdupois pound, 1959 agreement

N = TypeVar("N", int, Fraction, Decimal)
MassUnit = Literal["kg", "lb"]


@dataclass(frozen=True, slots=True)
class Range(Generic[N]):
    """From `low` to `high`, both included; a single figure has low == high."""

    low: N
    high: N

    def meets(self, other: Range[N]) -> bool:
        """Tell whether the two ranges share at least one figure."""
        return self.low <= other.high and other.low <= self.high


@dataclass(frozen=True, slots=True)
class Mass:
    """A load as written: a range of `unit`, both ends exact decimals."""

    amount: Range[Decimal]
    unit: MassUnit

    def in_unit(self, unit: MassUnit) -> Range[Fraction]:
        """Return the range in `unit`, exact (rounding belongs to view.py)."""
        if unit == self.unit:
            factor = Fraction(1)
        elif unit == "kg":
            factor = Fraction(KILOGRAMS_PER_POUND)
        else:
            factor = 1 / Fraction(KILOGRAMS_PER_POUND)
        return Range(Fraction(self.amount.low) * factor, Fraction(self.amount.high) * factor)
