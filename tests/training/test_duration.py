"""The time of a workout: worked examples with their arithmetic, published check values, and what must always hold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate import api
from repslate.model.block_parts import Interval, Scheme
from repslate.model.build import build
from repslate.model.episode import Block, Episode, Exercise, Goal
from repslate.model.forms import BlockKind, form_of
from repslate.model.library import load
from repslate.model.prescription import Distance, Drops, Maximum, Prescription, Reps, Tempo, Timed
from repslate.model.quantity import Range
from repslate.model.series import Series
from repslate.source.outline import read_outline
from repslate.source.span import Span
from repslate.training.duration import BlockTime, ExerciseTime, SessionTime, session_time

SAMPLES = Path(__file__).parents[2] / "samples"
NOTHING = Fraction(0)
Ends = int | Fraction | tuple[int | Fraction, int | Fraction]


def read(text: str, goal: str = "hypertrophy") -> Episode:
    source = f"---\nformat: 1\ntitle: A case\ngoal: {goal}\n---\n{text}\n"
    outline, unread = read_outline(source, "workout.md")
    episode, unbuilt = build(outline, Series(), load(), folder_name="case", file="workout.md")
    bad = [f for f in (*unread, *unbuilt) if f.severity.name == "ERROR"]
    assert not bad, bad
    return episode


def bare(text: str, goal: str = "hypertrophy") -> SessionTime:
    """The session without setting up, changing over or going from block to block."""
    return session_time(read(text, goal), set_up=NOTHING, change_over=NOTHING, between_blocks=NOTHING)


def ends(seconds: Ends) -> Range[Fraction]:
    low, high = seconds if isinstance(seconds, tuple) else (seconds, seconds)
    return Range(Fraction(low), Fraction(high))


@dataclass(frozen=True)
class Case:
    """Figures in seconds, or pairs from low to high; "Wobble" is no movement of the library, so 3 s a repetition."""

    what: str
    text: str
    work: Ends
    rest: Ends = 0
    other: Ends = 0


CASES = [
    Case(
        "rest after every set but the last, 10 s to set up each",
        "## Straight sets\n### Wobble\n3 × 10, rest 90 s",
        work=3 * 10 * 3,
        rest=2 * 90,
        other=3 * 10,
    ),
    Case(
        "ranges stay ranges",
        "## Straight sets\n### Wobble\n3–4 × 8–12, rest 60–90 s",
        work=(3 * 8 * 3, 4 * 12 * 3),
        rest=(2 * 60, 3 * 90),
        other=(3 * 10, 4 * 10),
    ),
    Case(
        "sets with figures of their own",
        "## Straight sets\n### Wobble\n12/10/8, rest 1 min",
        (12 + 10 + 8) * 3,
        120,
        30,
    ),
    Case(
        "tempo times reps, and both sides",
        "## Straight sets\n### Wobble\n2 × 6 per side, tempo 3-1-X-0, rest 60 s",
        work=2 * 2 * 6 * (3 + 1 + 1 + 0),  # X counts as 1 s
        rest=60,
        other=2 * 10,
    ),
    Case("the library's pace: a burpee 4 s", "## Straight sets\n### Burpee\n2 × 6, rest 60 s", 2 * 6 * 4, 60, 20),
    Case("holds", "## Straight sets\n### Plank\n3 × 30–45 s, rest 60 s", (3 * 30, 3 * 45), 2 * 60, 30),
    Case(
        "the library's pace a metre",
        "## Straight sets\n### Farmer's carry\n4 × 40 m, rest 90 s",
        4 * 40 * 1,
        3 * 90,
        40,
    ),
    Case("a distance, 1 s a metre", "## Straight sets\n### Wobble\n2 × 30 m, rest 60 s", 2 * 30, 60, 20),
    Case("5 km rowed at 0.27 s a metre", "## Finisher\n### Rowing machine\n5 km", Fraction(1350), 0, 10),
    Case("400 m run at 0.4 s a metre", "## Straight sets\n### Run\n2 × 400 m, rest 60 s", 2 * 160, 60, 20),
    Case("100 m swum at 1.4 s a metre", "## Straight sets\n### Swim\n2 × 100 m, rest 60 s", 2 * 140, 60, 20),
    Case("calories of a machine, 3 to 7 s each", "## Finisher\n### Air bike\n12–15 cal", (12 * 3, 15 * 7), 0, 10),
    Case("calories by set", "## Straight sets\n### Wobble\n21/15/9 cal, rest 60 s", (45 * 3, 45 * 7), 120, 30),
    Case("breaths of 4 to 6 s, both sides", "## Finisher\n### Wobble\n5 breaths per side", (40, 60), 0, 10),
    Case("steps, one or two a second", "## Straight sets\n### Wobble\n2 × 20 steps, rest 60 s", (20, 40), 60, 20),
    Case("a step of a lunge is a repetition", "## Finisher\n### Walking lunge\n20 steps", 20 * 3, 0, 10),
    Case("nobody says how long a length is", "## Straight sets\n### Swim\n3 × 2 lengths, rest 30 s", 0, 60, 30),
    Case(
        "a hold of each repetition beside its 3 s",
        "## Straight sets\n### Wobble\n3 × 10, 5 s hold each, rest 60 s",
        work=3 * 10 * (3 + 5),
        rest=120,
        other=30,
    ),
    Case(
        "the last set goes on, up to 20 repetitions",
        "## Straight sets\n### Wobble\n3 × 5+, rest 60 s",
        work=(3 * 5 * 3, 2 * 5 * 3 + 20 * 3),
        rest=120,
        other=30,
    ),
    Case(
        "the last of a list goes on",
        "## Straight sets\n### Wobble\n5/3/1+, rest 60 s",
        work=(9 * 3, 8 * 3 + 20 * 3),
        rest=120,
        other=30,
    ),
    Case(
        "a last hold as long as possible",
        "## Straight sets\n### Wobble\n2 × 30 s, last set max, rest 60 s",
        work=(60, 30 + 60),
        rest=60,
        other=20,
    ),
    Case(  # where no goal is written, the middle half of 30–180 s: 67.5–142.5 s, twice
        "a rest as needed counts like one that nobody wrote",
        "## Straight sets\n### Wobble\n3 × 10, rest as needed",
        work=90,
        rest=(135, 285),
        other=30,
    ),
    Case("a complex counts all its movements", "## Finisher\n### Wobble\n(1 + 2)", 3 * 3, 0, 10),
    Case(
        "partials take half",
        "## Straight sets\n### Wobble\n2 × 10 + 6 partials, rest 60 s",
        work=2 * (10 + Fraction(6, 2)) * 3,
        rest=60,
        other=20,
    ),
    Case("21s are 3½ + 3½ + 7 whole repetitions", "## Finisher\n### Wobble\n21s (7 + 7 + 7)", 14 * 3, 0, 10),
    Case(
        "myo-reps: 4 small sets, each after 10 to 30 s",
        "## Finisher\n### Wobble\nmyo-reps 15 + 4 × 5",
        work=(15 + 4 * 5) * 3,
        rest=(4 * 10, 4 * 30),
        other=10,
    ),
    Case(
        "myo-reps with small sets that may be left out",
        "## Finisher\n### Wobble\nmyo-reps 15 + 3–5 × 5",
        work=((15 + 3 * 5) * 3, (15 + 5 * 5) * 3),
        rest=(3 * 10, 5 * 30),
        other=10,
    ),
    Case("three phases of a tempo", "## Finisher\n### Wobble\n10 reps, tempo 3-1-1", 10 * (3 + 1 + 1), 0, 10),
    Case("what a tempo leaves open: 1 s up", "## Finisher\n### Wobble\n10 reps, 4 s down", 10 * (4 + 1), 0, 10),
    Case(
        "drops without a size",
        "## Finisher\n### Wobble\n10 reps, 2 drops",
        work=3 * 10 * 3,
        rest=(0, 2 * 10),
        other=10,
    ),
    Case(
        "max is 6 to 20 repetitions",
        "## Straight sets\n### Wobble\n2 × max, rest 60 s",
        (2 * 6 * 3, 2 * 20 * 3),
        60,
        20,
    ),
    Case("max of a hold is 20 to 60 s", "## Straight sets\n### Plank\n1 × max", (20, 60), 0, 10),
    Case(
        "each drop is another set, after 0 to 10 s",
        "## Straight sets\n### Wobble\n2 × 10, 2 drops of 20 %, rest 90 s",
        work=2 * (1 + 2) * 10 * 3,
        rest=(90, 2 * 2 * 10 + 90),
        other=2 * 10,
    ),
    Case(
        "a cluster of three has two pauses of 5 to 45 s",
        "## Straight sets\n### Wobble\n2 × 6, cluster 2+2+2, rest 2 min",
        work=2 * 6 * 3,
        rest=(2 * 2 * 5 + 120, 2 * 2 * 45 + 120),
        other=2 * 10,
    ),
    Case(
        "rest-pause has one to three pauses of 10 to 30 s",
        "## Straight sets\n### Wobble\n2 × 12, rest-pause, rest 2 min",
        work=2 * 12 * 3,
        rest=(2 * 1 * 10 + 120, 2 * 3 * 30 + 120),
        other=2 * 10,
    ),
    Case(
        "15 s from exercise to exercise, 60 s from block to block, the warm-up counted",
        "## Warm-up\n### Wobble\n1 × 10\n## Straight sets\n### Wobble\n1 × 10\n### Wobble\n1 × 10",
        work=3 * 10 * 3,
        other=3 * 10 + 15 + 60,
    ),
    Case(
        "from one exercise to the next the rest written for the first passes, 15 s of it as the change-over",
        "## Straight sets\n### Wobble\n2 × 10, rest 90–120 s\n### Wobble\n1 × 10, rest 60 s",
        work=3 * 10 * 3,
        rest=(90 + (90 - 15), 120 + (120 - 15)),
        other=3 * 10 + 15,
    ),
    Case(
        "at least the change-over passes, and a rest in the heading does as well",
        "## Straight sets · rest 10 s\n### Wobble\n1 × 10\n### Wobble\n1 × 10, rest 40 s\n### Wobble\n1 × 10",
        work=3 * 10 * 3,
        rest=40 - 15,
        other=3 * 10 + 2 * 15,
    ),
    Case(
        "a rest nobody wrote stays inside its exercise",
        "## Straight sets\n### Wobble\n2 × 10\n### Wobble\n1 × 10",
        work=3 * 10 * 3,
        rest=(Fraction(135, 2), Fraction(285, 2)),
        other=3 * 10 + 15,
    ),
    Case(
        "another machine of a circuit takes 30 s to set up: four of them here, the squat 10 s",
        "## Circuit · 2 rounds · rest 60 s\n### Leg press\n10 reps\n### Chest press machine\n10 reps\n"
        "### Bodyweight squat\n10 reps",
        work=2 * 3 * 30,
        rest=60,
        other=2 * (30 + 30 + 10),
    ),
    Case(
        "the same machine again, and a superset of machines, take 10 s",
        "## Circuit · 2 rounds · rest 60 s\n### Leg press\n10 reps\n### Leg press\n10 reps\n"
        "## Superset · 2 rounds · rest 60 s\n### Leg press\n10 reps\n### Chest press machine\n10 reps",
        work=8 * 30,
        rest=2 * 60,
        other=8 * 10 + 60,
    ),
    Case(
        "a superset: back to back, the block's rest after each round but the last",
        "## Superset A · 3 rounds · rest 60–90 s\n### Wobble\n10 reps\n### Burpee\n6 reps",
        work=3 * (10 * 3 + 6 * 4),
        rest=(2 * 60, 2 * 90),
        other=3 * 2 * 10,
    ),
    Case(
        "own rest between stations; timed stations of a circuit are set up within the rest before them",
        "## Circuit · 2 rounds · rest 90 s\n### Wobble\n40 s, rest 20 s\n### Burpee\n30 s, rest 20 s\n### Plank\n30 s",
        work=2 * (40 + 30 + 30),
        rest=2 * (20 + 20) + 90,
        other=10,
    ),
    Case(
        "2–3 rounds: the third may be left out",
        "## Superset · 2–3 rounds · rest 60 s\n### Wobble\n10 reps\n### Wobble\n10 reps",
        work=(2 * 2 * 30, 3 * 2 * 30),
        rest=(60, 120),
        other=(2 * 20, 3 * 20),
    ),
    Case(
        "without rounds in the heading, the shorter one stops earlier",
        "## Superset · rest 60 s\n### Wobble\n3 × 10\n### Wobble\n2 × 10",
        work=(3 + 2) * 30,
        rest=2 * 60,
        other=5 * 10,
    ),
    Case(
        "once a round",
        "## Warm-up · 2 rounds\n### Wobble\n1 × 10\n### Wobble\n5 reps",
        work=2 * (10 + 5) * 3,
        other=2 * 2 * 10,
    ),
    Case(
        "every minute: work, and what is left of each minute; no setting up",
        "## Every minute for 4 min\n### Burpee\n6–8 reps\n### Wobble\n10 reps",
        work=(2 * 6 * 4 + 2 * 30, 2 * 8 * 4 + 2 * 30),
        rest=(2 * (60 - 8 * 4) + 2 * 30, 2 * (60 - 6 * 4) + 2 * 30),
    ),
    Case(
        "as many rounds as possible: 3 min hold two rounds of 60 s and 12 s, and 36 s of the third",
        "## As many rounds as possible in 3 min\n### Wobble\n20 reps, rest 12 s",
        work=60 + 60 + 36,
        rest=2 * 12,
    ),
    Case(
        "rest nobody wrote, for growth: the middle half of 30–180 s",
        "## Straight sets\n### Wobble\n3 × 10",
        work=90,
        rest=(2 * Fraction(135, 2), 2 * Fraction(285, 2)),
        other=30,
    ),
    Case(
        "rest nobody wrote after a round: the middle half of 30–180 s, for growth and after a pair",
        "## Superset A · 2 rounds\n### Wobble\n10 reps\n### Wobble\n10 reps",
        work=2 * 2 * 30,
        rest=(Fraction(135, 2), Fraction(285, 2)),
        other=40,
    ),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.what)
def test_worked_example(case: Case) -> None:
    time = session_time(read(case.text))
    assert (time.work, time.rest, time.set_up) == (ends(case.work), ends(case.rest), ends(case.other))


CHECK_VALUES = [
    # Wilk et al. 2018, J Hum Kinet (PMC6006544): the "regular" tempo 2/0/2/0 takes 4 s, the "slow" 6/0/4/0 takes 10 s.
    ("## Straight sets\n### Wobble\n1 × 10, tempo 2-0-2-0", 40),
    ("## Straight sets\n### Wobble\n1 × 1, tempo 6-0-4-0", 10),
    # ACSM 2009, MSSE 41(3):687–708: moderate speed 1–2 s each way; our 3 s, so 3 × 30 + 2 × 90.
    ("## Straight sets\n### Wobble\n3 × 10, rest 90 s", 270),
    # Work at the start of every minute, n minutes in all: Oliver-López et al. 2025, PeerJ 13:e19265.
    ("## Every minute for 10 min\n### Wobble\n8 reps", 600),
    # 8 × (20 s + 10 s): Tabata et al. 1996, MSSE 28:1327–1330 (from memory). By the clock the last 10 s count …
    ("## Circuit for 4 min\n### Wobble\n20 s, rest 10 s", 240),
    # … and as sets they do not: 8 × 20 + 7 × 10.
    ("## Straight sets\n### Wobble\n8 × 20 s, rest 10 s", 230),
]


@pytest.mark.parametrize(("text", "seconds"), CHECK_VALUES)
def test_published_value(text: str, seconds: int) -> None:
    assert bare(text).total == ends(seconds)


def test_intervals_by_the_clock_are_eight_times_work_and_rest() -> None:
    time = bare("## Circuit for 4 min\n### Wobble\n20 s, rest 10 s")
    assert (time.work, time.rest) == (ends(8 * 20), ends(8 * 10))
    assert [segment.seconds for segment in time.blocks[0].segments] == [20, 10] * 8


def test_pairs_save_what_was_measured() -> None:
    """Burke et al. 2024 (SportRxiv 419): 2 min after each pair took 36 % less than 2 min after each set.

    Two exercises of four sets of 45 s, the rest after the very last counted as they did, that between the two exercises
    counted by ours: (8·45 + 4·120) / (8·45 + 8·120).
    """
    sets = bare("## Straight sets · rest 2 min\n### Wobble\n4 × 45 s\n### Wobble\n4 × 45 s").total
    pairs = bare("## Superset · 4 rounds · rest 2 min\n### Wobble\n45 s\n### Wobble\n45 s").total
    after_last = 120
    saved = 1 - (pairs.high + after_last) / (sets.high + after_last)
    assert saved == Fraction(480, 1320)
    assert abs(saved - Fraction("0.364")) < Fraction("0.001")


# For strength the rest nobody wrote is that of the work: a loaded main lift 2–5 min (NSCA, ACSM 2009), what assists
# 1–2 min (ACSM 2009), the rest 30–90 s (common practice, no source); the middle half of each.
ASSUMED = [
    ("### Back squat\n3 × 5", (165, 255)),
    ("### Wobble\n3 × 5 @ 60 kg", (75, 105)),
    ("### Lateral raise\n3 × 10 @ 8 kg", (75, 105)),
    ("### Plank\n3 × 30 s", (45, 75)),
    ("### Single-leg stance\n3 × 30 s", (45, 75)),
    ("### Sit-to-stand\n3 × 8", (45, 75)),
    ("### Push-up\n3 × 8", (45, 75)),
    ("### Push-up\n3 × 8 @ band", (45, 75)),
    ("### Push-up\n3 × 8 @ bodyweight + 10 kg", (165, 255)),
]


@pytest.mark.parametrize(("text", "rest"), ASSUMED)
@pytest.mark.parametrize("goal", ["strength", "power"])
def test_only_a_loaded_main_lift_is_taken_to_rest_long(text: str, rest: tuple[int, int], goal: str) -> None:
    low, high = rest
    assert bare(f"## Straight sets\n{text}", goal).rest == ends((2 * low, 2 * high))


def test_one_loaded_main_lift_sets_the_rest_after_a_round() -> None:
    rounds = "## Superset A · 2 rounds\n### Plank\n30 s\n"
    assert bare(f"{rounds}### Push-up\n8 reps", "strength").rest == ends((45, 75))
    # 1–5 min: Behenck et al. 2022 after a pair, NSCA and ACSM 2009 for strength.
    assert bare(f"{rounds}### Back squat\n5 reps", "strength").rest == ends((120, 240))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("### Wobble\n3 × 10, rest 60 s", "3 s a repetition where no tempo is written (our default; 2–4 s"),
        ("### Burpee\n3 × 10, rest 60 s", "4 s a repetition where no tempo is written (the library): A1"),
        ("### Wobble\n3 × 10, tempo 3-0-X-0", "X in a tempo counts as 1 s"),
        ("### Wobble\n3 × 10", "67.5–142.5 s after a set, which nobody wrote (the middle half of 30–180 s"),
        ("### Wobble\n3 × max, rest 60 s", "“max” counts as 6–20 repetitions (our policy"),
        ("### Wobble\n3 sets, rest 60 s", "nothing says how much to do"),
        ("### Wobble\n3 × 40 m, rest 60 s", "1 s a metre (common practice, no source)"),
    ],
)
def test_what_nobody_wrote_is_said(text: str, words: str) -> None:
    time = session_time(read(f"## Straight sets\n{text}"))
    assert any(words in said for said in time.assumed), time.assumed
    assert set(time.blocks[0].assumed) <= set(time.assumed)


def test_what_is_written_is_not_assumed() -> None:
    time = bare("## Straight sets\n### Wobble\n3 × 10, tempo 3-1-1-0, rest 60 s\n### Plank\n3 × 30 s, rest 60 s")
    assert time.assumed == ()


def test_our_own_seconds_are_said_where_they_count() -> None:
    one = session_time(read("## Straight sets\n### Wobble\n2 × 10, tempo 3-1-1-0, rest 60 s")).assumed
    assert [said.partition(" (")[0] for said in one] == ["10 s to set up a set off the clock"]
    clock = session_time(read("## Every minute for 4 min\n### Wobble\n5 reps, tempo 3-1-1-0")).assumed
    assert clock == ()


def test_work_that_overruns_its_minute_is_said() -> None:
    time = bare("## Every minute for 3 min\n### Wobble\n25 reps")
    assert (time.work, time.rest, time.total) == (ends(180), ends(0), ends(180))
    assert any("longer than its minute" in said for said in time.assumed)


def test_a_slip_of_six_digits_neither_stalls_nor_miscounts() -> None:
    time = bare("## Straight sets\n### Wobble\n999999 × 10, rest 10 s")
    assert time.total == ends(999999 * 30 + 999998 * 10)
    assert len(time.blocks[0].segments) < 2000


def test_the_bar_is_in_the_order_of_the_work() -> None:
    time = session_time(
        read("## Superset · 2 rounds · rest 60 s\n### Wobble {a}\n10 reps, rest 5 s\n### Wobble {b}\n4–6 reps")
    )
    bar: list[tuple[str, str | None, int | Fraction]] = [
        (segment.kind, segment.exercise, segment.seconds) for segment in time.blocks[0].segments
    ]
    once: list[tuple[str, str | None, int | Fraction]] = [
        ("other", "a", 10),
        ("work", "a", 30),
        ("rest", "a", 5),
        ("other", "b", 10),
        ("work", "b", 15),
    ]
    assert bar == [*once, ("rest", None, 60), *once]


@pytest.mark.parametrize("name", ["boathouse-kettlebells", "school-hall-circuit", "chair-session"])
def test_a_sample_fits_its_film(name: str) -> None:
    """A film shows the whole workout and some talk: the estimate is a little shorter than the cut."""
    facts = api.read(SAMPLES / name).value
    assert facts is not None and facts.episode.length is not None
    time = session_time(facts.episode).total
    assert facts.episode.length * Fraction(3, 4) <= time.low <= time.high <= facts.episode.length


# ------------------------------------------------------------------------------------------- what must always hold
SPAN = Span("workout.md", 1, 1, 1)
_ENTRIES = ("Burpee", "Plank", "Farmer's carry", "Leg press", "Chest press machine")
_MATCHES = {name: load().find(name) for name in _ENTRIES}  # read before the first example's clock runs


def spread(low: int, high: int) -> st.SearchStrategy[Range[int]]:
    return st.tuples(st.integers(low, high), st.integers(0, 3)).map(lambda ab: Range(ab[0], ab[0] + ab[1]))


def seconds(low: int = 0) -> st.SearchStrategy[Range[Fraction]]:
    return spread(low, 200).map(lambda r: Range(Fraction(r.low), Fraction(r.high)))


works = st.one_of(
    st.lists(spread(1, 30), min_size=1, max_size=3).map(lambda each: Reps(tuple(each))),
    seconds(1).map(Timed),
    spread(1, 100).map(lambda r: Distance(Range(Decimal(r.low), Decimal(r.high)))),
    st.just(Maximum()),
    st.none(),
)
prescriptions = st.builds(
    Prescription,
    sets=st.none() | spread(2, 5),
    work=works,
    per_side=st.booleans(),
    tempo=st.none() | st.just(Tempo((3, 1, None, 0))),
    rest=st.none() | seconds(),
    drops=st.none() | st.builds(Drops, st.integers(1, 3), st.just(Range(Decimal(20), Decimal(20)))),
    rest_pause=st.booleans(),
    cluster=st.just(()) | st.just((2, 2, 1)),
)


def exercise(index: int, said: Prescription, name: str | None) -> Exercise:
    match = _MATCHES[name] if name else None
    return Exercise(f"e{index}", name or "Wobble", SPAN, f"A{index}", said, SPAN, match)


@st.composite
def blocks(draw: st.DrawFn) -> Block:
    kind = draw(st.sampled_from(list(BlockKind)))
    drawn = draw(st.lists(st.tuples(prescriptions, st.none() | st.sampled_from(_ENTRIES)), min_size=1, max_size=4))
    rounds = draw(st.none() | spread(1, 4))
    rest = draw(st.none() | seconds())
    on_clock = form_of(kind).on_the_clock or draw(st.integers(0, 5)) == 0
    clock = Fraction(draw(st.integers(30, 900))) if on_clock else None
    exercises = tuple(exercise(index, said, name) for index, (said, name) in enumerate(drawn))
    length = st.integers(5, 300).map(Fraction)
    return Block(
        kind,
        "A",
        "",
        kind.value,
        SPAN,
        exercises,
        rounds=rounds,
        rest=rest,
        clock=clock,
        turn=draw(length) if form_of(kind).names_turn else None,
        cap=draw(st.none() | length),
        scheme=draw(st.none() | st.builds(Scheme, st.lists(st.integers(1, 21), min_size=2).map(tuple), st.booleans())),
        interval=draw(st.none() | st.builds(Interval, length, length, st.none() | st.integers(1, 9))),
        sharing=draw(st.sampled_from((None, "alternating", "each"))),
        people=draw(st.none() | st.integers(1, 3)),
    )


episodes = st.builds(
    lambda drawn, goal: Episode("Case", "case", SPAN, Series(), goal=goal, blocks=tuple(drawn)),
    st.lists(blocks(), max_size=3),
    st.none() | st.sampled_from(Goal),
)


@given(episodes)
def test_the_parts_add_up(episode: Episode) -> None:
    time = session_time(episode)
    parts: list[SessionTime | BlockTime | ExerciseTime] = [time, *time.blocks]
    parts += [one for block in time.blocks for one in block.exercises]
    assert all(0 <= r.low <= r.high for part in parts for r in (part.work, part.rest, part.set_up, part.total))
    assert len(time.blocks) == len(episode.blocks)
    between = 60 * max(len(episode.blocks) - 1, 0)
    for end in ("low", "high"):
        assert getattr(time.total, end) == sum(getattr(block.total, end) for block in time.blocks) + between
    for block, timed in zip(episode.blocks, time.blocks, strict=True):
        assert sum(segment.seconds for segment in timed.segments) == (timed.total.low + timed.total.high) / 2
        assert all(segment.seconds > 0 for segment in timed.segments)
        assert sum(one.work.high for one in timed.exercises) in {timed.work.high, 0}  # 0: a clock that no work fills
        if block.runs is not None:
            assert timed.total == block.runs
        else:
            assert timed.total.high == timed.work.high + timed.rest.high + timed.set_up.high
            assert block.cap is None or timed.total.high == block.cap


@given(prescriptions, spread(2, 5), st.none() | st.sampled_from(_ENTRIES), st.sampled_from(Goal))
def test_company_takes_nothing_from_an_exercise(
    said: Prescription, sets: Range[int], name: str | None, goal: Goal
) -> None:
    """What passes between two exercises is the block's: each keeps the time it has alone."""
    both = tuple(exercise(index, replace(said, sets=sets), name) for index in range(2))
    episode = Episode("Case", "case", SPAN, Series(), goal=goal)

    def times(*some: Exercise) -> list[ExerciseTime]:
        block = Block(BlockKind.STRAIGHT, "A", "", "Straight sets", SPAN, some)
        return list(session_time(replace(episode, blocks=(block,))).blocks[0].exercises)

    assert times(*both) == [*times(both[0]), *times(both[1])]


