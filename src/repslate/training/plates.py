"""A calculated load to one that can be loaded: the bar and pairs of plates, or the pieces in the rack."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import lcm

from repslate.model.quantity import KILOGRAMS_PER_POUND, MassUnit
from repslate.model.series import Kit

HEAVIEST = 1000  # kg or lb; beyond it nobody loads a bar, and the search for plates takes long
_KILOGRAMS = {"kg": Fraction(1), "lb": Fraction(KILOGRAMS_PER_POUND)}


class Rule(StrEnum):
    """How the load was found. All three are our choice."""

    #: Bar: the steps are small against what the share itself leaves open; of two equally near, the lighter.
    NEAREST = "the nearest"
    #: Pieces: the steps are large, and the next heavier one can turn eight repetitions into four. A bar if the caller
    #: asks: near the maximum a little more is a repetition less.
    NOT_ABOVE = "the nearest that is not heavier"
    #: The target is lighter than the empty bar or the lightest piece: heavier than asked, so it has to be told.
    LIGHTEST = "the lightest there is"


@dataclass(frozen=True, slots=True)
class Barbell:
    """A bar with any number of pairs of each plate."""

    bar: Decimal
    plates: tuple[Decimal, ...]
    unit: MassUnit


@dataclass(frozen=True, slots=True)
class Pieces:
    """Dumbbells or kettlebells of one weight each; a load is one piece."""

    weights: tuple[Decimal, ...]
    unit: MassUnit


Rack = Barbell | Pieces


@dataclass(frozen=True, slots=True)
class Loaded:
    """A load that can be put together: `load` in `unit`, `per_side` the plates on each end, heaviest first."""

    load: Fraction
    unit: MassUnit
    per_side: tuple[Decimal, ...]
    rule: Rule


def convert(load: Fraction, have: MassUnit, want: MassUnit) -> Fraction:
    """Return the load in another unit, exact: 1 lb is 0.45359237 kg (international agreement, 1959)."""
    return load if have == want else load * _KILOGRAMS[have] / _KILOGRAMS[want]


def rack_for(equipment: Collection[str], kit: Kit) -> Rack | None:
    """Return what the load of an exercise goes on, by the library's equipment ("barbell", "dumbbell or kettlebell").

    Of an open choice the first that is one. None where it is no bar, dumbbell or kettlebell: machines and cables have
    steps of their own that nobody told us.
    """
    racks: dict[str, Rack] = {
        "barbell": Barbell(kit.bar, kit.plates, kit.unit),
        "dumbbell": Pieces(kit.dumbbells, kit.unit),
        "kettlebell": Pieces(kit.kettlebells, kit.unit),
    }
    choices = (choice for item in equipment for choice in item.split(" or "))
    return next((racks[choice] for choice in choices if choice in racks), None)


def round_load(target: Fraction, rack: Rack, *, not_above: bool = False) -> Loaded | None:
    """Return what to load for a target in the rack's unit; None at 0 or below, beyond 1000, or with nothing to load.

    With `not_above` a bar too is no heavier than the target, unless the empty bar is. Keeps order (a heavier target
    never gives a lighter load) and leaves alone what can be loaded.
    """
    if not 0 < target <= HEAVIEST:
        return None
    return _on_bar(target, rack, not_above=not_above) if isinstance(rack, Barbell) else _piece(target, rack)


def _piece(target: Fraction, rack: Pieces) -> Loaded | None:
    if not rack.weights:
        return None
    fitting = [weight for weight in rack.weights if weight <= target]
    if fitting:
        return Loaded(Fraction(max(fitting)), rack.unit, (), Rule.NOT_ABOVE)
    return Loaded(Fraction(min(rack.weights)), rack.unit, (), Rule.LIGHTEST)


def _on_bar(target: Fraction, rack: Barbell, *, not_above: bool) -> Loaded:
    side = (target - Fraction(rack.bar)) / 2
    if side < 0:
        return Loaded(Fraction(rack.bar), rack.unit, (), Rule.LIGHTEST)
    plates = _plates(side, rack.plates, not_above=not_above)
    load = Fraction(rack.bar) + 2 * sum(map(Fraction, plates))
    return Loaded(load, rack.unit, plates, Rule.NOT_ABOVE if not_above else Rule.NEAREST)


def _plates(side: Fraction, owned: tuple[Decimal, ...], *, not_above: bool) -> tuple[Decimal, ...]:
    """Return the fewest plates whose sum is nearest to `side`, the lower of two equally near; heaviest first.

    With `not_above` the sum is no higher than `side`.

    Counts in whole parts of the plates' common denominator. `last[n]` is the heaviest plate that ends a shortest way
    to n parts: greedy choice fails where, say, 15 + 15 beats 20 + 2.5 × 4.
    """
    if not owned:
        return ()
    parts = lcm(*(Fraction(plate).denominator for plate in owned))
    sizes = sorted((int(Fraction(plate) * parts) for plate in set(owned)), reverse=True)
    goal = side * parts
    # A multiple of the smallest plate lies within one plate of any goal.
    reach = int(goal) if not_above else int(goal) + sizes[-1] + 1
    last = _shortest(sizes, reach)
    best = min((total for total in range(reach + 1) if total == 0 or last[total]), key=lambda n: (abs(n - goal), n))
    found = []
    while best:
        found.append(last[best])
        best -= last[best]
    return tuple(sorted((Decimal(size) / parts for size in found), reverse=True))


def _shortest(sizes: list[int], reach: int) -> list[int]:
    """Return for each total up to `reach` the heaviest size that ends a way of fewest pieces to it; 0 where none."""
    count, last = [0] + [-1] * reach, [0] * (reach + 1)
    for total in range(1, reach + 1):
        for size in sizes:
            rest = total - size
            if rest >= 0 and count[rest] >= 0 and (count[total] < 0 or count[rest] + 1 < count[total]):
                count[total], last[total] = count[rest] + 1, size
    return last
