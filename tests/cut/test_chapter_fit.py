"""Where a chapter stands: the nearest shot change that was looked for, black, its name, and what is proposed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.chapter_fit import Naming, better_start, black_at, naming, nearest_shot
from repslate.cut.cue import Cue
from repslate.cut.named import Mention
from repslate.cut.video import Film
from repslate.cut.wording import exact_clock
from repslate.model.clock import read_clock
from repslate.model.quantity import Range
from repslate.source.span import Span

ONE = Fraction(1)


def film(*shots: str, black: tuple[str, str] | None = None, looked_at: tuple[int, int] = (0, 100)) -> Film:
    dark = (Range(*map(Fraction, black)),) if black else ()
    seen = (Range(*map(Fraction, looked_at)),)
    return Film(Fraction(100), Fraction(25), None, 640, 360, tuple(map(Fraction, shots)), (), dark, seen)


def mention(start: str, end: str, *, sure: bool = True) -> Mention:
    return Mention("squat", Cue(Fraction(start), Fraction(end), "squats", Span("subtitles.srt")), "squats", sure)


@pytest.mark.parametrize(
    ("seen", "time", "expected"),
    [
        (film("8", "12"), "9", 8),
        (film("8", "12"), "10", 12),  # of two as near the later: the chapter's own picture follows it
        (film("8", looked_at=(20, 30)), "9", None),  # nobody has looked there
        (film("8", looked_at=(20, 30)), "25", None),  # the only cut lies in a part that was not looked at for it
        (film(), "0", 0),  # the film's own first frame
    ],
)
def test_nearest_shot(seen: Film, time: str, expected: int | None) -> None:
    assert nearest_shot(seen, Fraction(time)) == expected


def test_black_ends_where_the_picture_is_back() -> None:
    dark = film(black=("4", "5"))
    assert black_at(dark, Fraction("4")) == Range(Fraction(4), Fraction(5))
    assert black_at(dark, Fraction(5)) is None
    assert black_at(film(black=("0", "1")), Fraction(0)) is None, "a film may begin in black"


@pytest.mark.parametrize(
    ("said", "soon", "nearest"),
    [
        ([mention("30", "32")], True, 30),
        ([mention("50", "52")], True, 50),  # 20 s after the start
        ([mention("50.1", "52")], False, "50.1"),
        ([mention("29", "29.5")], True, 29),  # 1 s before
        ([mention("25", "31")], True, 25),  # still being said
        ([mention("20", "22"), mention("90", "92")], False, 20),
        ([mention("20", "22", sure=False)], False, None),  # it may have been another exercise
        ([], False, None),
    ],
)
def test_naming_of_a_chapter_at_30_s(said: list[Mention], soon: bool, nearest: str | int | None) -> None:
    found = naming("squat", Fraction(30), said)
    assert found.soon is soon
    assert (found.mention.cue.start if found.mention else None) == (None if nearest is None else Fraction(nearest))


def test_one_better_start_is_proposed() -> None:
    soon, elsewhere = Naming(True, mention("12", "14")), Naming(False, mention("40", "42"))
    assert better_start(film("8", black=("9", "11")), Fraction(10), soon, ONE) == 11
    assert better_start(film("8"), Fraction(10), soon, ONE) == 8
    assert better_start(film("8", black=("9", "11")), Fraction(10), elsewhere, ONE) == 40
    assert better_start(film("9.5"), Fraction(10), elsewhere, ONE) == 40
    assert better_start(film("9.5"), Fraction(10), Naming(False, None), ONE) is None
    assert better_start(film("9.5"), Fraction(10), None, ONE) is None
    assert better_start(None, Fraction(10), None, ONE) is None


@given(st.fractions(0, 20_000))
def test_a_time_is_written_so_that_a_jump_never_shows_the_shot_before(time: Fraction) -> None:
    read = read_clock(exact_clock(time))
    assert isinstance(read, Fraction)
    assert 0 <= read - time < Fraction(1, 1000)
