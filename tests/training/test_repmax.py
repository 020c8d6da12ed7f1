"""Tables, effort and formulas against published figures; the source stands beside each."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.prescription import Effort, Exertion, Reserve
from repslate.model.quantity import Range
from repslate.model.series import LoadTable
from repslate.training.repmax import (
    TABLES,
    Answer,
    Refusal,
    rating_of,
    reps_at,
    reserve_of,
    reserve_range,
    share_at,
)

HANDBOOK, CHART = LoadTable.HANDBOOK, LoadTable.CHART


def value(answer: Answer | Refusal) -> Fraction:
    assert isinstance(answer, Answer), answer
    return answer.value


def near(found: Fraction, published: str, tolerance: str = "0.01") -> bool:
    return abs(found - Fraction(published)) <= Fraction(tolerance)


# NSCA, Essentials of Strength Training and Conditioning, 3rd ed. 2008, Table 15.7 (table number from memory).
@pytest.mark.parametrize(
    ("reps", "percent"),
    [(1, 100), (2, 95), (3, 93), (4, 90), (5, 87), (6, 85), (7, 83), (8, 80), (9, 77), (10, 75), (11, 70), (12, 67),
     (15, 65)],
)  # fmt: skip
def test_the_handbook_table(reps: int, percent: int) -> None:
    assert share_at(reps, HANDBOOK) == Answer(Fraction(percent), TABLES[HANDBOOK].source)
    assert value(reps_at(percent, HANDBOOK)) == reps


# NSCA, Training Load Chart: the same to 10, then 12 = 70 %. 11 lies on the line between.
@pytest.mark.parametrize(("reps", "percent"), [(1, "100"), (8, "80"), (10, "75"), (11, "72.5"), (12, "70")])
def test_the_chart(reps: int, percent: str) -> None:
    assert share_at(reps, CHART) == Answer(Fraction(percent), TABLES[CHART].source)


@pytest.mark.parametrize(
    ("answer", "refused"),
    [
        (share_at(16, HANDBOOK), Refusal.BEYOND_TABLE),
        (share_at(13, CHART), Refusal.BEYOND_TABLE),
        (share_at(0, HANDBOOK), Refusal.BELOW_ONE),
        (reps_at(64, HANDBOOK), Refusal.BEYOND_TABLE),
        (reps_at(101, HANDBOOK), Refusal.ABOVE_MAXIMUM),
        (reserve_of(Fraction(11, 2)), Refusal.TOO_EASY),  # RPE 5.5
        (reserve_of(11), Refusal.NO_EFFORT),
        (rating_of(5), Refusal.TOO_EASY),
        (rating_of(-1), Refusal.NO_EFFORT),
    ],
)
def test_no_answer_comes_with_its_reason(answer: Answer | Refusal, refused: Refusal) -> None:
    assert answer is refused


@given(st.fractions(1, 15), st.fractions(1, 15))
def test_more_repetitions_are_a_smaller_share(one: Fraction, other: Fraction) -> None:
    fewer, more = sorted((one, other))
    assert value(share_at(more, HANDBOOK)) <= value(share_at(fewer, HANDBOOK))


@given(st.sampled_from(LoadTable), st.data())
def test_the_table_has_its_inverse(table: LoadTable, data: st.DataObject) -> None:
    to_failure = data.draw(st.fractions(1, max(TABLES[table].rows), max_denominator=1000))
    assert value(reps_at(value(share_at(to_failure, table)), table)) == to_failure


# Zourdos et al. 2016, JSCR 30(1):267–275: RPE 10 is none in reserve, 9 is one, and so forth. Halves by the same rule,
# from memory.
@given(st.integers(12, 20).map(lambda half: Fraction(half, 2)))
def test_rating_and_reserve_make_ten(rating: Fraction) -> None:
    reserve = value(reserve_of(rating))
    assert reserve + rating == 10
    assert value(rating_of(reserve)) == rating


@pytest.mark.parametrize(
    ("effort", "reserve"),
    [
        (Exertion(Range(Decimal("7.5"), Decimal(9))), Range(Fraction(1), Fraction(5, 2))),
        (Reserve(Range(1, 3)), Range(Fraction(1), Fraction(3))),
        (Exertion(Range(Decimal(5), Decimal(8))), Refusal.TOO_EASY),
        (Reserve(Range(3, 5)), Refusal.TOO_EASY),
    ],
)
def test_reserve_of_an_effort(effort: Effort, reserve: Range[Fraction] | Refusal) -> None:
    assert reserve_range(effort) == reserve


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
    found = share_at(int(reps) + value(reserve_of(int(rating))), HANDBOOK)
    if percent == "out":
        assert found is Refusal.BEYOND_TABLE
        return
    assert near(value(found), percent, "0.05" if "." in percent else "0")