def more(said: Prescription, what: str) -> Prescription:
    """The same prescription with one figure one larger, or as it is where it has none of that kind."""
    grown = said
    match what, said:
        case "set", Prescription(sets=Range(low, high)):
            grown = replace(said, sets=Range(low + 1, high + 1))
        case "possible set", Prescription(sets=Range(low, high)):
            grown = replace(said, sets=Range(low, high + 1))
        case "rep", Prescription(work=Reps((first, *others))):
            grown = replace(said, work=Reps((Range(first.low + 1, first.high + 1), *others)))
        case "second", Prescription(work=Timed(Range(low, high))):
            grown = replace(said, work=Timed(Range(low + 1, high + 1)))
        case "rest", Prescription(rest=Range(low, high)):
            grown = replace(said, rest=Range(low + 1, high + 1))
        case "drop", Prescription(drops=Drops(count, percent)):
            grown = replace(said, drops=Drops(count + 1, percent))
    return grown


def more_in_block(block: Block, what: str) -> Block:
    if what == "round" and block.rounds:
        return replace(block, rounds=Range(block.rounds.low + 1, block.rounds.high + 1))
    if what == "rest after the round" and block.rest:
        return replace(block, rest=Range(block.rest.low + 1, block.rest.high + 1))
    return block


@given(
    episodes.filter(lambda episode: episode.blocks),
    st.sampled_from(["set", "possible set", "rep", "second", "rest", "drop", "round", "rest after the round"]),
    st.data(),
)
def test_more_never_takes_less(episode: Episode, what: str, data: st.DataObject) -> None:
    which = data.draw(st.integers(0, len(episode.blocks) - 1))
    block = episode.blocks[which]
    one = data.draw(st.integers(0, len(block.exercises) - 1))
    grown = list(block.exercises)
    grown[one] = replace(grown[one], prescription=more(grown[one].prescription, what))
    larger = more_in_block(replace(block, exercises=tuple(grown)), what)
    after = replace(episode, blocks=(*episode.blocks[:which], larger, *episode.blocks[which + 1 :]))
    before_time, after_time = session_time(episode).total, session_time(after).total
    assert before_time.low <= after_time.low
    assert before_time.high <= after_time.high


@given(
    st.tuples(prescriptions, prescriptions),
    st.tuples(*[st.none() | st.sampled_from(_ENTRIES)] * 2),
    spread(1, 5),
    seconds(),
)
def test_a_superset_never_takes_longer_than_straight_sets(
    said: tuple[Prescription, Prescription],
    names: tuple[str | None, str | None],
    sets: Range[int],
    rest: Range[Fraction],
) -> None:
    """The same two exercises and sets, the same rest after each pair as after each set."""
    both = tuple(
        exercise(index, replace(one, sets=sets, rest=None), name)
        for index, (one, name) in enumerate(zip(said, names, strict=True))
    )
    paired = Block(BlockKind.SUPERSET, "A", "", "Superset", SPAN, both, rest=rest)
    straight = Block(BlockKind.STRAIGHT, "A", "", "Straight sets", SPAN, both, rest=rest)
    episode = Episode("Case", "case", SPAN, Series())
    in_pairs = session_time(replace(episode, blocks=(paired,))).total
    in_sets = session_time(replace(episode, blocks=(straight,))).total
    assert in_pairs.low <= in_sets.low
    assert in_pairs.high <= in_sets.high
