"""Figures joined by "×", by signs or by words: sets and repetitions, loads and repetitions, pairs, complexes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import FEWEST_HELD, LIGHTEST, LONGEST_HOLD, ONE, Dose, Found, TypedLoad, work_fields
from repslate.model.notes.loads import levels, massive, percent_of, plain_load
from repslate.model.notes.techniques import SEVEN, each_of, twentyone
from repslate.model.quantity import Range, write_number
from repslate.model.tokens import Kind

_MOST_SETS = 12  # more than that before "×" is a load or a distance, not sets (common practice, no source)


@dataclass(frozen=True, slots=True)
class _Factor:
    """One of the figures joined by "×": an amount, a list, "max" or a load in words."""

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


def _factor(typed: Typed, at: int, *, sets: Decimal | None = None) -> _Factor | None:
    if typed.is_mark(at, "("):
        inside = _factor(typed, at + 1, sets=sets)
        if inside and typed.is_mark(inside.end, ")"):
            return _Factor(
                inside.end + 1, inside.amount, inside.listed, inside.is_max, inside.per_side, inside.load, inside.hold
            )
        return None
    if end := typed.sees(at, "max"):
        return _Factor(end, is_max=True)
    if sided := _sided(typed, at):
        return sided
    if (end := typed.sees(at, "emptybar")) and typed[end].is_times:
        return _Factor(end, load=TypedLoad("words", words="empty bar"))
    if (load := plain_load(typed, at, Dose())) and load[0].kind in ("fraction_bodyweight", "bodyweight"):
        return _Factor(load[1], load=load[0])
    listed = typed.figures(at, "/+") or dotted(typed, at)
    if (
        listed
        and listed.sign == "+"
        and sets is not None
        and (typed.sees(listed.end, "partials", "drops", "myo", "max") or typed[listed.end].is_times)
    ):
        listed = None
    if typed.sees(at, "twentyone") and typed[at].text == "21":
        found = twentyone(typed, at, Dose())
        return _Factor(found.end, twenty_one=True) if found and found.end > typed.sees(at, "twentyone") else None
    if typed[at].word == "a" and typed.sees(at + 1, "set"):
        return _Factor(at + 2, amount=Amount(Decimal(1), Decimal(1), "set", at, at + 2), is_sets=True)
    if listed and listed.unit in ("", "rep", "s", "m", "kg", "lb", "percent"):
        end = typed.sees(listed.end, "rep") or listed.end
        return _Factor(end, listed=listed)
    commas = typed.figures(at, ",")
    is_apart = commas is None or typed[commas.end].is_times or typed.sees(commas.end, "perday")
    if commas and not is_apart and sets is not None and len(commas.ranges) == sets and commas.unit in ("", "rep"):
        return _Factor(commas.end, listed=commas)
    amount = typed.amount(at)
    if amount is None:
        return None
    if amount.unit == "" and typed[amount.end].glued and (end := typed.sees(amount.end, "repmax")):
        return _Factor(end, amount=amount, rep_max=True)
    if amount.unit == "s" and (end := typed.sees(amount.end, "hold")) and typed[amount.end].word != "pause":
        return _Factor(end, amount=amount, hold=amount.figures)
    if amount.unit in ("rep", "") and typed[amount.end].word == "reps":
        return _Factor(amount.end + 1, amount=amount)
    return _Factor(amount.end, amount=amount, is_sets=amount.unit in ("set", "round"))


def dotted(typed: Typed, at: int) -> Figures | None:
    """Read "1.1.1" as figures joined by points."""
    if typed[at].kind is not Kind.FIGURE or "." not in typed[at].text or not typed.is_mark(at + 1, "."):
        return None
    if not typed[at + 2].glued or not typed[at + 2].text.replace(".", "").isdigit():
        return None
    figures = [int(one) for token in (typed[at], typed[at + 2]) for one in token.text.split(".")]
    return Figures(tuple(Range(Decimal(one), Decimal(one)) for one in figures), "+", "", at, at + 3)


def _sided(typed: Typed, at: int) -> _Factor | None:
    """Read "5L, 5R", "3R/3L", "10R 10L", "30 m R + 30 m L" and "5 left, 5 right": the same for each side."""
    sides = {"l": "l", "r": "r", "left": "l", "right": "r"}
    first = typed.amount(at)
    if not first or typed[first.end].word not in sides:
        return None
    step = first.end + 1
    step += typed[step].text in (",", "/", "+", "&", "-") or typed[step].word == "and"
    second = typed.amount(step)
    if not second or typed[second.end].word not in sides or second.figures != first.figures:
        return None
    if sides[typed[second.end].word] == sides[typed[first.end].word]:
        return None
    return _Factor(second.end + 1, amount=first, per_side=True)


def chain(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 × 10", "4 sets of 8", "60 kg x 5", "5x10x75", and "x 4" alone."""
    if typed[at].is_times and typed[at].word != "by" and not typed[at - 1].is_number:
        alone = _factor(typed, at + 1)
        if (
            alone
            and alone.amount
            and not alone.rep_max
            and alone.amount.unit in ("", "set", "round", "rep")
            and not (typed[alone.end].is_times and _factor(typed, alone.end + 1))
        ):
            end = typed.sees(alone.end, "set", "rep", "round") or alone.end
            return Found(end, {"times": alone.amount.figures})
        if not alone:
            return None
        at += 1
    factors: list[_Factor] = []
    step = at
    sets = None
    while factor := _factor(typed, step, sets=sets):
        factors.append(factor)
        if factor.amount and len(factors) == 1:
            sets = factor.amount.high
        behind = factor.end
        if factor.is_sets and typed[behind].word in ("of", "de", "à", "von", "di", "with", "at", "a"):
            behind += 1
        elif factor.is_sets and typed[behind].text == "," and typed[behind + 1].word == "each":
            behind += 2
        elif typed[behind].is_times or (typed[behind].is_dash and typed[behind + 1].is_times):
            behind += 1 + typed[behind].is_dash
        elif not (factor.is_sets and len(factors) == 1 and typed[behind].text == "x"):
            break
        step = behind
    if not factors:
        return None
    if len(factors) == 1:
        return _bracketed(typed, factors[0], step, given) or _single(typed, factors[0], given)
    found = _product(typed, factors, given)
    if found is None and factors[0].amount and factors[0].amount.unit in ("", "set"):
        return Found(factors[-1].end, {"words": [typed.typed(at, factors[-1].end)]})
    return found


