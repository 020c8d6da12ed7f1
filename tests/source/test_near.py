"""One rule says what a word may be a slip of."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.source.near import is_near, nearest


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("titel", "title"), ("Title", "title"), ("frame_rate", "frame rate"), ("Frame-Rate", "frame rate"),
        ("lvel", "level"), ("fraem rat", "frame rate"), ("shoe size", None), ("frm rat", None), ("kgs", None),
        ("kg", "kg"), ("tilt", None), ("", None),
    ],
)  # fmt: skip
def test_nearest(typed: str, meant: str | None) -> None:
    assert nearest(typed, ("title", "frame rate", "level", "kg")) == meant


WORDS = st.text("abcdé -", max_size=12)


@given(WORDS, WORDS)
def test_near_is_mutual_and_holds_for_every_word_itself(one: str, two: str) -> None:
    assert is_near(one, two) == is_near(two, one)
    assert is_near(one, one.upper())
    assert (nearest(one, [two]) == two) == is_near(one, two)
