"""One of the figures that "×" joins: an amount, a list, both sides, "max", a hold, or a load in words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import Dose, TypedLoad
from repslate.model.notes.lexicon import listed
from repslate.model.notes.loads import plain_load
from repslate.model.notes.movements import dotted
from repslate.model.notes.techniques import twentyone
from repslate.model.quantity import Range

_LISTED = ("", "rep", "s", "m", "kg", "lb", "percent")
_SIDES = (listed("left"), listed("right"))


@dataclass(frozen=True, slots=True)
class Factor:
    """A figure that may be multiplied, with what makes it one of sets, of a side, of a repetition maximum."""

    end: int
    amount: Amount | None = None
    listed: Figures | None = None
    is_max: bool = False
    per_side: bool = False
    load: TypedLoad | None = None
    hold: Range[Decimal] | None = None
    rep_max: bool = False
    is_sets: bool = False
    twenty_one: bool = False


def factor(typed: Typed, at: int, *, sets: Decimal | None = None) -> Factor | None:
    """Read what begins at `at`; `sets` is what multiplies it, which decides what a list in it is of."""
    if typed.is_mark(at, "("):
        inside = None if typed.is_mark(at + 1, "(") else factor(typed, at + 1, sets=sets)
        is_whole = inside and typed.is_mark(inside.end, ")")
        return (
            replace(inside, end=inside.end + 1, rep_max=False, is_sets=False, twenty_one=False)
            if inside and is_whole
            else None
        )
    return _worded(typed, at) or _sided(typed, at) or _load(typed, at) or _figured(typed, at, sets)


def _worded(typed: Typed, at: int) -> Factor | None:
    if end := typed.sees(at, "max"):
        return Factor(end, is_max=True)
    if typed[at].word == "a" and typed.sees(at + 1, "set"):
        one = Decimal(1)
        return Factor(at + 2, amount=Amount(one, one, "set", at, at + 2), is_sets=True)
    return None


def _sided(typed: Typed, at: int) -> Factor | None:
    """Read "5L, 5R", "3R/3L", "10R 10L", "30 m R + 30 m L" and "5 left, 5 right": the same for each side."""
    first = typed.amount(at)
    side = _side(typed[first.end].word) if first else None
    if not first or side is None:
        return None
    step = first.end + 1
    step += typed[step].text in (",", "/", "+", "&", "-") or typed[step].word == "and"
    second = typed.amount(step)
    other = _side(typed[second.end].word) if second else None
    if not second or other is None or other == side or second.figures != first.figures:
        return None
    return Factor(second.end + 1, amount=first, per_side=True)


def _side(word: str) -> int | None:
    return next((side for side, words in enumerate(_SIDES) if word in words), None)


def _load(typed: Typed, at: int) -> Factor | None:
    if (end := typed.sees(at, "emptybar")) and typed[end].is_times:
        return Factor(end, load=TypedLoad("words", words="empty bar"))
    found = plain_load(typed, at, Dose())
    is_body = found and found[0].kind in ("fraction_bodyweight", "bodyweight")
    return Factor(found[1], load=found[0]) if found and is_body else None


def _figured(typed: Typed, at: int, sets: Decimal | None) -> Factor | None:
    if typed.sees(at, "twentyone") and typed[at].text == "21":
        found = twentyone(typed, at, Dose())
        is_told = found and found.end > typed.sees(at, "twentyone")
        return Factor(found.end, twenty_one=True) if found and is_told else None
    some = _list(typed, at, sets)
    if some:
        return Factor(typed.sees(some.end, "rep") or some.end if some.sign != "," else some.end, listed=some)
    amount = typed.amount(at)
    return _amount(typed, amount) if amount else None


def _list(typed: Typed, at: int, sets: Decimal | None) -> Figures | None:
    """Return a list by slashes, "+" or points; one by commas only where it has a figure for each set."""
    some = typed.figures(at, "/+") or dotted(typed, at)
    if some and some.sign == "+" and sets is not None:
        is_apart = typed.sees(some.end, "partials", "drops", "myo", "max") or typed[some.end].is_times
        some = None if is_apart else some
    if some and some.unit in _LISTED:
        return some
    some = typed.figures(at, ",")
    if some is None or typed[some.end].is_times or typed.sees(some.end, "perday"):
        return None
    return some if sets is not None and len(some.ranges) == sets and some.unit in ("", "rep") else None


def _amount(typed: Typed, amount: Amount) -> Factor:
    end = amount.end
    if amount.unit == "" and typed[end].glued and (behind := typed.sees(end, "repmax")):
        return Factor(behind, amount=amount, rep_max=True)
    if amount.unit == "s" and (behind := typed.sees(end, "hold")) and typed[end].word != "pause":
        return Factor(behind, amount=amount, hold=amount.figures)
    if amount.unit in ("rep", "") and typed[end].word == "reps":
        return Factor(end + 1, amount=amount)
    return Factor(end, amount=amount, is_sets=amount.unit in ("set", "round"))
