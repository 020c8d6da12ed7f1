"""Kilograms from a prescription, as a trainer writes it."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.prescription import Drops, Prescription, parse
from repslate.model.quantity import Range, write_number, write_range
from repslate.model.series import LoadTable, Series
from repslate.source.span import Span
from repslate.training.load import (
    MAXIMA,
    TWO_FOR_TWO,
    WRITTEN_SOURCE,
    drop_loads,
    load_table,
    warm_up,
)
from repslate.training.plates import Barbell, Rule
from repslate.training.repmax import EFFORT_SOURCE, TABLES, Refusal

KILOGRAMS, POUNDS = Series().kilograms, Series().pounds
BAR = Barbell(KILOGRAMS.bar, KILOGRAMS.plates, "kg")


def read(line: str) -> Prescription:
    p, findings = parse(line, Span("workout.md"))
    assert p is not None, findings
    return p


def shown(line: str, table: LoadTable = LoadTable.HANDBOOK, rack: Barbell | None = BAR) -> list[str] | Refusal | None:
    """Return "maximum: exact = loaded" for readers who lift 40, 100 and 140 kg."""
    loads = load_table(read(line), maxima=tuple(map(Fraction, (40, 100, 140))), unit="kg", table=table, rack=rack)
    if loads is None or isinstance(loads, Refusal):
        return loads
    rows = []
    for row in loads.rows:
        exact = write_range(row.exact)
        low, high = row.loaded or (None, None)
        ends = f" = {write_number(low.load)}–{write_number(high.load)}" if low and high else ""
        rows.append(f"{write_number(row.maximum)}: {exact}{ends}")
    return rows


@pytest.mark.parametrize(
    ("line", "rows"),
    [
        # A written share: plain arithmetic.
        ("5 × 5 @ 75 % 1RM", ["40: 30 = 30–30", "100: 75 = 75–75", "140: 105 = 105–105"]),
        ("3 × 8–10 @ 70–76 % 1RM", ["40: 28–30.4 = 27.5–30", "100: 70–76 = 70–75", "140: 98–106.4 = 97.5–107.5"]),
        # Zourdos et al. 2016 and the NSCA handbook table: 8 at RPE 8 is ten to failure, 75 %; 5 at RPE 8 is 83 %.
        ("3 × 8, RPE 8", ["40: 30 = 30–30", "100: 75 = 75–75", "140: 105 = 105–105"]),
        ("3 × 5, leave 2 in reserve", ["40: 33.2 = 32.5–32.5", "100: 83 = 82.5–82.5", "140: 116.2 = 115–115"]),
        # From most repetitions with most in reserve (12 to failure, 67 %) to fewest with least (8 and 1: 77 %).
        (
            "3 × 8–10, leave 1–2 in reserve",
            ["40: 26.8–30.8 = 27.5–30", "100: 67–77 = 67.5–77.5", "140: 93.8–107.8 = 95–107.5"],
        ),
        ("10/8/6, RPE 9", ["40: 28–33.2 = 27.5–32.5", "100: 70–83 = 70–82.5", "140: 98–116.2 = 97.5–115"]),
        # From 85 % on nothing is rounded up (our choice): 119 and 117.6 of 140 kg; 84 % still goes to the nearest.
        ("5 × 3 @ 84 % 1RM", ["40: 33.6 = 32.5–32.5", "100: 84 = 85–85", "140: 117.6 = 117.5–117.5"]),
        ("5 × 3 @ 89 % 1RM", ["40: 35.6 = 35–35", "100: 89 = 87.5–87.5", "140: 124.6 = 122.5–122.5"]),
        (
            "5 × 3 @ 84–89 % 1RM",
            ["40: 33.6–35.6 = 32.5–35", "100: 84–89 = 82.5–87.5", "140: 117.6–124.6 = 117.5–122.5"],
        ),
        # Nothing to compute from.
        ("3 × 8", None),
        ("3 × 8 @ 24 kg, RPE 8", None),
        ("3 × 8 @ bodyweight, leave 2 in reserve", None),
        ("2 × 8 @ 50 % of working load", None),
        ("3 × 30 s, RPE 8", None),
        ("3 × max, RPE 10", None),
        # Beyond the table: 16 to failure; below RPE 6.
        ("3 × 12, RPE 6", Refusal.BEYOND_TABLE),
        ("3 × 1–16, RPE 10", Refusal.BEYOND_TABLE),
        ("3 × 8, RPE 5–8", Refusal.TOO_EASY),
        ("3 × 0–5, RPE 10", Refusal.BELOW_ONE),
    ],
)
def test_loads_for_readers_with_different_maxima(line: str, rows: list[str] | Refusal | None) -> None:
    assert shown(line) == rows


def test_the_chart_gives_more_at_twelve() -> None:
    assert shown("3 × 12, RPE 10", rack=None) == ["40: 26.8", "100: 67", "140: 93.8"]
    assert shown("3 × 12, RPE 10", LoadTable.CHART, None) == ["40: 28", "100: 70", "140: 98"]


def test_loads_name_their_source() -> None:
    def source(line: str) -> str:
        loads = load_table(read(line), maxima=MAXIMA["kg"], unit="kg", table=LoadTable.CHART)
        assert loads is not None
        assert not isinstance(loads, Refusal)
        assert [row.maximum for row in loads.rows] == list(MAXIMA["kg"])
        return loads.source

    assert source("3 × 8, RPE 8") == f"{EFFORT_SOURCE}; {TABLES[LoadTable.CHART].source}"
    assert source("3 × 8 @ 80 % 1RM, RPE 8") == WRITTEN_SOURCE


@pytest.mark.parametrize(
    ("line", "order"),
    [
        ("10/8/6, RPE 9", "first to last set"),
        ("12/10/8 @ 67–80 % 1RM", "first to last set"),
        ("6/8/10, RPE 9", "last to first set"),
        ("10/8/8, RPE 9", ""),
        ("12/10/8 @ 67 % 1RM", ""),  # the same in every set
        ("3 × 8–10, RPE 9", ""),
    ],
)
def test_a_load_set_by_set_says_which_end_is_for_which(line: str, order: str) -> None:
    loads = load_table(read(line), maxima=MAXIMA["kg"], unit="kg", table=LoadTable.HANDBOOK)
    assert loads is not None
    assert not isinstance(loads, Refusal)
    assert loads.order == order


def test_lighter_than_the_bar_is_told() -> None:
    loads = load_table(read("3 × 8 @ 40 % 1RM"), maxima=(Fraction(40),), unit="kg", table=LoadTable.HANDBOOK, rack=BAR)
    assert loads is not None
    assert not isinstance(loads, Refusal)
    assert loads.rows[0].loaded is not None
    assert {(end.load, end.rule) for end in loads.rows[0].loaded} == {(Fraction(20), Rule.LIGHTEST)}


def test_pounds_are_not_loaded_on_a_bar_in_kilograms() -> None:
    bar = Barbell(POUNDS.bar, POUNDS.plates, "lb")
    with pytest.raises(ValueError, match="maxima in kg, but a rack in lb"):
        load_table(read("5 × 5 @ 75 % 1RM"), maxima=MAXIMA["kg"], unit="kg", table=LoadTable.HANDBOOK, rack=bar)


def ramp(load: str, unit: str = "kg") -> str:
    sets = warm_up(Fraction(load), "kg" if unit == "kg" else "lb")
    return ", ".join(f"{write_range(one.reps)} × {write_number(one.load)} ({one.percent} %)" for one in sets)


# Our choice after Ribeiro et al. 2020, Int J Environ Res Public Health 17(18):6882, who tried 40 and 80 %.
def test_warm_up() -> None:
    assert ramp("100") == "8–10 × 40 (40 %), 5–6 × 60 (60 %), 2–3 × 80 (80 %)"
    assert ramp("40") == "8–10 × 16 (40 %), 5–6 × 24 (60 %), 2–3 × 32 (80 %)"
    assert ramp("39.5") == "8–10 × 15.8 (40 %), 2–3 × 31.6 (80 %)"
    assert ramp("85", "lb") == "8–10 × 34 (40 %), 2–3 × 68 (80 %)"  # 38.6 kg
    assert ramp("90", "lb").count("×") == 3  # 40.8 kg


def test_each_drop_is_taken_off_the_load_before() -> None:
    assert drop_loads(Fraction(100), Drops(2, Range(Decimal(20), Decimal(25)))) == (
        Range(Fraction(75), Fraction(80)),
        Range(Fraction("56.25"), Fraction(64)),
    )


percents = st.integers(1, 9999).map(lambda hundredths: Decimal(hundredths) / 100)
falling = st.tuples(percents, percents).map(lambda ends: Range(min(ends), max(ends)))


@given(st.fractions(Fraction(1, 4), 500), st.builds(Drops, st.integers(1, 6), falling))
def test_drops_fall_strictly(load: Fraction, drops: Drops) -> None:
    loads = drop_loads(load, drops)
    assert not isinstance(loads, Refusal)
    assert len(loads) == drops.count
    for end in ("low", "high"):
        steps = [load, *(getattr(one, end) for one in loads)]
        assert all(before > after > 0 for before, after in pairwise(steps))


@pytest.mark.parametrize(
    ("load", "percent", "refused"),
    [(10, (0, 20), Refusal.NO_DROP), (10, (20, 100), Refusal.NO_DROP), (0, (20, 20), Refusal.NO_LOAD)],
)
def test_drops_that_are_none(load: int, percent: tuple[int, int], refused: Refusal) -> None:
    low, high = map(Decimal, percent)
    assert drop_loads(Fraction(load), Drops(1, Range(low, high))) is refused


def test_two_for_two() -> None:
    # Baechle & Earle: two repetitions over the goal in the last set, two sessions in a row; ACSM 2009: add 2–10 %.
    assert (TWO_FOR_TWO.extra_reps, TWO_FOR_TWO.sessions, TWO_FOR_TWO.percent) == (2, 2, Range(2, 10))
