"""The published figures, what is usual by goal and level, and which goal given figures fit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.episode import Goal, Level
from repslate.model.forms import BlockKind
from repslate.model.quantity import Range
from repslate.training.guidelines import (
    CLUSTER_PAUSE,
    REST_PAUSE,
    RESTS,
    ROWS,
    Bounds,
    Row,
    Status,
    assumed_rest,
    ranges,
)

S, H, E, P = Goal.STRENGTH, Goal.HYPERTROPHY, Goal.ENDURANCE, Goal.POWER

# NSCA, Essentials of Strength Training and Conditioning, tables 17.6 and 17.9–17.11 (numbers from memory).
FITS = [
    (240, 3, "90", S),  # the published check value
    (240, 2, "90", S),  # power as well; speed, not figures, tells them apart
    (180, 4, "80", P),
    (60, 10, "75", H),
    (180, 10, "75", H),  # ACSM 2009 gives 2–3 min where it is heavy
    (30, 15, "60", E),
    (None, None, "67", H),  # NSCA: 67 % is the end of both ranges
    (None, 12, "60", E),
    (30, 3, "90", None),
    (None, None, None, None),
]


USUAL = [
    # Rest, our policy from NSCA, ACSM 2009, Singer et al. 2024, Behenck et al. 2022, Maia et al. 2014.
    ("rest", S, None, BlockKind.STRAIGHT, (120, 300)),
    ("rest", P, None, BlockKind.STRAIGHT, (120, 300)),
    ("rest", H, None, BlockKind.STRAIGHT, (30, 180)),
    ("rest", E, None, BlockKind.STRAIGHT, (0, 60)),
    ("rest", None, None, BlockKind.SUPERSET, (60, 180)),
    ("rest", H, None, BlockKind.SUPERSET, (30, 180)),
    ("rest", S, None, BlockKind.TRI_SET, (60, 300)),
    ("within", H, None, BlockKind.SUPERSET, (0, 60)),
    ("within", None, None, BlockKind.CIRCUIT, (0, 30)),
    ("rest", None, None, BlockKind.CIRCUIT, (60, 180)),
    # NSCA 1–6 and ACSM 2009 8–12, advanced 1–12; IUSCA 2021 up to 30; NSCA 12 and more, ACSM 2009 10–15.
    ("reps", S, Level.BEGINNER, BlockKind.STRAIGHT, (1, 12)),
    ("reps", H, Level.BEGINNER, BlockKind.STRAIGHT, (5, 30)),
    ("reps", H, Level.ADVANCED, BlockKind.STRAIGHT, (1, 30)),
    ("reps", E, None, BlockKind.STRAIGHT, (10, None)),
    ("reps", P, Level.ADVANCED, BlockKind.STRAIGHT, (1, 6)),
    # NSCA from 85, ACSM 2026 from 80, ACSM 2009 60–70 for those still learning and 80–100 for the advanced.
    ("percent", S, Level.BEGINNER, BlockKind.STRAIGHT, (60, 100)),
    ("percent", S, Level.ADVANCED, BlockKind.STRAIGHT, (80, 100)),
    ("percent", H, Level.INTERMEDIATE, BlockKind.STRAIGHT, (30, 85)),
    ("percent", E, Level.INTERMEDIATE, BlockKind.STRAIGHT, (0, 70)),
    # NSCA 2–6, ACSM 2009 1–3 for beginners, ACSM 2026 2–3.
    ("sets", S, Level.BEGINNER, BlockKind.STRAIGHT, (1, 6)),
    ("sets", S, Level.ADVANCED, BlockKind.STRAIGHT, (2, 6)),
    ("sets", H, Level.ADVANCED, BlockKind.STRAIGHT, (1, 6)),
    # Nothing is published, or it is not the work itself.
    ("reps", Goal.MOBILITY, None, BlockKind.STRAIGHT, None),
    ("rest", Goal.MOBILITY, None, BlockKind.CIRCUIT, None),
    ("rest", Goal.CONDITIONING, None, BlockKind.STRAIGHT, None),
    ("rest", H, None, BlockKind.WARM_UP, None),
    ("reps", H, None, BlockKind.COOL_DOWN, None),
    ("reps", S, None, BlockKind.EVERY_MINUTE, None),
]


@pytest.mark.parametrize(("figure", "goal", "level", "kind", "expected"), USUAL)
def test_what_is_usual(
    figure: str, goal: Goal | None, level: Level | None, kind: BlockKind, expected: tuple[int, int | None] | None
) -> None:
    guide = getattr(ranges(goal, level, kind), figure)
    assert (guide and (guide.bounds.low, guide.bounds.high)) == expected


def test_exercises_that_assist_have_more_room() -> None:
    """ACSM 2009: 1–2 min of rest where an exercise assists."""
    usual = ranges(S, None, BlockKind.STRAIGHT, main=False)
    assert usual.reps is usual.percent is usual.sets is None
    assert usual.rest is not None
    assert usual.rest.bounds == Bounds(60, 300)


@pytest.mark.parametrize(
    ("main", "loaded", "usual", "assumed"),
    [
        (True, True, (120, 300), (120, 300)),  # NSCA, ACSM 2009
        (False, True, (60, 300), (60, 120)),  # ACSM 2009: 1–2 min where an exercise assists
        (True, False, (30, 300), (30, 90)),  # 30–90 s: common practice, no source
        (False, False, (30, 120), (30, 90)),
    ],
)
@pytest.mark.parametrize("goal", [S, P])
def test_only_loaded_main_lifts_need_minutes(
    goal: Goal, main: bool, loaded: bool, usual: tuple[int, int], assumed: tuple[int, int]
) -> None:
    rest = ranges(goal, None, BlockKind.STRAIGHT, main=main, loaded=loaded).rest
    taken = assumed_rest(goal, BlockKind.STRAIGHT, main=main, loaded=loaded)
    assert rest is not None
    assert taken is not None
    assert rest.bounds == Bounds(*usual)
    assert taken.bounds == Bounds(*assumed)
    assert assumed_rest(H, BlockKind.STRAIGHT, main=main, loaded=loaded) == RESTS[H]


def test_pauses_inside_a_set() -> None:
    """Tufano, Brown & Haff 2017 for clusters; Prestes et al. 2019, from memory, for rest-pause."""
    assert CLUSTER_PAUSE.bounds == Bounds(5, 45)
    assert REST_PAUSE.bounds == Bounds(10, 30)


def test_every_range_says_how_sure_it_is() -> None:
    assert all(guide.status is Status.POLICY and guide.sources for guide in RESTS.values())
    reps = ranges(H, Level.BEGINNER, BlockKind.STRAIGHT).reps
    assert reps is not None
    assert reps.status is Status.MEMORY  # one of its sources is
    assert any("IUSCA" in source for source in reps.sources)


@given(st.sampled_from(ROWS), st.sampled_from(("percent", "reps", "sets")))
def test_what_is_usual_holds_every_published_row(row: Row, figure: str) -> None:
    bounds = getattr(row, figure)
    for level in row.levels:
        guide = getattr(ranges(row.goal, level, BlockKind.STRAIGHT), figure)
        if bounds is not None:
            assert guide.bounds.low <= bounds.low
            assert guide.bounds.high is None or (bounds.high is not None and bounds.high <= guide.bounds.high)
            assert row.source in guide.sources


@given(st.integers(0, 50), st.integers(0, 20), st.integers(0, 50), st.integers(0, 20) | st.none())
def test_ranges_meet_where_they_share_a_figure(low: int, more: int, start: int, length: int | None) -> None:
    bounds = Bounds(start, None if length is None else start + length)
    shared = any(bounds.low <= n and (bounds.high is None or n <= bounds.high) for n in range(low, low + more + 1))
    assert bounds.meets(Range(low, low + more)) is shared
