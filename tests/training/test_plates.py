"""Rounding to what can be loaded: worked cases, and the properties that hold for any bar and any rack."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.quantity import MassUnit
from repslate.model.series import Series
from repslate.training.plates import HEAVIEST, Barbell, Loaded, Pieces, Rack, Rule, convert, rack_for, round_load

KILOGRAMS, POUNDS = Series().kilograms, Series().pounds
BAR_KG = Barbell(KILOGRAMS.bar, KILOGRAMS.plates, "kg")
BAR_LB = Barbell(POUNDS.bar, POUNDS.plates, "lb")
DUMBBELLS = Pieces(tuple(map(Decimal, (6, 8, 10, 14))), "kg")
ODD = Barbell(Decimal(15), tuple(map(Decimal, ("20", "15", "2.5"))), "kg")
COARSE = Barbell(Decimal(20), tuple(map(Decimal, (10, 7))), "kg")


def loaded(target: str, rack: Rack) -> Loaded:
    found = round_load(Fraction(target), rack)
    assert found is not None
    return found


# 20 kg and 45 lb bars with pairs of plates: common practice, no source; the arithmetic is plain.
@pytest.mark.parametrize(
    ("target", "rack", "load", "per_side", "rule"),
    [
        ("100", BAR_KG, "100", "25 15", Rule.NEAREST),
        ("82", BAR_KG, "82.5", "25 5 1.25", Rule.NEAREST),
        ("81.25", BAR_KG, "80", "25 5", Rule.NEAREST),  # as near to 82.5: the lighter
        ("20", BAR_KG, "20", "", Rule.NEAREST),
        ("16", BAR_KG, "20", "", Rule.LIGHTEST),
        ("225", BAR_LB, "225", "45 45", Rule.NEAREST),
        ("137", BAR_LB, "135", "45", Rule.NEAREST),
        ("75", ODD, "75", "15 15", Rule.NEAREST),  # fewest plates: not 20 2.5 2.5 2.5 2.5
        ("36", COARSE, "34", "7", Rule.NEAREST),
        ("54", COARSE, "54", "10 7", Rule.NEAREST),
        ("50", COARSE, "48", "7 7", Rule.NEAREST),
        ("9.9", DUMBBELLS, "8", "", Rule.NOT_ABOVE),  # 10 is nearer, and heavier
        ("10", DUMBBELLS, "10", "", Rule.NOT_ABOVE),
        ("40", DUMBBELLS, "14", "", Rule.NOT_ABOVE),
        ("5", DUMBBELLS, "6", "", Rule.LIGHTEST),
        ("60", Barbell(Decimal(20), (), "kg"), "20", "", Rule.NEAREST),
    ],
)
def test_what_is_loaded(target: str, rack: Rack, load: str, per_side: str, rule: Rule) -> None:
    plates = tuple(map(Decimal, per_side.split()))
    assert loaded(target, rack) == Loaded(Fraction(load), rack.unit, plates, rule)


@pytest.mark.parametrize("target", ["0", "-5", "1000.01"])
def test_nothing_is_loaded_for_what_is_no_load(target: str) -> None:
    assert round_load(Fraction(target), BAR_KG) is None
    assert round_load(Fraction(target), DUMBBELLS) is None
    assert round_load(Fraction(5), Pieces((), "kg")) is None


weights = st.integers(1, 100).map(lambda quarters: Decimal(quarters) / 4)
owned = st.lists(weights, min_size=1, max_size=5, unique=True).map(lambda some: tuple(sorted(some, reverse=True)))
bars = st.builds(Barbell, weights, owned, st.just("kg"))
pieces = st.builds(Pieces, owned, st.just("kg"))
racks = st.one_of(bars, pieces)
targets = st.fractions(Fraction(1, 10), 150, max_denominator=60)


@given(targets, bars)
def test_a_bar_is_never_more_than_half_the_smallest_step_off(target: Fraction, bar: Barbell) -> None:
    found = round_load(target, bar)
    assert found is not None
    assert found.load == Fraction(bar.bar) + 2 * sum(map(Fraction, found.per_side))
    assert set(found.per_side) <= set(bar.plates)
    if found.rule is Rule.LIGHTEST:
        assert target < found.load == bar.bar
    else:
        assert abs(found.load - target) <= Fraction(min(bar.plates))  # the smallest step is a pair of these


@given(targets, bars)
def test_a_bar_that_must_not_be_heavier_is_the_heaviest_that_is_not(target: Fraction, bar: Barbell) -> None:
    found = round_load(target, bar, not_above=True)
    nearest = round_load(target, bar)
    assert found is not None
    assert nearest is not None
    if found.rule is Rule.LIGHTEST:
        assert target < found.load == bar.bar
    else:
        assert found.rule is Rule.NOT_ABOVE
        assert target - 2 * Fraction(min(bar.plates)) < found.load <= target
        assert nearest.load > target or nearest.load == found.load


@given(targets, pieces)
def test_a_piece_is_the_nearest_that_is_not_heavier(target: Fraction, rack: Pieces) -> None:
    found = round_load(target, rack)
    assert found is not None
    if found.rule is Rule.LIGHTEST:
        assert target < found.load == min(rack.weights)
    else:
        assert found.load <= target
        assert not any(found.load < weight <= target for weight in rack.weights)


@given(targets, targets, racks, st.booleans())
def test_a_heavier_target_is_never_a_lighter_load(one: Fraction, other: Fraction, rack: Rack, down: bool) -> None:
    lighter, heavier = (round_load(target, rack, not_above=down) for target in sorted((one, other)))
    assert lighter is not None
    assert heavier is not None
    assert lighter.load <= heavier.load


@given(targets, racks, st.booleans())
def test_what_can_be_loaded_is_left_alone(target: Fraction, rack: Rack, down: bool) -> None:
    found = round_load(target, rack, not_above=down)
    assert found is not None
    again = round_load(found.load, rack, not_above=down)
    assert again is not None
    assert (again.load, again.per_side) == (found.load, found.per_side)


@given(st.fractions(-HEAVIEST, HEAVIEST), st.sampled_from(["kg", "lb"]), st.sampled_from(["kg", "lb"]))
def test_there_and_back_is_exact(load: Fraction, have: MassUnit, want: MassUnit) -> None:
    assert convert(convert(load, have, want), want, have) == load


def test_one_pound() -> None:
    # International avoirdupois pound, agreement of 1959; from memory.
    assert convert(Fraction(1), "lb", "kg") == Fraction("0.45359237")


@pytest.mark.parametrize(
    ("equipment", "rack"),
    [
        (("bench", "barbell", "rack"), BAR_KG),
        (("bodyweight or dumbbell",), Pieces(KILOGRAMS.dumbbells, "kg")),
        (("kettlebell or dumbbell",), Pieces(KILOGRAMS.kettlebells, "kg")),
        (("leg press machine",), None),
        (("band",), None),
        ((), None),
    ],
)
def test_the_rack_of_an_exercise(equipment: tuple[str, ...], rack: Rack | None) -> None:
    assert rack_for(equipment, KILOGRAMS) == rack
