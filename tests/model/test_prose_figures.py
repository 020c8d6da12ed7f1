"""Figures in running text: the plain forms are read, everything that counts something else is left alone."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.prose_figures import said_in
from repslate.source.span import Span

HERE = Span("workout.md", 5, 3)

READ = [
    ("Do 15 reps.", ["reps 15"]),
    ("do fifteen", ["reps 15"]),
    ("do twenty-five or thirty reps", ["reps 25-30"]),
    ("Aim for 10 to 12, then three sets.", ["reps 10-12", "sets 3"]),
    ("four hard sets of 8 reps", ["reps 8", "sets 4"]),
    ("Do 3 sets of 15.", ["reps 15", "sets 3"]),
    ("Do 3 sets of 12 to 15 with a pause.", ["reps 12-15", "sets 3"]),
    ("Do 3 sets of 10 kg swings.", ["sets 3"]),
    ("Use a 24 kg kettlebell.", ["load 24"]),
    ("with two 22,5 kg dumbbells", ["load 45/2"]),
    ("Hold a 100 lb bag.", ["load 45359237/1000000"]),
    ("Perform 8 per side for four rounds.", ["reps 8", "rounds 4"]),
    ("At the start of each minute do six.", ["reps 6"]),
    ("12–15 repetitions", ["reps 12-15"]),
    ("rest 90 seconds between rounds", ["rest 90"]),
    ("Rest for about two minutes.", ["rest 120"]),
    ("rest a minute", ["rest 60"]),
    ("rest a minute and a half", ["rest 90"]),
    ("rest half a minute", ["rest 30"]),
    ("a minute's rest", ["rest 60"]),
    ("60 to 90 s of rest", ["rest 60-90"]),
    ("Hold it for forty-five seconds.", ["hold 45"]),
    ("Rest a minute. Then rest a minute.", ["rest 60", "rest 60"]),
    ("do ſix reps", ["reps 6"]),  # the long s is an s to a search that ignores case
]

LEFT_ALONE = [
    "Put two hands on the bell, feet 30 degrees out.",
    "The last part starts 10 minutes from the end.",
    "leave 2 in reserve",
    "Stop with 2 reps in reserve.",
    "two reps short of failure",
    "the first 5 reps slow",
    "The last two repetitions are hard.",
    "After 8 reps change hands.",
    "We have done this since 2019.",
    "Sit at 90 degrees.",
    "position 3",
    "Rest two seconds at the bottom.",
    "Hold 2 seconds at the top.",
    "Do one and a half reps.",
    "Do 2 with the band.",
    "two sets of dumbbells",
    "If you can do 15 reps, add weight.",
    "Never do 20 reps.",
    "Beginners do 6 reps.",
    "Last week we did 15 reps.",
    "Add 2 reps every week.",
    "more than 12 reps",
    "Rest your hands for 2 minutes.",
    "Rest your arm on the bench.",
    "3.5 sets",
    "Lift one foot, five seconds a side.",
    "one set of stairs",
    "One set, one round, do one.",
    "the last set of 8",
    "24 kg is a lot.",
    "Start with a 12 kg bell.",
    "Use a lighter one with 8 kg.",
    "Your first time, use a 12 kg bell.",
    "Use an 8 kg bell or a bottle.",
    # One row for each word that makes a sentence speak of another case.
    *(
        f"{word} do 15 reps."
        for word in (
            "If",
            "When",
            "Once",
            "Until",
            "Unless",
            "We can",
            "We could",
            "You cannot",
            "You may",
            "You might",
            "Not",
            "Never",
            "Avoid",
            "Instead",
            "A beginner",
            "Beginners",
            "Easier",
            "Harder",
            "We did",
            "It was",
            "They were",
            "We used",
            "Long ago",
            "Later",
            "As a warm-up",
            "As a warmup",
            "Build up",
            "Work up",
            "Next time",
            "Last week",
            "Next episode",
            "Don't",
        )
    ),
]


#: What the checks hold against the plan only where the exercise has such a figure, or is called so.
OF_AN_EXERCISE = frozenset({"counted", "total", "time", "times", "sided", "intervals"})
MORE = [
    ("Ten slow squats, then rest.", ["counted 10"]),
    ("Ten minutes of twelve, so 120 swings in all.", ["total 120", "time 600"]),
    ("Stand quietly for fifteen seconds.", ["time 15"]),
    ("Six slow turns each way.", ["sided 6", "counted 6"]),
    ("Lift the leg ten times, then roll over.", ["times 10", "counted 10"]),
    ("Three seconds down, one second up.", ["time 3", "down 3", "up 1"]),
    ("Take two seconds to lower until you touch the seat.", ["down 2"]),
    ("Set the clock for ten minutes.", ["time 600", "clock 600"]),
    ("Do not rest: drop to 2 × 6 kg.", ["drop each 6"]),
    ("Take 10 kg off the bar.", []),
]


def spelt(text: str, *, more: bool = False) -> list[str]:
    found = [(s.what, s.low, s.high) for s in said_in(text, HERE) if more or s.what not in OF_AN_EXERCISE]
    return [f"{what} {low}" if low == high else f"{what} {low}-{high}" for what, low, high in found]


@pytest.mark.parametrize(("text", "expected"), READ)
def test_plain_forms_are_read(text: str, expected: list[str]) -> None:
    assert spelt(text) == expected


@pytest.mark.parametrize(("text", "expected"), MORE)
def test_what_is_said_of_an_exercise_is_read(text: str, expected: list[str]) -> None:
    found = spelt(text, more=True)  # of what is counted the noun tells later whether it is meant
    assert [one for one in found if one in expected or not one.startswith("counted")] == expected


@pytest.mark.parametrize("text", LEFT_ALONE)
def test_other_counts_are_left_alone(text: str) -> None:
    assert spelt(text) == []


def test_place_is_that_of_the_words() -> None:
    found = list(said_in("Stand tall. Do 15 reps,\nthen rest a minute.", HERE))
    first, second = (one for one in found if one.what != "counted")
    assert (first.words, first.span) == ("Do 15", Span("workout.md", 5, 15, 5))
    assert (second.words, second.span) == ("rest a minute", Span("workout.md", 6, 6, 13))
    assert second.low == Fraction(60)


PIECES = st.sampled_from(
    [
        "do",
        "rest",
        "hold",
        "for",
        "a",
        "half",
        "minute",
        "ſix",
        "forty five",
        "12",
        "–",
        "to",
        "0",
        "reps",
        "SETS",
        "s",
        ".",
        "\n",
    ]
)


@given(st.lists(PIECES | st.text(max_size=3), max_size=12).map(" ".join))
def test_any_text_is_survived_and_each_figure_lies_in_it(text: str) -> None:
    lines = text.split("\n")
    for said in said_in(text, Span("workout.md")):
        assert said.low >= 0
        line = lines[said.span.line - 1]
        assert line[said.span.column - 1 :].startswith(said.words.split(" ")[0])
