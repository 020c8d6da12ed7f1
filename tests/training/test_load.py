"""Kilograms from a prescription, as a trainer writes it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from repslate.model.prescription import Prescription, parse
from repslate.model.quantity import write_number, write_range
from repslate.model.series import LoadTable, Series
from repslate.source.span import Span
from repslate.training.load import (
    MAXIMA,
    WRITTEN_SOURCE,
    load_table,
    share_of,
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
        # Of a training max that is 90 % of the maximum: 70 % of it are 63 %.
        ("5 × 5 @ 70 % TM", ["40: 25.2 = 25–25", "100: 63 = 62.5–62.5", "140: 88.2 = 87.5–87.5"]),
        # The handbook's 8RM is 80 %, its 10RM 75 %; 90 % of a 5RM (87 %) are 78.3 %.
        ("3 × 8 @ 8–10RM", ["40: 30–32 = 30–32.5", "100: 75–80 = 75–80", "140: 105–112 = 105–112.5"]),
        ("3 × 5 @ 90 % of 5RM", ["40: 31.32 = 32.5–32.5", "100: 78.3 = 77.5–77.5", "140: 109.62 = 110–110"]),
        ("3 × 20 @ 20RM", Refusal.BEYOND_TABLE),
        # Shares of what nobody here knows.
        ("3 × 5 @ 90 % of the top set", None),
        ("3 × 5 @ 1.5 × bodyweight", None),
        ("3 × 3 @ 105 % of snatch", None),
        ("3 × 15 @ 24/16 kg", None),
        ("3 × 15 @ empty bar, RPE 6", None),
        ("3 × 15 @ as heavy as possible, RPE 8", None),
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


GRID = """
reps  10   9    8    7    6
1     100  95   93   90   87
3     93   90   87   85   83
5     87   85   83   80   77
6     85   83   80   77   75
8     80   77   75   70   67
10    75   70   67   66.3 65.7
12    67   66.3 65.7 65   out
"""
RATINGS, *ROWS = [line.split() for line in GRID.strip().splitlines()]


# Derived: Zourdos et al. 2016 and the NSCA handbook table, with a straight line between 12 and 15 repetitions.
@pytest.mark.parametrize(
    ("reps", "rating", "percent"),
    [(row[0], rating, cell) for row in ROWS for rating, cell in zip(RATINGS[1:], row[1:], strict=True)],
)
def test_the_mapping_grid(reps: str, rating: str, percent: str) -> None:
    found = share_of(read(f"{reps} reps, RPE {rating}"), LoadTable.HANDBOOK)
    if percent == "out":
        assert found is Refusal.BEYOND_TABLE
        return
    assert found is not None and not isinstance(found, Refusal)
    share, source = found
    assert share.low == share.high and abs(share.low - Fraction(percent)) <= (Fraction("0.05") if "." in percent else 0)
    assert source == f"{EFFORT_SOURCE}; {TABLES[LoadTable.HANDBOOK].source}"
