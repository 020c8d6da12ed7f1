"""What numbers, times and ranges sound like: cases one can read, and every number that another library can word."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from repslate.cut.cue import Cue
from repslate.model.quantity import write_number
from repslate.source.span import Span
from repslate.speech.ranges import amounts
from repslate.speech.words import Word, read_words


def said(*cues: str) -> tuple[Word, ...]:
    return read_words([Cue(Fraction(k), Fraction(k + 1), text, Span("subtitles.srt")) for k, text in enumerate(cues)])


def shown(*cues: str) -> str:
    """Return the amounts as "10-12", "60-90 s"; one that was taken back stands in brackets."""
    found = []
    for one in amounts(said(*cues)):
        ends = write_number(one.low) if one.low == one.high else f"{write_number(one.low)}-{write_number(one.high)}"
        text = f"{ends} {one.unit}".rstrip()
        found.append(f"({text})" if one.void else text)
    return ", ".join(found)


@pytest.mark.parametrize(
    ("talk", "figures"),
    [
        ("ten to twelve", "10-12"),
        ("10 12 reps", "10-12"),
        ("10-12 reps", "10-12"),
        ("10–12 reps", "10-12"),
        ("anywhere between fifteen and twenty", "15-20"),
        ("somewhere from fifteen up to twenty", "15-20"),
        ("six maybe eight a side", "6-8"),
        ("five or six", "5-6"),
        ("ten to a dozen", "10-12"),
        ("a dozen", "12"),
        ("half a dozen", "6"),
        ("a couple of reps", "2"),
        ("two times maybe three", "2-3"),
        ("eight nine ten whatever you have", "8-10"),
        ("one two three four five", "1, 2, 3, 4, 5"),  # counted aloud
        ("forty five", "45"),
        ("forty-five", "45"),
        ("a hundred and fifty", "150"),
        ("one twenty for the press", "120"),
        ("seven fifty to a thousand metres", "750-1000 m"),
        ("1,000 metres", "1000 m"),
        ("seventeen and a half up to 25 kilos", "17.5-25 kg"),
        ("two point five kilos", "2.5 kg"),
        ("22,5 kg", "22.5 kg"),
        ("the five eight ten pounders", "5-10 lb"),
        ("a pair of twenties and a pair of thirties", "20, 30"),
        ("between a pair of twenties and a pair of thirties", "20-30"),
        ("a minute and a half", "90 s"),
        ("that full minute and a half", "90 s"),
        ("half a minute", "30 s"),
        ("three quarters of a minute", "45 s"),
        ("two and a half minutes", "150 s"),
        ("two minutes thirty", "150 s"),
        ("one minute and ten seconds", "70 s"),
        ("one daft minute", "60 s"),
        ("one nasty wee minute", "60 s"),
        ("sixty to ninety seconds", "60-90 s"),
        ("ninety seconds to two minutes", "90-120 s"),
        ("two to three minutes", "120-180 s"),
        ("a minute or two", "60-120 s"),
        ("a minute to ninety seconds", "60-90 s"),
        ("forty five seconds a minute if nobody needs you", "45-60 s"),
        ("a minute a minute and a half", "60-90 s"),
        ("three minutes at least three up to four", "180-240 s"),
        ("1:30 of rest", "90 s"),
        ("30s hold", "30 s"),
        ("forty per cent", "40 %"),
        ("85%", "85 %"),
        ("seventy to seventy five percent", "70-75 %"),
        ("twelve sorry ten", "(12), 10"),
        ("twelve no sorry eight reps each leg", "(12), 8"),
        ("twenty ah no thirty seconds", "(20), 30 s"),
        ("eight no I'm sorry ten to twelve", "(8), 10-12"),
        ("two minutes no I'm telling lies it's three minutes", "(120 s), 180 s"),
        ("thirty uh thirty to forty five seconds", "(30), 30-45 s"),
        ("ten no rest then twelve", "10, 12"),  # nothing is taken back
        ("once or twice", "1, 2"),
        ("the second set", ""),
        ("a third of it", ""),
    ],
)
def test_amounts(talk: str, figures: str) -> None:
    assert shown(talk) == figures


def test_a_number_may_run_over_two_cues_but_not_over_a_silence() -> None:
    assert shown("between forty", "five and sixty seconds") == "45-60 s"
    far = [Cue(Fraction(0), Fraction(1), "forty", Span("a")), Cue(Fraction(9), Fraction(10), "five", Span("a"))]
    assert [one.low for one in amounts(read_words(far))] == [40, 5]


@given(st.integers(1, 999))
def test_every_number_that_another_library_words_is_read_back(number: int) -> None:
    """num2words 0.5 words them the British way: "one hundred and five"."""
    (found,) = amounts(said(num2words(number)))
    assert (found.low, found.high, found.unit) == (Fraction(number), Fraction(number), "")


@given(st.integers(2, 90), st.integers(2, 90))
def test_a_range_is_read_back_and_nothing_else_is_one(low: int, high: int) -> None:
    found = amounts(said(f"{num2words(low)} to {num2words(high)} reps"))
    if low < high:
        assert [(one.low, one.high) for one in found] == [(Fraction(low), Fraction(high))]
    else:
        assert [(one.low, one.high) for one in found] == [(Fraction(low),) * 2, (Fraction(high),) * 2]


@pytest.mark.parametrize(
    ("talk", "figures"),
    [
        ("① ten reps", "10"),
        ("② 8 reps", "8"),
        ("² goblet squats", ""),
        ("ten² reps", ""),
        ("²s", ""),
        ("①s of rest", ""),
        (f"{'9' * 5000} reps", ""),
        (f"{'9' * 5000}s", ""),
        (f"1.{'3' * 5000} kilos", ""),
        (f"1{',000' * 2000} reps", ""),
        ("١٢ reps", "12"),
        ("１２ reps", "12"),
    ],
)
def test_signs_that_are_no_number_and_numbers_that_are_no_figure(talk: str, figures: str) -> None:
    assert shown(talk) == figures
