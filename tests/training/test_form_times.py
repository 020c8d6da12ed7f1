"""How long each form of block takes: worked by hand, what is assumed with it, and the sets that come of it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from repslate.model.build import build
from repslate.model.episode import Block, Episode
from repslate.model.library import load
from repslate.model.quantity import Range
from repslate.model.series import Series
from repslate.model.sets import sets_of
from repslate.source.outline import read_outline
from repslate.training.duration import BlockTime, session_time
from repslate.training.volume import not_counted, working_sets

LIBRARY = load()


def read(text: str) -> Episode:
    outline, unread = read_outline(f"---\nformat: 1\ntitle: A case\n---\n{text}\n", "workout.md")
    episode, unbuilt = build(outline, Series(), LIBRARY, folder_name="case", file="workout.md")
    bad = [found for found in (*unread, *unbuilt) if found.severity.name == "ERROR"]
    assert not bad, bad
    return episode


def time_of(text: str) -> BlockTime:
    return session_time(read(text)).blocks[0]


def block_of(text: str) -> Block:
    return read(text).blocks[0]


ONE = "### Wobble"  # no movement of the library, so 3 s a repetition; 10 s to set up each set off the clock
TWO = "### Wobble\n### Wobble"

#: The block, and its seconds from low to high.
TOTALS = [
    # (21 + 15 + 9) × 3 s for each of two, and 3 rounds of two set-ups of 10 s: 2 · 135 + 60.
    (f"## For time · 21-15-9\n{TWO}", (330, 330)),
    # The same, and at most its cap.
    (f"## For time · 21-15-9 · cap 12 min\n{TWO}", (330, 720)),
    # The cap cuts what takes longer: never more than 5 min.
    (f"## For time · 21-15-9 · cap 5 min\n{TWO}", (300, 300)),
    # 60 reps once, 20–30 reps once: (60 + 20) · 3 + 20 to (60 + 30) · 3 + 20; no more than 280.
    ("## For time · cap 280 s\n### Wobble\n60 reps\n### Wobble\n20–30 reps", (260, 280)),
    # A run of its own length beside the scheme is done in each of the three rounds: 45 · 3 + 3 · 100 m · 1 s + 6 · 10.
    (f"## For time · 21-15-9\n{ONE}\n### Wobble\n100 m", (495, 495)),
    # 5 × (10 · 3 + 10) and four rests of 60 s.
    ("## Rounds for time · 5 rounds · rest 60 s\n### Wobble\n10 reps", (440, 440)),
    # The same without a rest: none is made up.
    ("## Rounds for time · 5 rounds\n### Wobble\n10 reps", (200, 200)),
    # Once through: (50 + 40) · 3 + 2 · 10.
    ("## Chipper\n### Wobble\n50 reps\n### Wobble\n40 reps", (290, 290)),
    # Five turns of 2 min.
    ("## Every 2 min for 10 min\n### Wobble\n8 reps", (600, 600)),
    # Eight turns of 90 s, of two exercises too.
    ("## Every 90 s for 8 rounds\n### Wobble\n8 reps", (720, 720)),
    ("## Every 90 s for 8 rounds\n### Wobble\n8 reps\n### Wobble\n8 reps", (720, 720)),
    # Eight to ten turns of 60 s.
    ("## Every minute for 8–10 rounds\n### Wobble\n8 reps", (480, 600)),
    # 8 · (20 + 10) − 10.
    (f"## Intervals · 8 × 20 s on / 10 s off\n{ONE}", (230, 230)),
    # Two exercises that take turns: eight in all.
    (f"## Intervals · 8 × 20 s on / 10 s off · alternating\n{TWO}", (230, 230)),
    # Eight of each: 16 · 30 − 10.
    (f"## Intervals · 8 × 20 s on / 10 s off · each exercise\n{TWO}", (470, 470)),
    # 3 · (5 · 240 − 120) and two rests of 180 s.
    (f"## Intervals · 3 sets of 5 × 2 min on / 2 min off · rest 3 min\n{ONE}", (3600, 3600)),
    # Without a rest between the sets the rest of an interval stands there: 10 · 240 − 120.
    (f"## Intervals · 2 sets of 5 × 2 min on / 2 min off\n{ONE}", (2280, 2280)),
    # Two stations, three rounds: 6 · (30 + 15) − 15.
    (f"## Circuit · 3 rounds · 30 s on / 15 s off\n{TWO}", (255, 255)),
    # With a minute after each round in place of its last 15 s: 3 · (30 + 15 + 30) + 2 · 60.
    (f"## Circuit · 3 rounds · 30 s on / 15 s off · rest 60 s\n{TWO}", (345, 345)),
    # A third round that may be left out: 2 · 75 + 60 at least.
    (f"## Circuit · 2–3 rounds · 30 s on / 15 s off · rest 60 s\n{TWO}", (210, 345)),
    # 55 reps · 3 s and ten set-ups.
    (f"## Ladder · 10-9-8-7-6-5-4-3-2-1\n{ONE}", (265, 265)),
    # The clock says how long it goes up.
    (f"## Ladder in 10 min · 3-6-9-…\n{TWO}", (600, 600)),
    # One set-up a round, as nothing is put down: 4 · (10 + 6 · 3 + 6 · 3) + 3 · 120.
    ("## Complex · 4 rounds · rest 2 min\n### Wobble\n6 reps\n### Wobble\n6 reps", (544, 544)),
    # The third is taken up for the second movement alone, if need be: 3 · 10 + 5 or 6 · 3 + 2 · 60.
    ("## Complex · rest 60 s\n### Wobble\n2–3 × 1 rep\n### Wobble\n3 × 1 rep", (165, 168)),
    # One way in, and no rest: 3 · (10 + 30 + 30).
    ("## Flow · 3 rounds\n### Wobble\n30 s\n### Wobble\n30 s", (210, 210)),
    # 10 · (10 + 30) shared, or each of two does them all.
    ("## Partner · 10 rounds · in pairs\n### Wobble\n10 reps", (400, 800)),
    ("## Partner · 10 rounds · in teams of 3\n### Wobble\n10 reps", (400, 1200)),
    ("## Partner · 10 rounds · in pairs · cap 10 min\n### Wobble\n10 reps", (400, 600)),
    # As straight sets: 3 · (10 + 30) + 2 · 90.
    ("## Strength\n### Wobble\n3 × 10, rest 90 s", (300, 300)),
    # A test is done once: 10 + 15.
    ("## Test\n### Wobble\n5 reps", (25, 25)),
]


@pytest.mark.parametrize(("text", "seconds"), TOTALS)
def test_a_block_takes(text: str, seconds: tuple[int, int]) -> None:
    assert time_of(text).total == Range(*map(Fraction, seconds))


def test_every_exercise_has_its_part_of_a_turn() -> None:
    """5 turns of 3 min, each with 24 s and 30 s of work; the rest of the turn is the block's."""
    time = time_of("## Every 3 min for 5 rounds · all every turn\n### Wobble\n8 reps\n### Wobble\n30 s")
    assert [one.work.low for one in time.exercises] == [5 * 24, 5 * 30]
    assert time.rest.low == 5 * (180 - 54)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (f"## For time · 21-15-9 · cap 12 min\n{TWO}", "it takes at most its cap of 12 min"),
        (f"## For time · 21-15-9 · cap 5 min\n{TWO}", "it ends at its cap of 5 min, though the work that is written"),
        (f"## For time · cap 5 min\n{ONE}", "nothing says how much to do, so its work counts as no time"),
        ("## Rounds for time · 5 rounds\n### Wobble\n9 reps", "no rest after a round, as none is written"),
        ("## Partner · 4 rounds\n### Wobble\n9 reps", "done in pairs, it takes from the time of all the work once"),
        (f"## Intervals · 8 × 20 s on / 10 s off\n{TWO}", "8 intervals are counted in all, as nothing says"),
        (f"## Every 90 s for 8 rounds\n{TWO}", "one exercise is counted for each turn of the clock"),
        ("## Every 20 s for 8 rounds\n### Wobble\n9 reps", "longer than its turn and is counted up to the turn"),
    ],
)
def test_what_is_assumed_is_said(text: str, words: str) -> None:
    assert any(words in one for one in time_of(text).assumed), time_of(text).assumed


