"""Figures come out as they went in."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.quantity import (
    NUMBER_WORD,
    NUMBER_WORDS,
    Mass,
    Range,
    number_in_words,
    read_number,
    write_number,
    write_range,
    write_seconds,
)


@pytest.mark.parametrize(
    ("typed", "value"),
    [("22,5", "22.5"), ("22.50", "22.5"), ("007", "7"), ("1½", "1.5"), ("¼", "0.25"), ("0", "0")],
)
def test_reads_numbers_as_trainers_type_them(typed: str, value: str) -> None:
    assert read_number(typed) == Decimal(value)


@pytest.mark.parametrize(
    "typed", ["", "-1", "+1", "1e3", "1_000", "1.", ".5", "1.5½", "1,2,3", "１０", "١٢", "²", " 1"]
)
def test_refuses_what_is_no_plain_number(typed: str) -> None:
    assert read_number(typed) is None


@given(st.decimals(min_value=0, max_value=999_999, places=2))
def test_numbers_read_back(value: Decimal) -> None:
    assert read_number(write_number(value)) == value


def test_refuses_to_write_what_has_no_decimal_form() -> None:
    assert write_number(Fraction(-5, 4)) == "-1.25"
    with pytest.raises(ValueError, match="no short decimal form"):
        write_number(Fraction(1, 3))


@pytest.mark.parametrize(
    ("low", "high", "written"),
    [
        (60, 60, "60 s"), (60, 90, "60–90 s"), (119, 119, "119 s"), (120, 120, "2 min"), (120, 180, "2–3 min"),
        (90, 120, "90–120 s"), (120, 150, "2–2.5 min"), (120, 140, "120–140 s"), (3600, 3600, "60 min"),
    ],
)  # fmt: skip
def test_writes_minutes_from_two_up_when_both_ends_allow(low: int, high: int, written: str) -> None:
    assert write_seconds(Range(Fraction(low), Fraction(high))) == written


def test_writes_ranges_with_an_en_dash_and_no_trailing_zeros() -> None:
    assert write_range(Range(Decimal("17.50"), Decimal("25.0")), "kg") == "17.5–25 kg"
    assert write_range(Range(10, 10)) == "10"


def test_pounds_are_exact() -> None:
    """1 lb = 0.45359237 kg exactly: international yard and pound agreement, 1959."""
    mass = Mass(Range(Decimal(100), Decimal(100)), "lb")
    kilograms = mass.in_unit("kg")
    assert kilograms.low == Fraction(45359237, 10**6)
    assert Mass(Range(Decimal("45.359237"), Decimal("45.359237")), "kg").in_unit("lb").low == 100
    assert mass.in_unit("lb").low == 100


def test_ranges_meet_at_their_ends() -> None:
    assert Range(8, 10).meets(Range(10, 12))
    assert not Range(8, 10).meets(Range(11, 12))


def test_every_number_word_reads_and_no_other_word() -> None:
    said = {"one": 1, "Twelve": 12, "forty": 40, "twenty-five": 25, "twenty five": 25, "Ninety-nine": 99}
    assert {word: number_in_words(word) for word in said} == said
    for word in ("", "zero", "five twenty", "twenty-ten", "twenty-", "tens", "hundred"):
        assert number_in_words(word) is None
    whole = re.compile(NUMBER_WORD)
    assert set(NUMBER_WORDS.values()) == set(range(1, 100))
    assert all(whole.fullmatch(word) and whole.fullmatch(word.replace("-", " ")) for word in NUMBER_WORDS)
