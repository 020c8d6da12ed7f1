"""Figures joined by "×" or by words: sets and repetitions, loads and repetitions, all three."""

from __future__ import annotations

from dataclasses import replace

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import (
    FEWEST_HELD,
    LIGHTEST,
    LONGEST_HOLD,
    Dose,
    Fields,
    Found,
    TypedLoad,
    exactly,
    work_fields,
)
from repslate.model.notes.factors import Factor, factor
from repslate.model.notes.loads import levels, massive
from repslate.model.notes.roles import heavy_singles
from repslate.model.notes.shares import percent_of
from repslate.model.notes.techniques import TWENTY_ONE, whole
from repslate.model.quantity import Range, write_number
from repslate.model.tokens import Kind

_MOST_SETS = 12  # more than that before "×" is a load or a distance, not sets (common practice, no source)
_MOST_REPS = 60  # more than that behind "×" may be seconds or metres; multiples of 25 from 25 on are a length in a pool
_SETS = ("", "set", "round")
_OF = frozenset({"of", "de", "à", "von", "di", "with", "at", "a"})


def chain(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 × 10", "4 sets of 8", "60 kg x 5", "5x10x75", "3 x (5 s hold x 8)", and "x 4" alone."""
    return _chain(typed, at, given, is_inside=False)


def _chain(typed: Typed, at: int, given: Dose, *, is_inside: bool) -> Found | None:
    """Read a chain; inside a bracket no other is looked into, which keeps the work linear."""
    if typed[at].is_times and typed[at].word != "by" and not typed[at - 1].is_number:
        at += 1
        alone = factor(typed, at)
        if alone and (found := _times_alone(typed, alone)):
            return found
    if typed[at].word == "a" and typed.sees(at + 1, "set") and heavy_singles(typed, at + 3, given):
        return Found(at + 3)  # "a series of 4-6 heavy doubles"
    factors, step = _factors(typed, at)
    if not factors:
        return None
    if len(factors) == 1:
        bracketed = None if is_inside else _bracketed(typed, factors[0], step) or _carried(typed, at, step)
        return bracketed or _single(typed, factors[0], given)
    product = _product(typed, factors, given)
    is_unequal = factors[0].listed and len(set(factors[0].listed.values)) > 1
    is_unclear = is_unequal or (factors[0].amount and factors[0].amount.unit in ("", "set"))
    if product is None and is_unclear:
        return Found(factors[-1].end, {"words": [typed.typed(at, factors[-1].end)]})
    return product


def _times_alone(typed: Typed, alone: Factor) -> Found | None:
    """Read "x 4" with nothing in front that it multiplies."""
    if not alone.amount or alone.rep_max or alone.amount.unit not in (*_SETS, "rep"):
        return None
    if typed[alone.end].is_times and factor(typed, alone.end + 1):
        return None
    return Found(typed.sees(alone.end, "set", "rep", "round") or alone.end, {"times": alone.amount.figures})


def _factors(typed: Typed, at: int) -> tuple[list[Factor], int]:
    """Return all that "×" joins from `at` on, and the piece where no more of them begins."""
    factors: list[Factor] = []
    sets = None
    while one := factor(typed, at, sets=sets):
        factors.append(one)
        is_times = len(factors) == 1 and one.amount and one.amount.unit == "rep" and _joins(typed, one.end)
        if one.amount and is_times:
            factors[0] = one = replace(one, amount=replace(one.amount, unit=""))
        if one.amount and len(factors) == 1:
            sets = one.amount.high
        behind = _behind_joint(typed, one, is_first=len(factors) == 1)
        if behind is None:
            break
        at = behind
    return factors, at


def _behind_joint(typed: Typed, one: Factor, *, is_first: bool) -> int | None:
    """Return the piece behind "×", "sets of" or "sets, each"; None where nothing joins."""
    end = one.end
    if one.is_sets and typed[end].word in _OF:
        return end + 1
    if one.is_sets and typed[end].text == "," and typed[end + 1].word == "each":
        return end + 2
    if typed[end].is_times or (typed[end].is_dash and typed[end + 1].is_times):
        return end + 1 + typed[end].is_dash
    if is_first and one.amount and one.amount.unit == "" and _joins(typed, end):
        return end
    return end if one.is_sets and is_first and typed[end].text == "x" else None


def _carried(typed: Typed, at: int, bracket: int) -> Found | None:
    """Carry "5 x (2 min jog / 2 min walk)" whole: a bracket of several works is done so many times."""
    is_joined = typed[bracket - 1].is_times or typed[bracket - 1].word in _OF
    if not typed.is_mark(bracket, "(") or not is_joined:
        return None
    end = bracket + 1
    while end < typed.end and not typed.is_mark(end, "()"):
        end += 1
    inside = range(bracket + 1, end)
    is_several = sum(typed.amount(step) is not None for step in inside) > 1 and any(
        typed.is_mark(step, "/+,") for step in inside
    )
    if not is_several or not typed.is_mark(end, ")"):
        return None
    return Found(end + 1, {"words": [typed.typed(at, end + 1)]})


def _joins(typed: Typed, end: int) -> bool:
    """Tell whether a word for times ends here, and a figure follows: "3-mal 12 Kniebeugen", "3 fois 10"."""
    is_word = typed[end - 1].kind is Kind.WORD and not typed[end - 1].is_times
    return is_word and typed.sees(end - 1, "x") == end and typed.amount(end) is not None


def _bracketed(typed: Typed, sets: Factor, at: int) -> Found | None:
    """Read on from "3 ×" where a bracket holds what each set is: "3 x (5 s hold x 8)"."""
    if at <= sets.end or not typed.is_mark(at, "(") or not sets.amount or sets.amount.unit not in ("", "set"):
        return None
    if typed.is_mark(at + 1, "("):
        return None
    inside = _chain(typed, at + 1, Dose(), is_inside=True)
    if inside is None or not typed.is_mark(inside.end, ")") or "sets" in inside.fields or "words" in inside.fields:
        return None
    return Found(inside.end + 1, {"sets": sets.amount.figures, **inside.fields}, may_begin=True)


def _single(typed: Typed, one: Factor, given: Dose) -> Found | None:
    """Read a factor that nothing multiplies: sets, both sides, "max", a hold, repetitions, "5RM"."""
    end, amount = one.end, one.amount
    if one.is_max:
        return None if given.is_max else Found(end, {"is_max": True})
    if one.hold:
        return Found(end + typed[end].is_times, {"hold": one.hold})
    if amount is None:
        return None
    if one.is_sets:
        most = typed.sees(end, "max")
        sets: Fields = {"sets": amount.figures}
        return Found(most, {**sets, "is_max": True}) if most else Found(end, {**sets, "adds": True})
    if one.per_side:
        return Found(end, {**(work_fields(amount) or {}), "per_side": True})
    return _counted(typed, one, amount, given)


def _counted(typed: Typed, one: Factor, amount: Amount, given: Dose) -> Found | None:
    if one.rep_max:
        load: Fields = {"load": TypedLoad("rep_max", amount.figures)}
        if not given.has_work and not given.load and amount.start and typed[one.end].text == "":
            return Found(one.end, {**load, "reps": (amount.figures,)})  # "Snatch – 1RM"
        return Found(one.end, load) if not given.load and given.has_work else None
    if amount.unit != "rep":
        return None
    sets = typed.sees(one.end, "in")
    return Found(sets) if sets else Found(one.end, work_fields(amount) or {})


def _product(typed: Typed, factors: list[Factor], given: Dose) -> Found | None:
    """Decide what two, three or more figures joined by "×" say; None where they may say two things."""
    end = factors[-1].end
    fields = _two(*factors) if len(factors) == 2 else _three(*factors) if len(factors) == 3 else None
    if fields is None:
        return None
    fields = Fields(**fields)
    if any(one.per_side for one in factors):
        fields["per_side"] = True
    load = fields.get("load")
    if load and load.kind == "percent_1rm" and _is_off(typed, factors[0]):
        fields["load"] = replace(load, kind="percent_off_top")
    elif load and load.kind.startswith("percent"):
        fields["load"], end = percent_of(typed, end, load)
    elif load and (behind := typed.sees(end, "eachhand")):
        fields["load"], end = replace(load, words=typed.typed(end, behind)), behind
    return Found(end, {"part": bool(given.load and load), **fields}, may_begin=True)


def _is_off(typed: Typed, first: Factor) -> bool:
    """Tell whether "-20 % x 8" stands there: so much less than the sets before."""
    at = first.amount.start if first.amount else 0
    return at > 0 and typed[at - 1].is_dash and typed[at].glued and not typed[at - 1].glued


# ---- two figures


def _two(first: Factor, second: Factor) -> Fields | None:
    if first.load or (first.amount and massive(first.amount)):
        return _loaded(first, second)
    if second.load or (second.amount and massive(second.amount)):
        return _loaded(second, first)
    if first.listed and second.amount and (fields := _by_set(first.listed, second.amount)):
        return fields
    for read in (_of_one_set, _of_work):
        is_read, fields = read(first, second)
        if is_read:
            return fields
    sets = first.amount
    return _sets_of(first, sets, second) if sets else None


def _by_set(found: Figures, reps: Amount) -> Fields | None:
    """Read "65/70/75 % × 3": a load for each set, and the repetitions of all of them."""
    load = levels(found) if found.unit and found.sign == "/" else None
    if load is None or not load.by_set or reps.unit not in ("", "rep"):
        return None
    return {"load": load, "sets": exactly(len(load.by_set)), "reps": (reps.figures,)}


def _of_one_set(first: Factor, second: Factor) -> tuple[bool, Fields | None]:
    """Decide where the first figure is of one set: a hold and its repetitions, "1+1 × 3", "5L/5R × 3"."""
    amount = second.amount
    if first.hold and amount:
        return True, {**(work_fields(amount) or {}), "hold": first.hold}
    if amount and amount.unit in _SETS:
        if first.listed and first.listed.sign == "+":
            return True, {"complex": whole(first.listed), "sets": amount.figures}
        if first.per_side and first.amount:
            return True, {**(work_fields(first.amount) or {}), "sets": amount.figures}
        if first.is_max and amount.high <= _MOST_SETS:
            return True, {"is_max": True, "sets": amount.figures}
    return first.amount is None or first.per_side or first.is_max, None


def _of_work(first: Factor, second: Factor) -> tuple[bool, Fields | None]:
    """Decide where the first figure has a unit of work: "10 reps × 3 sets", "30 s × 4"."""
    work, sets = first.amount, second.amount
    if work is None or work.unit in _SETS:
        return False, None
    if work.unit == "rep":
        if sets and second.is_sets:
            return True, {"sets": sets.figures, "reps": (work.figures,)}
        return True, None
    fields = work_fields(work)
    if sets and fields and (second.is_sets or sets.unit == ""):
        return True, {"sets": sets.figures, **fields}
    return True, {"sets": sets.figures} if sets and second.is_sets else None


def _sets_of(first: Factor, sets: Amount, second: Factor) -> Fields | None:
    """Decide where the first figure counts: sets, or repetitions of a hold or before "sets"."""
    amount = second.amount
    if second.hold and second.hold.high <= LONGEST_HOLD and sets.low >= FEWEST_HELD and not first.is_sets:
        return {"reps": (sets.figures,), "hold": second.hold}
    work = _work_of(second, sets)
    if amount and amount.unit == "" and not first.is_sets and (unclear := _bare(sets, second, amount)):
        return unclear
    is_too_many = amount and amount.unit == "" and not first.is_sets and amount.low > _MOST_REPS
    if work is None or is_too_many:
        return None
    if second.is_sets and amount and not first.is_sets:
        return {"sets": amount.figures, "reps": (sets.figures,)}
    return {"sets": sets.figures, **work}


def _bare(sets: Amount, second: Factor, amount: Amount) -> Fields | None:
    """Decide where neither figure has a unit: a load and its repetitions, or a length that nobody wrote as one."""
    if sets.low > LIGHTEST >= amount.high and not second.per_side:
        return {"load": TypedLoad("mass", sets.figures), "reps": (amount.figures,)}
    if amount.low >= 25 and amount.low % 25 == 0 and not second.rep_max:
        return {"sets": sets.figures, "words": [f"× {write_number(amount.low)}"]}
    return None


def _loaded(load: Factor, other: Factor) -> Fields | None:
    """Decide what a load and another figure say: its repetitions, or its sets."""
    found = load.load or (massive(load.amount) if load.amount else None)
    work = work_fields(other.amount) if other.amount else None
    if found is None or (other.amount is None and not other.listed) or (other.amount and not work):
        return None
    if other.is_sets and other.amount:
        return {"load": found, "sets": other.amount.figures}
    return {"load": found, **(work or {})}


def _work_of(one: Factor, sets: Amount) -> Fields | None:
    if one.is_max:
        return {"is_max": True}
    if one.twenty_one:
        return TWENTY_ONE
    if one.listed:
        return _listed_work(one.listed, sets)
    work = work_fields(one.amount) if one.amount else None
    if one.rep_max and one.amount:
        return {**(work or {}), "load": TypedLoad("rep_max", one.amount.figures)}
    return work


def _listed_work(found: Figures, sets: Amount) -> Fields | None:
    """Decide what "3 × 12/10/8", "3 × 8/10", "3 × 5/5", "4 × 2+2+2" and "4 × 750 m/250 m" say."""
    if found.unit == "m" and found.sign == "/" and len(found.ranges) == 2:
        return {"metres": found.ranges[0], "rest_metres": found.ranges[1]}
    return _counted_list(found, sets) if found.unit in ("", "rep") else None


def _counted_list(found: Figures, sets: Amount) -> Fields | None:
    if found.sign == "+":
        return {"complex": whole(found)}
    count, values, is_same = len(found.ranges), found.values, len(set(found.values)) == 1
    if count == sets.low and sets.is_single and not (count == 2 and is_same):
        reps: Fields = {"reps": found.ranges}
        return {**reps, "open_last": True} if found.is_open else reps
    if count == 2:
        return _sides_or_range(found)
    if is_same and sets.low == 1:
        return {"reps": found.ranges[:1]}
    return TWENTY_ONE if is_same and values[0] == 7 else None


def _sides_or_range(found: Figures) -> Fields | None:
    low, high = found.values
    if low == high:
        return {"reps": found.ranges[:1], "per_side": True}
    return {"reps": (Range(low, high),)} if low < high else None


# ---- three figures


def _three(first: Factor, second: Factor, third: Factor) -> Fields | None:
    """Decide what three figures say: sets, repetitions and a load, or a load, repetitions and sets."""
    load = massive(first.amount) if first.amount else None
    if load and second.amount and third.amount and third.amount.unit in ("", "set"):
        return {"load": load, **(work_fields(second.amount) or {}), "sets": third.amount.figures}
    sets = first.amount
    if sets is None or sets.unit not in _SETS:
        return None
    if second.amount and third.amount and (found := _bare_or_metres(sets, second.amount, third.amount)):
        return found
    work = _work_of(second, sets)
    load = third.load or (massive(third.amount, bare=True) if third.amount else None)
    if third.listed:
        load = levels(third.listed)
    return None if work is None or load is None else {"sets": sets.figures, **work, "load": load}


def _bare_or_metres(sets: Amount, second: Amount, third: Amount) -> Fields | None:
    """Read "4 × 2 × 50 m", and "100 × 5 × 3" as a load, its repetitions and its sets."""
    if third.unit == "m" and second.unit == "":
        return {"sets": sets.figures, "reps": (second.figures,), "metres": third.figures}
    if third.unit == "" and sets.low > LIGHTEST and third.high <= _MOST_SETS:
        return {"load": TypedLoad("mass", sets.figures), "reps": (second.figures,), "sets": third.figures}
    return None
