"""Repetitions, share of the one-repetition maximum, effort: what goes with what, by the published tables.

Each answer names the source it rests on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from repslate.model.prescription import Effort, Exertion, Load, RepMaxShare, Reserve, of_one_rep_max
from repslate.model.quantity import Range
from repslate.model.series import LoadTable


class Refusal(StrEnum):
    """Why there is no answer."""

    BELOW_ONE = "less than one repetition"
    BEYOND_TABLE = "more repetitions to failure than the table has"
    ABOVE_MAXIMUM = "more than the one-repetition maximum"
    TOO_EASY = "an effort below RPE 6 says too little about the load"
    NO_EFFORT = "an effort above RPE 10"


@dataclass(frozen=True, slots=True)
class Answer:
    """One exact figure and the source it rests on."""

    value: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class Table:
    """Repetitions to failure and the per cent of the one-repetition maximum beside them."""

    name: str
    rows: Mapping[int, int]
    source: str


_FIRST_TEN = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75}
# The two differ at 12 repetitions; series.yaml chooses. Rows 11, 12 and 15 of the handbook were read in transcriptions
# of it, its table numbers are from memory.
TABLES = {
    LoadTable.HANDBOOK: Table(
        "NSCA handbook table",
        _FIRST_TEN | {11: 70, 12: 67, 15: 65},
        "Sheppard & Triplett in Haff & Triplett, Essentials of Strength Training and Conditioning, 4th ed., NSCA 2016",
    ),
    LoadTable.CHART: Table("NSCA load chart", _FIRST_TEN | {12: 70}, "NSCA, Training Load Chart"),
}
#: RPE 10 is none in reserve, 9 is one, and so forth; below 6 the scale no longer counts repetitions.
EFFORT_SOURCE = "Zourdos et al. 2016, J Strength Cond Res 30(1):267–275"
#: Why a table's figure is shown as "about".
SPREAD_SOURCE = "individual spread is large: Nuzzo et al. 2024, Sports Med 54(2):303–321"
_EASIEST, _HARDEST = 6, 10  # RPE


def share_at(to_failure: Fraction | int, table: LoadTable) -> Answer | Refusal:
    """Return the per cent of the maximum that allows so many repetitions to failure, on a line between two rows."""
    rows = TABLES[table].rows
    if to_failure < 1:
        return Refusal.BELOW_ONE
    if to_failure > max(rows):
        return Refusal.BEYOND_TABLE
    below = max(row for row in rows if row <= to_failure)
    above = min(row for row in rows if row >= to_failure)
    if below == above:
        return Answer(Fraction(rows[below]), TABLES[table].source)
    part = (Fraction(to_failure) - below) / (above - below)
    return Answer(rows[below] + part * (rows[above] - rows[below]), TABLES[table].source)


def reps_at(percent: Fraction | int, table: LoadTable) -> Answer | Refusal:
    """Return the repetitions to failure that a per cent of the maximum allows: the inverse of `share_at`."""
    rows = TABLES[table].rows
    if percent > 100:
        return Refusal.ABOVE_MAXIMUM
    if percent < min(rows.values()):
        return Refusal.BEYOND_TABLE
    heavier = max(row for row, share in rows.items() if share >= percent)
    lighter = min(row for row, share in rows.items() if share <= percent)
    if heavier == lighter:
        return Answer(Fraction(heavier), TABLES[table].source)
    part = (rows[heavier] - Fraction(percent)) / (rows[heavier] - rows[lighter])
    return Answer(heavier + part * (lighter - heavier), TABLES[table].source)


def reserve_of(rating: Fraction | Decimal | int) -> Answer | Refusal:
    """Return the repetitions in reserve of an RPE from 6 to 10, halves included."""
    if rating > _HARDEST:
        return Refusal.NO_EFFORT
    return Answer(_HARDEST - Fraction(rating), EFFORT_SOURCE) if rating >= _EASIEST else Refusal.TOO_EASY


def rating_of(reserve: Fraction | int) -> Answer | Refusal:
    """Return the RPE of 0 to 4 repetitions in reserve."""
    if reserve < 0:
        return Refusal.NO_EFFORT
    return Answer(_HARDEST - Fraction(reserve), EFFORT_SOURCE) if reserve <= _HARDEST - _EASIEST else Refusal.TOO_EASY


def reserve_range(effort: Effort) -> Range[Fraction] | Refusal:
    """Return the repetitions in reserve that an effort says, by RPE or outright; 0 to 4."""
    match effort:
        case Reserve(reps):
            ends = [rating_of(reps.low), rating_of(reps.high)]
            low, high = Fraction(reps.low), Fraction(reps.high)
        case Exertion(rating):
            ends = [reserve_of(rating.high), reserve_of(rating.low)]
            low, high = _HARDEST - Fraction(rating.high), _HARDEST - Fraction(rating.low)
    refused = next((end for end in ends if isinstance(end, Refusal)), None)
    return refused or Range(low, high)


def share_written(load: Load | None, table: LoadTable = LoadTable.HANDBOOK) -> Range[Fraction] | Refusal | None:
    """Return the per cent of the one-repetition maximum that a load is written as, by way of a training max or of nRM.

    None of any other load; a refusal where the table has no row for so many repetitions.
    """
    if percent := of_one_rep_max(load):
        return Range(Fraction(percent.low), Fraction(percent.high))
    if not isinstance(load, RepMaxShare):
        return None
    most, fewest = share_at(load.reps.high, table), share_at(load.reps.low, table)
    if isinstance(most, Refusal):
        return most
    if isinstance(fewest, Refusal):
        return fewest
    return Range(most.value * Fraction(load.percent.low) / 100, fewest.value * Fraction(load.percent.high) / 100)


def certain_share(load: Load | None) -> Range[Fraction] | None:
    """Return `share_written` where there is one."""
    share = share_written(load)
    return None if isinstance(share, Refusal) else share
