"""Figures said beside figures written: hand-made hearing, so that only the comparison is asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from repslate.checks.speech import exercise_not_written
from repslate.checks.spoken import differences, unwritten
from repslate.cut.cue import Cue
from repslate.facts import Facts
from repslate.model.episode import Episode
from repslate.model.forms import BlockKind
from repslate.model.library import load
from repslate.source.finding import Finding
from repslate.source.span import Span
from repslate.speech.heard import Heard, HeardFigure
from repslate.speech.plan import Part, Subject, Topic, plan_of
from repslate.speech.words import read_words

ReadFragment = Callable[[str], tuple[Facts | None, tuple[Finding, ...]]]

WORKOUT = """
## Warm-up · 2 rounds
### Arm circles
10 reps
### March on the spot
30 s
## Straight sets: Press
### Bench press
4 × 8–10, tempo 3-1-X-0, @ 70–75 % 1RM, leave 2 in reserve, rest 2 min
## Superset: Pull · 3 rounds · rest 90 s
### Dumbbell row
10–12 reps per side, @ 24 kg
### Face pull
15–20 reps, RPE 8, rest 15 s
## Straight sets: Arms
### Hammer curl
12/10/8, @ 2 × 12 kg, 2 drops of 20 %, rest 60 s
### Farmer's carry
3 × 40 m, rest 60 s
## Finisher
### Bench press
1 × 20, rest 60 s
"""
PLACES = {"warm-up": 0, "press": 1, "pull": 2, "arms": 3, "finisher": 4}


@pytest.fixture
def episode(read_fragment: ReadFragment) -> Episode:
    facts, _ = read_fragment(WORKOUT)
    assert facts is not None
    return facts.episode


def hear(episode: Episode, text: str, time: int = 0) -> HeardFigure:
    """Read "press/Bench press: reps 8–10 per side, sure 6": where, field, range and what else there is."""
    where, _, what = text.partition(": ")
    place, _, name = where.partition("/")
    field, ends, *more = what.replace(",", "").split()
    low, _, high = ends.partition("–")
    part = plan_of(episode)[PLACES[place]]
    subject = next(one for one in part.subjects if one.name == name) if name else None
    sure = Fraction(int(more[more.index("sure") + 1]), 10) if "sure" in more else Fraction(9, 10)
    at = (Fraction(time), field, Fraction(low), Fraction(high or low), "side" in more, subject, PLACES[place])
    return HeardFigure(*at, quote="…", confidence=sure, first=0, last=0)


MEET = [
    "press/Bench press: reps 10–12",
    "press/Bench press: reps 9",
    "press/Bench press: tempo_s 3",
    "press/Bench press: tempo_s 1",
    "press/Bench press: rpe 5",  # reserve is written: not like with like
    "press/Bench press: percent_working 50",
    "press/Bench press: reps 20",  # the same lift once more, in the finisher
    "press/Bench press: kg 80",  # no load in kilograms is written
    "press/Bench press: sets 1",
    "pull/Dumbbell row: reps 10 per side",
    "pull/Dumbbell row: reps 20",  # both sides together
    "pull/Dumbbell row: sets 3",
    "pull/Dumbbell row: lb 53",
    "pull/Face pull: rest_s 15",
    "pull/Face pull: rest_s 90",
    "pull: reps 12",
    "warm-up: rounds 2",
    "warm-up/March on the spot: reps 40",
    "arms/Hammer curl: reps 10",
    "arms/Hammer curl: sets 3",
    "arms/Hammer curl: kg 24",
    "arms/Hammer curl: rest_s 120, sure 3",
    "arms/Farmer's carry: metres 20 per side",
]
DIFFER = [
    ("press/Bench press: reps 12", "A1 8–10 reps"),
    ("press/Bench press: sets 5", "A1 4 sets"),
    ("press/Bench press: tempo_s 5", "A1 tempo 3-1-X-0"),
    ("press/Bench press: percent_1rm 80–85", "A1 70–75 % 1RM"),
    ("press/Bench press: rir 0–1", "A1 2 in reserve"),
    ("press/Bench press: rest_s 180", "A1 rest 2 min"),
    ("press: rest_s 180", "A1 rest 2 min"),  # the only exercise of its block
    ("pull/Dumbbell row: reps 8 per side", "B1 10–12 reps"),
    ("pull/Dumbbell row: kg 32", "B1 24 kg"),
    ("pull/Dumbbell row: lb 35", "B1 24 kg"),
    ("pull/Dumbbell row: rounds 4", "heading 3 rounds"),
    ("pull/Dumbbell row: sets 4", "heading 3 rounds"),
    ("pull: rest_s 60", "heading rest 90 s"),
    ("pull/Face pull: reps 10–12", "B2 15–20 reps"),
    ("pull/Face pull: rpe 6", "B2 RPE 8"),
    ("pull: reps 6", "heading 10–12 reps"),
    ("warm-up: rounds 3", "heading 2 rounds"),
    ("arms/Hammer curl: drop_sets 3", "C1 2 drops"),
    ("arms/Hammer curl: kg 16", "C1 2 × 12 kg"),
    ("arms/Farmer's carry: metres 60", "C2 40 m"),
]


def told(episode: Episode, *said: str) -> list[str]:
    """Return what differs as "B1 24 kg", "heading" in place of the label where the figure stands there."""
    figures = [hear(episode, text, time) for time, text in enumerate(said)]
    return [
        f"{'heading' if one.in_heading or one.exercise is None else one.exercise.label} {one.written}"
        for one in differences(figures, episode)
    ]


@pytest.mark.parametrize("said", MEET)
def test_what_meets_is_silent(episode: Episode, said: str) -> None:
    assert told(episode, said) == []


@pytest.mark.parametrize(("said", "written"), DIFFER)
def test_what_shares_nothing_is_told_beside_the_written_figure(episode: Episode, said: str, written: str) -> None:
    assert told(episode, said) == [written]


REPEATED = [
    # said twice alike: told once
    (("press/Bench press: reps 12", "press/Bench press: reps 12"), ["A1 8–10 reps"]),
    # said right as well: the viewer has it, and the other may be misheard
    (("press/Bench press: sets 4", "press/Bench press: sets 5"), []),
    (("press/Bench press: sets 5", "press: sets 4"), []),
    # … but not where the right one was only guessed
    (("press/Bench press: sets 4, sure 6", "press/Bench press: sets 5"), ["A1 4 sets"]),
    # a short rest said right says nothing of the long one
    (("pull/Face pull: rest_s 15", "pull/Face pull: rest_s 60"), ["heading rest 90 s"]),
    # what another exercise has is no excuse
    (("pull/Dumbbell row: reps 10", "pull/Face pull: reps 10"), ["B2 15–20 reps"]),
]


@pytest.mark.parametrize(("said", "written"), REPEATED)
def test_of_several_words_the_surest_counts(episode: Episode, said: tuple[str, ...], written: list[str]) -> None:
    assert told(episode, *said) == written


def test_the_last_of_equally_sure_words_is_quoted(episode: Episode) -> None:
    figures = [hear(episode, f"press/Bench press: reps {reps}", reps) for reps in (12, 15)]
    (one,) = differences(figures, episode)
    assert one.heard.low == 15


STRANGE = [
    ("Lat pulldown", "reps 12", "", True),
    ("Lat pulldown", "sets 3", "", False),  # no work: it may be a story
    ("Lat pulldown", "reps 12", "Face pull", False),  # "like a pulldown", said of what is written
    ("Bench press", "reps 12", "", False),  # written
    ("Preacher curl", "reps 12", "", False),  # a curl is written
]


@pytest.mark.parametrize(("name", "said", "named", "is_missing"), STRANGE)
def test_an_exercise_with_a_dose_that_no_line_knows_is_missing(
    episode: Episode, name: str, said: str, named: str, is_missing: bool
) -> None:
    entry = load().entries[name]
    part = Part("Straight sets", BlockKind.STRAIGHT, (Subject("x", name, entry),))
    talk = (Topic(0, Fraction(0), 0, 0, name),)
    plan = plan_of(episode)
    topics = (Topic(2, Fraction(1), 2, 1, named),) if named else ()
    figure = replace(hear(episode, f"pull/Face pull: {said}"), first=5)
    talked = Cue(Fraction(0), Fraction(9), "and now we go on to the one that I like best", Span("s.srt", 1))
    heard = Heard(read_words((talked,)), plan, topics, (figure,))
    assert [subject.name for subject, _ in unwritten((part,), talk, heard, episode)] == [name] * is_missing


@pytest.mark.parametrize("said", ["[Music]", "♪", "(laughs)", "…"])
def test_subtitles_without_a_word_say_nothing(read_fragment: ReadFragment, said: str) -> None:
    cue = f"1\n00:00:01,000 --> 00:00:04,000\n{said}\n"
    facts, _ = read_fragment(f"{WORKOUT}\nsubtitles.srt:\n{cue}")
    assert facts is not None
    assert facts.heard is not None
    assert not facts.heard.words
    assert list(exercise_not_written.find(facts)) == []
    assert list(differences(facts.heard.figures, facts.episode)) == []
