"""Lengths as hosts count them."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.series import CountUnit, TextProfile
from repslate.model.text_length import count

UNITS: tuple[CountUnit, ...] = get_args(CountUnit)

# Code points, UTF-16 units and UTF-8 bytes are the Unicode Standard's encoding forms; graphemes are the extended
# grapheme clusters of UAX #29 (GB9c for the Devanagari conjunct); weighted is twitter-text config/v3.json (Apache-2.0).
COLUMNS: tuple[CountUnit, ...] = ("codepoints", "utf16", "bytes", "graphemes", "weighted")
TABLE: list[tuple[str, int, int, int, int, int]] = [
    ("abc", 3, 3, 3, 3, 3),
    ("e\u0301", 2, 2, 3, 1, 1),  # NFC first
    ("\U0001f44d", 1, 2, 4, 1, 2),
    ("\U0001f44d\U0001f3fd", 2, 4, 8, 1, 2),
    ("\U0001f468\u200d\U0001f469\u200d\U0001f467\u200d\U0001f466", 7, 11, 25, 1, 2),
    ("\U0001f3cb\U0001f3fd\u200d\u2640\ufe0f", 5, 7, 17, 1, 2),
    ("\U0001f1eb\U0001f1ee\U0001f1f8\U0001f1ea", 4, 8, 16, 2, 4),
    ("1\ufe0f\u20e3", 3, 3, 7, 1, 2),
    ("日本", 2, 2, 6, 2, 4),
    ("\U0001d400", 1, 2, 4, 1, 2),
    ("\u0915\u094d\u0937\u093f", 4, 4, 12, 1, 4),
    ("\r\n", 2, 2, 2, 1, 2),
]


@pytest.mark.parametrize(("text", "expected"), [(text, expected) for text, *expected in TABLE])
def test_counts(text: str, expected: list[int]) -> None:
    assert [count(text, TextProfile("any", None, unit)) for unit in COLUMNS] == expected
    assert set(COLUMNS) == set(UNITS)


@pytest.mark.parametrize(
    ("text", "weighted"),
    [  # the ends of the four light ranges of twitter-text config/v3.json, and their neighbours
        ("\u10ff\u1100", 3),
        ("\u1fff\u2000\u200d\u200e\u200f\u2010", 2 + 1 + 1 + 2 + 2 + 1),
        ("\u201f\u2020\u2031\u2032\u2037\u2038", 1 + 2 + 2 + 1 + 1 + 2),
        ("3 × 10–12, 60–90 s …", 20 + 1),  # × and – are light, … (U+2026) is not
        ("\u00a9", 1),  # a text sign stays one, and is an emoji sequence with U+FE0F
        ("\u00a9\ufe0f", 2),
    ],
)
def test_weights(text: str, weighted: int) -> None:
    assert count(text, TextProfile("any", None, "weighted")) == weighted


@pytest.mark.parametrize(
    ("text", "unit", "url_weight", "expected"),
    [
        ("https://video.example/w/7", "graphemes", None, 25),
        ("https://video.example/w/7", "graphemes", 10, 10),
        ("https://video.example/w/7", "weighted", None, 23),  # transformedURLLength of config/v3.json
        ("https://video.example/w/7", "weighted", 30, 30),
        ("See https://video.example/w/7.", "weighted", None, 4 + 23 + 1),  # the full stop ends the sentence
        ("(http://a.example/?b=(c)) HTTPS://B.EXAMPLE/日", "weighted", None, 1 + 23 + 2 + 1 + 23),
        ("https:// and www.example", "weighted", None, 24),
    ],
)
def test_addresses(text: str, unit: CountUnit, url_weight: int | None, expected: int) -> None:
    assert count(text, TextProfile("any", None, unit, url_weight=url_weight)) == expected


TEXTS = st.lists(
    st.text(max_size=6)
    | st.sampled_from([text for text, *_ in TABLE])
    | st.sampled_from([" ", ". ", "https://video.example/w/7", "word", "\u0600", "\u0301"])
).map("".join)


@given(TEXTS, TEXTS)
def test_units_agree_where_unicode_says_so(one: str, two: str) -> None:
    def length(text: str, unit: CountUnit) -> int:
        return count(text, replace(TextProfile("any", None, "graphemes"), unit=unit))

    text = one + two
    assert length(text, "graphemes") <= length(text, "codepoints") <= length(text, "utf16") <= length(text, "bytes")
    assert length(one, "utf16") + length(two, "utf16") == length(text, "utf16")
