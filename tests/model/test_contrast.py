from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.contrast import (
    PAPER,
    TEXT_RATIO,
    darken_until,
    full_hex,
    lighten_until,
    luminance,
    ratio,
    ratio_words,
)

COLOURS = st.binary(min_size=3, max_size=3).map(lambda channels: "#" + channels.hex())
DARK = "#16181a"


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [  # WCAG 2.2, definitions of relative luminance and contrast ratio; the two greys also by axe-core's own reckoning
        ("#000000", "#ffffff", "21.000"),
        ("#767676", "#ffffff", "4.542"),
        ("#777777", "#ffffff", "4.478"),
        ("#949494", "#ffffff", "3.033"),
        ("#959595", "#ffffff", "2.995"),
        ("#595959", "#ffffff", "7.005"),
        ("#5a5a5a", "#ffffff", "6.897"),
        ("#ff0000", "#ffffff", "3.998"),
        ("#0000ff", "#ffffff", "8.592"),
        ("#008000", "#ffffff", "5.137"),
    ],
)
def test_published_ratios(one: str, other: str, expected: str) -> None:
    assert str(ratio(one, other).quantize(Decimal("0.001"))) == expected
    assert ratio(one, other) == ratio(other, one)


@pytest.mark.parametrize(
    ("value", "words"),
    [("4.4999999", "4.49:1"), ("4.5", "4.50:1"), ("3.998", "3.99:1"), ("21", "21.00:1")],
)
def test_a_ratio_is_never_rounded_up(value: str, words: str) -> None:
    assert ratio_words(Decimal(value)) == words


@given(COLOURS, COLOURS)
def test_a_ratio_lies_between_1_and_21(one: str, other: str) -> None:
    assert 1 <= ratio(one, other) <= 21


@given(COLOURS, st.sampled_from([Decimal("3"), Decimal("4.5"), Decimal("7")]))
def test_lightened_just_far_enough(colour: str, least: Decimal) -> None:
    lighter = lighten_until(colour, DARK, least)
    assert ratio(lighter, DARK) >= least
    if ratio(colour, DARK) >= least:
        assert lighter == colour
    else:  # one channel one step darker each would no longer do
        darker = "#" + bytes(max(0, channel - 2) for channel in bytes.fromhex(lighter[1:])).hex()
        assert ratio(darker, DARK) < least


@given(COLOURS)
def test_darkened_just_far_enough(colour: str) -> None:
    darker = darken_until(colour, PAPER, TEXT_RATIO)
    assert ratio(darker, PAPER) >= TEXT_RATIO
    if ratio(colour, PAPER) >= TEXT_RATIO:
        assert darker == colour
    else:
        lighter = "#" + bytes(min(255, channel + 2) for channel in bytes.fromhex(darker[1:])).hex()
        assert ratio(lighter, PAPER) < TEXT_RATIO


@given(COLOURS)
def test_lightening_darkens_no_channel(colour: str) -> None:
    before, after = bytes.fromhex(colour[1:]), bytes.fromhex(lighten_until(colour, DARK, Decimal(7))[1:])
    assert all(old <= new for old, new in zip(before, after, strict=True))
    assert luminance(colour) <= luminance("#" + after.hex())


def test_a_light_background_is_our_own_fault() -> None:
    with pytest.raises(ValueError, match=r"never reaches 4\.5:1"):
        lighten_until("#dddddd", "#ffffff", Decimal("4.5"))


@pytest.mark.parametrize(
    ("typed", "full"),
    [
        ("#157", "#115577"),
        ("#7A3B12", "#7a3b12"),
        ("7a3b12", None),
        ("#12345", None),
        ("navy", None),
        ("#12345g", None),
    ],
)
def test_full_hex(typed: str, full: str | None) -> None:
    assert full_hex(typed) == full