#: The block, and the sets of each exercise.
SETS = [
    (f"## For time · 21-15-9\n{TWO}", [(3, 3), (3, 3)]),
    ("## For time · 21-15-9\n### Wobble\n### Wobble\n1 × 400 m", [(3, 3), (1, 1)]),
    ("## For time\n### Wobble\n50 reps", [(1, 1)]),
    ("## Rounds for time · 5 rounds\n### Wobble\n10 reps", [(5, 5)]),
    ("## Every 2 min for 10 min\n### Wobble\n8 reps", [(5, 5)]),
    ("## Every 2 min for 10 min · alternating\n### Wobble\n8 reps\n### Wobble\n8 reps", [(2, 3), (2, 3)]),
    ("## Every 2 min for 10 min · all every turn\n### Wobble\n8 reps\n### Wobble\n8 reps", [(5, 5), (5, 5)]),
    ("## Every 2 min for 10 min\n### Wobble\n8 reps\n### Wobble\n8 reps", [None, None]),
    ("## Every minute for 10 min\n### Wobble\n8 reps\n### Wobble\n8 reps", [(5, 5), (5, 5)]),
    ("## Every minute for 10 rounds\n### Wobble\n8 reps\n### Wobble\n8 reps", [None, None]),
    (f"## Intervals · 8 × 20 s on / 10 s off\n{ONE}", [(8, 8)]),
    (f"## Intervals · 3 sets of 8 × 20 s on / 10 s off · alternating\n{TWO}", [(12, 12), (12, 12)]),
    (f"## Intervals · 8 × 20 s on / 10 s off · each exercise\n{TWO}", [(8, 8), (8, 8)]),
    (f"## Intervals · 8 × 20 s on / 10 s off\n{TWO}", [None, None]),
    (f"## Circuit · 3 rounds · 30 s on / 15 s off\n{TWO}", [(3, 3), (3, 3)]),
    (f"## Ladder · 5-4-3-2-1\n{ONE}", [(5, 5)]),
    (f"## Ladder in 10 min · 3-6-9-…\n{ONE}", [None]),
    (f"## Ladder · 3-6-9-…\n{ONE}", [None]),
    ("## Partner · 10 rounds · in pairs\n### Wobble\n10 reps", [(5, 10)]),
    ("## As many repetitions as possible in 8 min\n### Wobble\nmax", [None]),
]


@pytest.mark.parametrize(("text", "sets"), SETS)
def test_the_sets_of_each(text: str, sets: list[tuple[int, int] | None]) -> None:
    block = block_of(text)
    found = [sets_of(block, exercise) for exercise in block.exercises]
    assert found == [one and Range(*one) for one in sets]


def test_a_flow_counts_no_working_sets() -> None:
    moves = "### Goblet squat\n30 s\n### Push-up\n30 s"
    assert working_sets(read(f"## Flow · 3 rounds\n{moves}"), LIBRARY) == Range(0, 0)
    assert working_sets(read(f"## Complex · 3 rounds · rest 60 s\n{moves}"), LIBRARY) == Range(6, 6)
    why = not_counted(read(f"## Flow · 3 rounds\n{moves}"), LIBRARY)
    assert {one.reason.value for one in why} == {"mobility, balance or breathing"}
