"""Which of several figures said of one thing counts, and what it is in the trade's notation."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from repslate.model.prescription import (
    Distance,
    Effort,
    Exertion,
    Load,
    OneRepMaxShare,
    Prescription,
    Reps,
    Reserve,
    Timed,
    Weight,
    Work,
    WorkingShare,
)
from repslate.model.quantity import Mass, Range
from repslate.speech.heard import Heard, HeardFigure

WORK = ("reps", "seconds", "metres")
BREATH = 10  # words: "four sets of eight to ten", and an alternative after the first ("two rounds, three if …")
_LOADS = ("kg", "lb", "percent_1rm", "percent_working")
_SURE = Fraction(3, 4)
# Common practice, no source: what is said when a figure is taken back later on.
_TAKES_BACK = frozenset("sorry scrap correction meant misspoke".split())
_TAKES_BACK_IN_TWO = frozenset({("make", "that"), ("make", "it"), ("i", "said"), ("no", "wait"), ("i", "mean")})


# ---- which of several counts


def with_field(figures: Iterable[HeardFigure], field: str) -> list[HeardFigure]:
    """Return the figures of one field, one of plan.FIELDS."""
    return [figure for figure in figures if figure.field == field]


def in_order(figures: Iterable[HeardFigure]) -> list[HeardFigure]:
    """Return figures in the order said."""
    return sorted(figures, key=lambda figure: figure.first)


def settled(figures: Sequence[HeardFigure], heard: Heard) -> HeardFigure | None:
    """Return the figure that counts of several of one kind: the first sure one, unless it is taken back later.

    Later ones are repeats, of which some are narrower ("sixty to ninety" and then "a minute's plenty"); a range around
    the first that is said in the same breath ("twelve, anything from twelve to fourteen") is what is meant by it.
    """
    sure = [figure for figure in figures if figure.confidence >= _SURE] or list(figures)
    if not sure:
        return None
    taken_back = next((figure for figure in reversed(sure[1:]) if _takes_back(figure, heard)), None)
    return taken_back or next((figure for figure in figures if _widens(figure, sure[0])), sure[0])


def _widens(figure: HeardFigure, first: HeardFigure) -> bool:
    """Tell whether a range is said right after a single number that lies in it."""
    around = figure.field == first.field and figure.low <= first.low == first.high <= figure.high
    return around and figure.low < figure.high and 0 < figure.first - first.last <= BREATH


def _takes_back(figure: HeardFigure, heard: Heard) -> bool:
    before = [word.text for word in heard.words[max(0, figure.first - 4) : figure.first]]
    pairs = set(pairwise(before))
    return not _TAKES_BACK.isdisjoint(before) or not _TAKES_BACK_IN_TWO.isdisjoint(pairs)


def with_alternative(figures: Sequence[HeardFigure], heard: Heard, chosen: list[HeardFigure]) -> HeardFigure | None:
    """Return the figure that counts, with the one for others right after it ("two rounds, three if you're keen")."""
    first = settled(figures, heard)
    if first is None:
        return None
    chosen.append(first)
    at = list(figures).index(first)
    after = figures[at + 1] if at + 1 < len(figures) else None
    if after is None or after.first - first.last > BREATH + 6 or after.field != first.field:
        return first
    said = {word.text for word in heard.words[first.last + 1 : after.last + 5]}
    if "if" not in said or not 0 < abs(after.low - first.high) <= 1:
        return first
    chosen.append(after)
    return replace(first, low=min(first.low, after.low), high=max(first.high, after.high))


def differing(figures: Iterable[HeardFigure], chosen: Sequence[HeardFigure]) -> list[HeardFigure]:
    """Return the figures that say something else than those chosen, each once."""
    known = {(one.field, one.low, one.high) for one in chosen}
    found = []
    for figure in in_order(figures):
        key = (figure.field, figure.low, figure.high)
        if key not in known:
            known.add(key)
            found.append(figure)
    return found


def is_same_dose(figure: HeardFigure, chosen: Sequence[HeardFigure]) -> bool:
    """Tell whether a figure repeats the work of one that was chosen."""
    dose = (figure.field, figure.low, figure.high)
    return any(one.field in WORK and (one.field, one.low, one.high) == dose for one in chosen)


# ---- a figure as the notation has it


def whole_of(figure: HeardFigure | None) -> Range[int] | None:
    """Return a figure as whole numbers from 1 on; None where it is none."""
    if figure is None or figure.low % 1 or figure.high % 1 or figure.low < 1:
        return None
    return Range(int(figure.low), int(figure.high))


def seconds_of(figure: HeardFigure) -> Range[Fraction]:
    """Return a figure as seconds."""
    return Range(figure.low, figure.high)


def decimals_of(figure: HeardFigure) -> Range[Decimal] | None:
    """Return a figure as decimals; None where two places do not hold it, which the notation does not read."""
    if (figure.low * 100) % 1 or (figure.high * 100) % 1:
        return None
    low, high = (Decimal(int(end * 100)) / 100 for end in (figure.low, figure.high))
    return Range(low, high)


def work_of(figure: HeardFigure) -> Work | None:
    """Return a figure of work as the notation has it; None where it cannot."""
    if figure.field == "reps":
        whole = whole_of(figure)
        return Reps((whole,)) if whole else None
    decimals = decimals_of(figure)
    if decimals is None or not decimals.low:
        return None
    return Timed(seconds_of(figure)) if figure.field == "seconds" else Distance(decimals)


def load_of(figures: Sequence[HeardFigure], heard: Heard, chosen: list[HeardFigure]) -> Load | None:
    """Return the load that was said first, and add its figure to those `chosen`."""
    figure = settled([one for one in figures if one.field in _LOADS and decimals_of(one)], heard)
    amount = decimals_of(figure) if figure else None
    if figure is None or amount is None:
        return None
    chosen.append(figure)
    match figure.field:
        case "kg":
            return Weight(Mass(amount, "kg"))
        case "lb":
            return Weight(Mass(amount, "lb"))
        case "percent_1rm":
            return OneRepMaxShare(amount)
        case _:
            return WorkingShare(amount)


def effort_of(figures: Sequence[HeardFigure], heard: Heard, chosen: list[HeardFigure]) -> Effort | None:
    """Return the effort that was said first, for a line holds one scale, and add its figure to those `chosen`."""
    figure = settled([one for one in figures if one.field in ("rir", "rpe")], heard)
    amount = decimals_of(figure) if figure else None
    if figure is None or amount is None:
        return None
    if figure.field == "rpe":
        chosen.append(figure)
        return Exertion(amount)
    whole = Range(int(figure.low), int(figure.high)) if figure.low % 1 == figure.high % 1 == 0 else None
    chosen += [figure] if whole else []
    return Reserve(whole) if whole else None


# ---- sets that lead up to the work: a share of the load and the repetitions for each

Step = tuple[HeardFigure, HeardFigure]


def ramp_of(figures: Sequence[HeardFigure]) -> tuple[list[Step], list[HeardFigure]]:
    """Return the steps of a ramp ("five at forty per cent, three at sixty"), and the figures that are none of it."""
    steps: list[Step] = []
    counted = [two for one, two in pairwise(figures) if one.field in ("sets", "rounds") and two.first - one.last <= 4]
    for one, two in pairwise(figures):
        fields = {one.field, two.field}
        if "reps" not in fields or not fields & {"percent_1rm", "percent_working"}:
            continue
        if one in counted or two in counted or two.first - one.last > BREATH:
            continue
        if not any(figure in step for step in steps for figure in (one, two)):
            steps.append((one, two) if two.field == "reps" else (two, one))
    climbing = [
        step
        for at, step in enumerate(steps)
        if step[0].field == steps[0][0].field and all(step[0].low > other[0].low for other in steps[:at])
    ]
    if len(climbing) < 2:
        return [], list(figures)
    taken = {id(figure) for step in climbing for figure in step}
    last = climbing[-1][1]
    top = next((one for one in figures if one.field == "reps" and 0 < one.first - last.last <= BREATH), None)
    if top and top.high < last.low:
        taken.add(id(top))  # the step above, whose share was not heard
    return climbing, [figure for figure in figures if id(figure) not in taken]


def ramped(steps: Sequence[Step]) -> Prescription:
    """Return the steps of a ramp as one line, "5/3/2 @ 40–80 %"; it says nothing where a step is not whole."""
    shares, reps = [step[0] for step in steps], [step[1] for step in steps]
    each = tuple(whole for one in reps if (whole := whole_of(one)))
    low, high = min(one.low for one in shares), max(one.high for one in shares)
    percent = decimals_of(replace(shares[0], low=low, high=high))
    if len(each) < len(steps) or percent is None:
        return Prescription()
    load = OneRepMaxShare(percent) if shares[0].field == "percent_1rm" else WorkingShare(percent)
    return Prescription(work=Reps(each), load=load)