def _bracketed(typed: Typed, sets: _Factor, at: int, given: Dose) -> Found | None:
    """Read on from "3 ×" where a bracket holds what each set is: "3 x (5 s hold x 8)"."""
    if at <= sets.end or not typed.is_mark(at, "(") or not sets.amount or sets.amount.unit not in ("", "set"):
        return None
    inside = chain(typed, at + 1, Dose())
    if inside is None or not typed.is_mark(inside.end, ")") or "sets" in inside.fields or "words" in inside.fields:
        return None
    return Found(inside.end + 1, {"sets": sets.amount.figures, **inside.fields}, may_begin=True)


def pairs(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read two or more pairs such as "70x3 75x2 80x1" and "5 x 135, 5 x 155": a load and its repetitions in turn."""
    pairs, step, end = [], at, at
    while True:
        first = typed.amount(step)
        is_joined = bool(first) and (
            typed[first.end].is_times or (typed.is_mark(first.end, "/") and typed[first.end].glued)
        )  # type: ignore[union-attr]
        if not first or first.unit or not first.is_single or not is_joined:
            break
        second = typed.amount(first.end + 1)
        if not second or second.unit or typed[second.end].is_times or typed[second.end].text in ("/", "%"):
            pairs.clear()
            break
        pairs.append((first, second))
        step = end = second.end
        step += typed[step].text in (",", ";", "/")
    following = typed.number(step) if len(pairs) > 1 else None
    if len(pairs) < 2:
        return None
    if given.complex or (following and not typed.unit(following[1])[0]):
        stop = following[1] if following else end
        return Found(stop, {"words": [typed.typed(at, stop)]})
    if all(first.low > LIGHTEST - 1 and second.high <= LIGHTEST for first, second in pairs):
        turned = pairs
    elif all(second.low > 2 * LIGHTEST and second.is_single and first.high <= LIGHTEST for first, second in pairs):
        turned = [(second, first) for first, second in pairs]
    else:
        return None
    parts = [Dose(sets=ONE, reps=(reps.figures,), load=TypedLoad("mass", load.figures)) for load, reps in turned]
    return Found(end, {"parts": parts})


def at_pairs(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "12 @ 40, 10 @ 45, 8 @ 50 kg" and "5 @ 65 %, 5 @ 75 %, 5+ @ 85 %": repetitions and a load in turn."""
    parts: list[Dose] = []
    step = end = at
    while True:
        reps = typed.amount(step)
        behind = (
            typed.amount(reps.end + 1) if reps and reps.unit == "percent" and typed.is_mark(reps.end, "/") else None
        )
        if reps and behind and not behind.unit and behind.high <= LIGHTEST:  # "75 %/2, 80 %/1"
            end = behind.end
            parts.append(Dose(sets=ONE, reps=(behind.figures,), load=TypedLoad("percent_1rm", reps.figures)))
            step = end + typed.is_mark(end, ",;")
            continue
        if not reps or reps.unit not in ("", "rep") or not typed.is_mark(reps.end, "@"):
            break
        load = typed.amount(reps.end + 1)
        known = massive(load, bare=True) if load else None
        if known is None or load is None:
            break
        end = load.end
        if known.kind == "percent_1rm":
            known, end = percent_of(typed, end, known)
        parts.append(Dose(sets=ONE, reps=(reps.figures,), load=known, open_last=reps.is_open))
        step = end + typed.is_mark(end, ",;/")
    if len(parts) < 2:
        return None
    units = {part.load.kind for part in parts if part.load} - {"mass"}
    for part in parts:
        if part.load and len(units) == 1:
            part.load = TypedLoad(next(iter(units)), part.load.value)
    return Found(end, {"parts": parts})


def _single(typed: Typed, factor: _Factor, given: Dose) -> Found | None:
    end = factor.end
    if factor.is_sets and factor.amount:
        fields: dict[str, object] = {"sets": factor.amount.figures}
        for_time = typed.sees(end, "max")
        return Found(for_time, fields | {"is_max": True}) if for_time else Found(end, fields | {"adds": True})
    if factor.per_side and factor.amount:
        return Found(end, {**(work_fields(factor.amount) or {}), "per_side": True})
    if factor.is_max:
        return Found(end, {"is_max": True}) if not given.is_max else None
    if factor.hold:
        return Found(end + typed[end].is_times, {"hold": factor.hold})
    amount = factor.amount
    if amount and amount.unit == "rep" and not factor.rep_max:
        if sets := typed.sees(end, "in"):
            return Found(sets, {})
        return Found(end, work_fields(amount) or {})
    if amount and factor.rep_max and not given.load and given.has_work:
        return Found(end, {"load": TypedLoad("rep_max", amount.figures)})
    return None


def _product(typed: Typed, factors: list[_Factor], given: Dose) -> Found | None:
    """Decide what two, three or more figures joined by "×" say; None where they may say two things."""
    end = factors[-1].end
    fields = _two(factors[0], factors[1]) if len(factors) == 2 else None
    if len(factors) == 3:
        fields = _three(*factors)
    if fields is None:
        return None
    if any(factor.per_side for factor in factors):
        fields["per_side"] = True
    if "load" in fields and isinstance(fields["load"], TypedLoad) and fields["load"].kind.startswith("percent"):
        load, end = percent_of(typed, end, fields["load"])
        fields["load"] = load
    elif (behind := typed.sees(end, "eachhand")) and isinstance(fields.get("load"), TypedLoad):
        load = fields["load"]
        assert isinstance(load, TypedLoad)
        fields["load"], end = TypedLoad(load.kind, load.value, words=typed.typed(end, behind)), behind
    return Found(end, {"part": bool(given.load and "load" in fields), **fields}, may_begin=True)


def _two(first: _Factor, second: _Factor) -> dict[str, object] | None:
    if first.load or (first.amount and massive(first.amount)):
        return _loaded(first, second)
    if second.load or (second.amount and massive(second.amount)):
        return _loaded(second, first)
    if first.hold and second.amount:
        return {**(work_fields(second.amount) or {}), "hold": first.hold}
    if first.listed and first.listed.sign == "+" and second.amount and second.amount.unit in ("", "set", "round"):
        return {"complex": tuple(map(int, first.listed.values)), "sets": second.amount.figures}
    if first.per_side and first.amount and second.amount and second.amount.unit in ("", "set", "round"):
        return {**(work_fields(first.amount) or {}), "sets": second.amount.figures}
    if first.amount is None or first.per_side or first.is_max:
        return None
    sets = first.amount
    if sets.unit == "rep" and second.amount and second.is_sets:
        return {"sets": second.amount.figures, "reps": (sets.figures,)}
    if sets.unit == "rep" and second.amount and second.amount.unit == "":
        return None
    if sets.unit not in ("", "set", "round"):
        if second.amount and second.is_sets:
            return {"sets": second.amount.figures, **(work_fields(sets) or {})}
        if second.amount and second.amount.unit == "" and work_fields(sets):
            return {"sets": second.amount.figures, **(work_fields(sets) or {})}
        return None
    if second.hold and second.hold.high <= LONGEST_HOLD and sets.low >= FEWEST_HELD and not first.is_sets:
        return {"reps": (sets.figures,), "hold": second.hold}
    work = _work_of(second, sets)
    if work is None:
        return None
    bare = second.amount and second.amount.unit == "" and not first.is_sets
    if bare and second.amount:
        if sets.low > LIGHTEST and second.amount.high <= LIGHTEST and not second.per_side:
            return {"load": TypedLoad("mass", sets.figures), "reps": (second.amount.figures,)}
        if second.amount.low >= 25 and second.amount.low % 25 == 0 and not second.rep_max:
            return {"sets": sets.figures, "words": [f"× {write_number(second.amount.low)}"]}
        if second.amount.low > 60:
            return None
    if second.is_sets and second.amount and not first.is_sets:
        return {"sets": second.amount.figures, "reps": (sets.figures,)}
    return {"sets": sets.figures, **work}


def _loaded(load: _Factor, other: _Factor) -> dict[str, object] | None:
    if other.amount is None and not other.listed:
        return None
    work = work_fields(other.amount) if other.amount else None
    found = load.load or (massive(load.amount) if load.amount else None)
    if found is None or (other.amount and not work):
        return None
    if other.is_sets and other.amount:
        return {"load": found, "sets": other.amount.figures}
    return {"load": found, **(work or {})}


def _work_of(factor: _Factor, sets: Amount) -> dict[str, object] | None:
    if factor.is_max:
        return {"is_max": True}
    if factor.twenty_one:
        return {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": SEVEN, "partials": True}
    if factor.listed:
        return _listed_work(factor.listed, sets)
    if factor.amount is None:
        return None
    work = work_fields(factor.amount)
    if factor.rep_max:
        return {**(work or {}), "load": TypedLoad("rep_max", factor.amount.figures)}
    return work


def _listed_work(listed: Figures, sets: Amount) -> dict[str, object] | None:
    """Decide what "3 × 12/10/8", "3 × 8/10", "3 × 5/5" and "4 × 2+2+2" say."""
    if listed.unit not in ("", "rep"):
        return None
    if listed.sign == "+":
        return {"complex": tuple(map(int, listed.values))}
    if (
        len(listed.ranges) == sets.low
        and sets.is_single
        and (len(listed.ranges) != 2 or listed.values[0] != listed.values[1])
    ):
        return {"reps": listed.ranges, **({"open_last": True} if listed.is_open else {})}
    if len(listed.ranges) == 2 and listed.values[0] == listed.values[1]:
        return {"reps": listed.ranges[:1], "per_side": True}
    if len(listed.ranges) == 2 and listed.values[0] < listed.values[1]:
        return {"reps": (Range(listed.values[0], listed.values[1]),)}
    if sets.low == 1 and len(set(listed.values)) == 1 and len(listed.values) > 2:
        return {"reps": listed.ranges[:1]}
    if len(set(listed.values)) == 1 and listed.values[0] == 7:
        return {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": SEVEN, "partials": True}
    return None


def _three(first: _Factor, second: _Factor, third: _Factor) -> dict[str, object] | None:
    """Decide what three figures say: sets, repetitions and a load, or a load, repetitions and sets."""
    if first.amount and massive(first.amount) and third.amount and third.amount.unit in ("", "set") and second.amount:
        return {"load": massive(first.amount), **(work_fields(second.amount) or {}), "sets": third.amount.figures}
    if first.amount is None or first.amount.unit not in ("", "set", "round"):
        return None
    sets = first.amount
    if third.amount and third.amount.unit == "m" and second.amount and second.amount.unit == "":
        return {"sets": sets.figures, "reps": (second.amount.figures,), "metres": third.amount.figures}
    bare = bool(third.amount and third.amount.unit == "" and second.amount)
    if bare and sets.low > LIGHTEST and third.amount and third.amount.high <= _MOST_SETS and second.amount:
        return {"load": TypedLoad("mass", sets.figures), "reps": (second.amount.figures,), "sets": third.amount.figures}
    work = _work_of(second, sets)
    load = third.load or (massive(third.amount, bare=True) if third.amount else None)
    if third.listed:
        load = levels(third.listed)
    if work is None or load is None:
        return None
    return {"sets": sets.figures, **work, "load": load}


def listed_sets(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "12/10/8 reps", "5/5/5+", "12, 10, 8 reps", "1+1+1" where no "×" joins them."""
    found = typed.figures(at, "/") or typed.figures(at, ",")
    if (
        found
        and found.sign == ","
        and not (
            found.unit == "rep" or typed.sees(found.end, "rep") or (given.sets and given.sets.low == len(found.ranges))
        )
    ):
        found = None
    if found and found.unit in ("", "rep") and len(found.ranges) >= 3:
        if given.reps:
            return None
        end = typed.sees(found.end, "rep") or found.end
        return Found(end, {**each_of(found), "adds": True})
    found = typed.figures(at, "+") or dotted(typed, at)
    if found and found.unit == "" and len(found.ranges) >= 2 and not given.reps:
        end = typed.sees(found.end, "rep") or found.end
        return Found(end, {"complex": tuple(map(int, found.values)), "adds": True})
    equal = typed.figures(at, "/")
    if equal and len(equal.ranges) == 2 and equal.values[0] == equal.values[1] and equal.unit in ("", "rep"):
        if not given.reps and not typed.sees(equal.end, "bodyweight") and equal.values[0] <= 30:
            return Found(equal.end, {"reps": equal.ranges[:1], "per_side": True})
    return None


def joined_movements(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 hang cleans + 1 split jerk", "Hang snatch + 3 overhead squats", "1 snatch, 1 hang snatch, and a jerk"."""
    if at:
        return None
    names: list[str] = []
    counts: list[int] = []
    counted, commas, step = 0, 0, 0
    while step < typed.end:
        number = typed.number(step)
        has_count = bool(number and not number[2])
        begin = number[1] if number and not number[2] else step + (typed[step].word in ("a", "an") and bool(names))
        if (has_count and typed.unit(begin)[0]) or typed.sees(begin, "max"):
            break
        end = begin
        while end < typed.end and (typed[end].kind is Kind.WORD or typed[end].text in ("-", "&")):
            if typed[end].word in ("and", "at", "then") or typed[end].is_times:
                break
            end += 1
        if end == begin or (typed[begin].glued and begin > step):
            break
        names.append(typed.typed(begin, end))
        counts.append(int(number[0]) if number and has_count else 1)
        counted += has_count
        step = end
        sign = step
        while typed[sign].text in ("+", ",") or typed[sign].word in ("and", "then"):
            sign += 1
        following = typed.number(sign)
        if sign == step or not (typed[step].text == "+" or following or typed[sign].word in ("a", "an")):
            break
        if (following and typed.unit(following[1])[0]) or (following and typed[following[1]].is_times):
            break
        commas += typed[step].text != "+"
        step = sign
    if len(names) < 2 or not counted or (commas and counted < len(names) - 1) or (typed.number(0) is None and commas):
        return None
    return Found(step, {"name": " + ".join(names), "complex": tuple(counts)})
