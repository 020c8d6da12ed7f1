"""Repetitions, share of the one-repetition maximum, effort: what goes with what, by the published tables and formulas.

Each answer names the source it rests on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, localcontext
from enum import StrEnum
from fractions import Fraction
from typing import Literal

from repslate.model.prescription import Effort, Exertion, Reserve
from repslate.model.quantity import Range
from repslate.model.series import LoadTable

_DIGITS = 28  # significant, of the formulas with a power in them; the others are exact


class Refusal(StrEnum):
    """Why there is no answer."""

    BELOW_ONE = "less than one repetition"
    BEYOND_TABLE = "more repetitions to failure than the table has"
    ABOVE_MAXIMUM = "more than the one-repetition maximum"
    TOO_EASY = "an effort below RPE 6 says too little about the load"
    NO_EFFORT = "an effort above RPE 10"
    TOO_MANY = "more than 15 repetitions say too little about the maximum"
    NO_LOAD = "no load above zero"
    NO_DROP = "a drop that takes off nothing or everything"


@dataclass(frozen=True, slots=True)
class Answer:
    """One exact figure and the source it rests on; `rough` where the source is stretched."""

    value: Fraction
    source: str
    rough: bool = False


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


class Formula(StrEnum):
    """The published formulas for the one-repetition maximum, by their authors."""

    EPLEY = "Epley"
    BRZYCKI = "Brzycki"
    LANDER = "Lander"
    LOMBARDI = "Lombardi"
    MAYHEW = "Mayhew"
    OCONNOR = "O'Connor"
    WATHEN = "Wathen"


#: Volumes and pages from memory, but for Mayhew and Wathen.
FORMULA_SOURCES = {
    Formula.EPLEY: "Epley 1985, Poundage Chart",
    Formula.BRZYCKI: "Brzycki 1993, JOPERD 64(1):88–90",
    Formula.LANDER: "Lander 1985, NSCA J 6(6):60–61",
    Formula.LOMBARDI: "Lombardi 1989, Beginning Weight Training",
    Formula.MAYHEW: "Mayhew, Ball, Arnold & Bowen 1992, J Appl Sport Sci Res 6(4):200–206",
    Formula.OCONNOR: "O'Connor, Simmons & O'Shea 1989, Weight Training Today",
    Formula.WATHEN: "Wathen 1994, in Baechle, Essentials of Strength Training and Conditioning, pp 435–446",
}
# "No more than 10 repetitions should be used": Reynolds, Gordon & Robergs 2006. To show 11–15 as rough is our choice.
_SOUND, _ROUGH = 10, 15

Lift = Literal["chest press", "leg press"]
# 1RM = slope × 5RM + intercept in kg; standard errors 2.98 and 16.16 kg.
_REYNOLDS: dict[Lift, tuple[str, str]] = {"chest press": ("1.1307", "0.6999"), "leg press": ("1.0970", "14.2546")}
REYNOLDS_SOURCE = "Reynolds, Gordon & Robergs 2006, J Strength Cond Res 20(3):584–592"


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


def share_for(reps: Fraction | int, rating: Fraction | Decimal | int, table: LoadTable) -> Answer | Refusal:
    """Return the per cent of the maximum for so many repetitions at an RPE: the table at reps + reserve."""
    reserve = reserve_of(rating)
    if isinstance(reserve, Refusal):
        return reserve
    share = share_at(reps + reserve.value, table)
    return share if isinstance(share, Refusal) else Answer(share.value, f"{EFFORT_SOURCE}; {share.source}")


def maximum_by_table(load: Fraction, reps: int, table: LoadTable) -> Answer | Refusal:
    """Return the one-repetition maximum of a load lifted `reps` times to failure, by the table, in the load's unit."""
    if load <= 0:
        return Refusal.NO_LOAD
    share = share_at(reps, table)
    if isinstance(share, Refusal):
        return share
    return Answer(load * 100 / share.value, share.source, rough=reps > _SOUND)


def maximum_by_formula(load: Fraction, reps: int, formula: Formula) -> Answer | Refusal:
    """Return the one-repetition maximum of a load lifted `reps` times to failure, in the load's unit.

    Exact; of Lombardi, Mayhew and Wathen the factor to 28 significant digits. One repetition gives the load itself,
    whatever the formula makes of it; 11 to 15 are rough, more are refused.
    """
    if refused := _refusal(load, reps):
        return refused
    factor = Fraction(1) if reps == 1 else _factor(reps, formula)
    return Answer(load * factor, FORMULA_SOURCES[formula], rough=reps > _SOUND)


def reps_by_formula(percent: Fraction | int, formula: Literal[Formula.EPLEY, Formula.BRZYCKI]) -> Answer | Refusal:
    """Return the repetitions to failure at a per cent of the maximum: the inverse, of the two that have a plain one."""
    share = Fraction(percent) / 100
    if share > 1:
        return Refusal.ABOVE_MAXIMUM
    if share <= 0:
        return Refusal.NO_LOAD
    reps = 30 * (1 / share - 1) if formula is Formula.EPLEY else 37 - 36 * share
    if reps > _ROUGH:
        return Refusal.TOO_MANY
    if share == 1:
        reps = Fraction(1)  # as above: one repetition is the maximum itself
    return Refusal.BELOW_ONE if reps < 1 else Answer(reps, FORMULA_SOURCES[formula], rough=reps > _SOUND)


def maximum_of_press(five: Fraction, lift: Lift) -> Answer | Refusal:
    """Return the one-repetition maximum of a load lifted five times to failure, both in kilograms."""
    slope, intercept = _REYNOLDS[lift]
    if five <= 0:
        return Refusal.NO_LOAD
    return Answer(five * Fraction(slope) + Fraction(intercept), REYNOLDS_SOURCE)


def _refusal(load: Fraction, reps: int) -> Refusal | None:
    if load <= 0:
        return Refusal.NO_LOAD
    if reps < 1:
        return Refusal.BELOW_ONE
    return Refusal.TOO_MANY if reps > _ROUGH else None


def _factor(r: int, formula: Formula) -> Fraction:
    """Return 1RM ÷ load; Epley with r/30, not 0.033, and Brzycki with 36/(37 − r): under 0.3 % from the decimals."""
    match formula:
        case Formula.EPLEY:
            return 1 + Fraction(r, 30)
        case Formula.BRZYCKI:
            return Fraction(36, 37 - r)
        case Formula.LANDER:
            return 100 / (Fraction("101.3") - Fraction("2.67123") * r)
        case Formula.OCONNOR:
            return 1 + Fraction(r, 40)
        case Formula.LOMBARDI | Formula.MAYHEW | Formula.WATHEN:
            with localcontext(prec=_DIGITS):
                return Fraction(_power(Decimal(r), formula))


def _power(r: Decimal, formula: Literal[Formula.LOMBARDI, Formula.MAYHEW, Formula.WATHEN]) -> Decimal:
    match formula:
        case Formula.LOMBARDI:
            return r ** Decimal("0.1")
        case Formula.MAYHEW:
            return 100 / (Decimal("52.2") + Decimal("41.9") * (Decimal("-0.055") * r).exp())
        case Formula.WATHEN:
            return 100 / (Decimal("48.8") + Decimal("53.8") * (Decimal("-0.075") * r).exp())
