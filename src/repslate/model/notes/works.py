"""The work of a typed line with its unit, an effort, the sides, and single words: "30 s", "RPE 8", "10/leg", "max"."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import LONGEST_HOLD, Dose, Fields, Found, TypedLoad, exactly, work_fields
from repslate.model.notes.lexicon import listed
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

_LARGEST_EFFORT = 10  # both scales end there
_SHORTEST_POOL = 200  # m; from there on a multiple of 25 in front of a stroke is a length nobody writes the unit of
_FEW = 5  # "3x" behind a name may be sets; what is more is repetitions
_BEFORE_WORK = listed("goes before work") | {"x", "×", "~"}
_WORKS = frozenset({"s", "m", "cal", "breath", "step", "rep"})


def effort(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "RPE 8", "@ RPE 7-8", "RIR 2", "2 reps in reserve", "leave 2 in the tank"."""
    at += typed.is_mark(at, "@")
    if end := typed.sees(at, "rpe"):
        return _rpe(typed, end)
    if end := typed.sees(at, "rir"):
        amount = typed.amount(end + typed.is_mark(end, ":"))
        is_read = amount and amount.unit == "" and amount.high <= _LARGEST_EFFORT
        return Found(amount.end, {"effort": TypedLoad("rir", amount.figures)}) if amount and is_read else None
    amount = typed.amount(at + (typed[at].word == "leave"))
    if amount is None or amount.unit not in ("", "rep"):
        return None
    end = typed.sees(amount.end, "rir", "rpe") or typed.sees(amount.end + (typed[amount.end].word == "reps"), "rir")
    kind = "rpe" if typed.sees(amount.end, "rpe") else "rir"
    return Found(end, {"effort": TypedLoad(kind, amount.figures)}) if end else None


def _rpe(typed: Typed, at: int) -> Found | None:
    at += typed[at].text in (":", "of", "@")
    sign = typed[at].text
    amount = typed.amount(at + (sign in ("<", "≤", "~")))
    if amount is None or amount.unit not in ("", "rep") or not 1 <= amount.low <= amount.high <= _LARGEST_EFFORT:
        return None
    figures = Range(Decimal(1), amount.high) if sign in ("<", "≤") else amount.figures
    return Found(amount.end, {"effort": TypedLoad("rpe", figures)})


def two_levels(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "24/18 cal", "400/320 m Ski" and "24/18 Ski Calories": two levels of work, of which each picks one."""
    found = typed.figures(at, "/")
    if found and len(found.values) == 2 and found.values[0] > found.values[1] and not given.has_work:
        if found.unit in ("cal", "m", "s") and not typed[found.end].is_times:
            return Found(found.end, {"two_levels": (found.unit, found.values)})
        if not found.unit and at == 0 and typed[found.end].kind is Kind.WORD and typed.sees(typed.end - 1, "cal"):
            return Found(found.end, {"two_levels": ("cal", found.values)})
    end = typed.sees(at, "cal") if given.two_levels and at == typed.end - 1 else 0
    return Found(end) if end else None


def amounts(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read work with its unit: "30 s", "for 2 minutes", "40 m", "12 cal", "5 breaths", "10 reps", "20 steps"."""
    begin = at
    while typed[at].word in _BEFORE_WORK:
        at += 1
    if bound := typed.sees(at, "upto") or (at + 2 if typed[at].word == "up" and typed[at + 1].word == "to" else 0):
        amount = typed.amount(bound)
        is_time = amount and amount.unit == "s"
        return Found(amount.end, {"seconds": Range(Decimal(0), amount.high)}) if amount and is_time else None
    if found := _held_for(typed, at) or _listed(typed, at):
        return found
    amount = typed.amount(at)
    work = work_fields(amount) if amount and amount.unit in _WORKS else None
    if amount is None or work is None:
        return None
    if found := _held(typed, amount, given):
        return found
    if given.has_work:
        return _more_work(typed, begin, amount, work, given)
    end = amount.end
    return Found(end + (begin == at and typed[end].is_times and typed[end + 1].kind is Kind.WORD), work)


def _listed(typed: Typed, at: int) -> Found | None:
    """Carry "250-500-750 m" whole: lengths or times, one for each set."""
    some = typed.figures(at, "-/")
    is_carried = some and len(some.ranges) > 2 and some.unit not in ("", "rep")
    return Found(some.end, {"words": [typed.typed(at, some.end)]}) if some and is_carried else None


def _held_for(typed: Typed, at: int) -> Found | None:
    """Read "hold for 3 s" and "squeeze 2 s": a hold in each repetition."""
    end = typed.sees(at, "hold") if typed[at].word in ("hold", "squeeze", "pause") else 0
    amount = typed.amount(end + (typed[end].word == "for")) if end else None
    is_short = amount and amount.unit == "s" and amount.high <= LONGEST_HOLD
    return Found(amount.end, {"hold": amount.figures}) if amount and is_short else None


def _held(typed: Typed, amount: Amount, given: Dose) -> Found | None:
    """Read "5 s hold" beside repetitions."""
    end = typed.sees(amount.end, "hold")
    if not end or amount.unit != "s" or amount.high > 3 * LONGEST_HOLD:
        return None
    is_inside = bool(given.reps) or typed[end].is_times or typed.sees(end, "relax") or typed.is_mark(end, "/")
    return Found(end, {"hold": amount.figures, "adds": True}) if is_inside else None


def _more_work(typed: Typed, begin: int, amount: Amount, work: Fields, given: Dose) -> Found | None:
    """Read work behind other work: another part, breaths in each repetition, or repetitions of what is timed."""
    key = next(iter(work))
    is_next = typed[begin - 1].text in (",", ";", "+") or typed[begin - 1].word == "then"
    if is_next and getattr(given, key) not in (None, ()) and given.load:
        return Found(amount.end, work, may_begin=True)
    is_max_in = given.is_max and (amount.is_clock or typed[begin].word == "in" or typed[begin - 1].word == "in")
    if key == "seconds" and given.seconds is None and is_max_in:
        return Found(amount.end, {**work, "adds": True})
    if key == "breaths" and given.breaths is None:
        return Found(amount.end, {**work, "adds": True})
    is_held = not given.reps and given.seconds and given.seconds.high <= LONGEST_HOLD
    if key != "reps" or is_held:
        return None
    end = amount.end
    is_plain = begin == amount.start and typed[end].is_times and typed[end + 1].kind is Kind.WORD
    return Found(end + is_plain, work)


def sides(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "each side", "/leg", "10e", "8 ea", and "(10 per leg)" behind 20 of both."""
    if end := typed.sees(at, "eachside"):
        is_sign = len(typed.typed(at, end)) <= 2 and not given.sets  # "/s" and "ea" behind a figure only
        is_read = given.has_work or (end > at + 1 and not is_sign)
        return Found(_behind_times(typed, end), {"per_side": True}) if is_read else None
    if given.has_work and typed[at].word == "e" and typed[at].glued and typed[at - 1].is_number:
        return Found(at + 1, {"per_side": True})
    if given.has_work and typed[at].word in ("each", "ea") and typed[at + 1].word not in listed("counted by each"):
        return Found(_behind_times(typed, at + 1), {"per_side": True})
    amount = typed.amount(at)
    end = typed.sees(amount.end, "eachside") if amount and amount.unit in ("", "rep") else 0
    if amount and not end and not amount.unit and typed[amount.end].word == "each" and typed[amount.end + 1].is_times:
        end = amount.end + 1  # "10 each x3"
    if amount is None or not end:
        return None
    if len(given.reps) == 1 and given.reps[0].low == 2 * amount.low:
        return Found(end, {"sided_reps": (amount.figures,), "per_side": True})
    return Found(_behind_times(typed, end), {"reps": (amount.figures,), "per_side": True})


def _behind_times(typed: Typed, at: int) -> int:
    """Return the piece behind a times sign that joins a word; one before a figure is left, for it multiplies."""
    return at + (typed[at].is_times and not typed[at + 1].is_number)


def worded(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read single words: total, alternating, twice, last set, max."""
    for read in (_total, _alternating, _times_in_words, _last_set, _max_sets, _open_again):
        if found := read(typed, at, given):
            return found
    return None


def _total(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "total") if given.has_work else 0
    return Found(end) if end else None


def _alternating(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "alternating") if at and (given.has_work or typed.is_mark(at - 1, "(")) else 0
    return Found(end, {"alternating": True}) if end and typed[end].text in ("", ",", ")", ".", ";", "@") else None


def _times_in_words(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "once")
    if not end or not given.has_work or given.sets is not None or typed[at].word == "once":
        return None
    return Found(end, {"sets": exactly(times_in_words(typed[at].word)), "adds": True})


def times_in_words(word: str) -> int:
    """Return how often "once", "twice", "thrice", "three times" and the like are, told by their first word."""
    return {"on": 1, "tw": 2, "th": 3, "3": 3, "fo": 4}[word[:2]]


def _last_set(typed: Typed, at: int, given: Dose) -> Found | None:
    last = typed.sees(at, "last")
    if not last:
        return None
    step = last + (typed[last].text in (":", "-", "–", "="))
    if end := typed.sees(step, "max"):
        return Found(end, {"max_last": True})
    amount = typed.amount(step)
    return Found(amount.end, {"open_last": True}) if amount and amount.is_open and given.reps else None


def _max_sets(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "max" behind sets, and "3 max sets"."""
    is_apart = given.seconds and typed[at - 1].text in ("-", "–", "—", ",", ":")  # "in 60 s – max"
    if (end := typed.sees(at, "max")) and ((given.sets and not given.has_work) or (is_apart and end == typed.end)):
        return Found(end, {"is_max": True, "adds": True})
    number = typed.number(at)
    end = typed.sees(number[1], "max") if number and not number[2] else 0
    behind = typed.sees(end, "set") if end else 0
    return Found(behind, {"sets": exactly(number[0]), "is_max": True}) if number and behind else None


def _open_again(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "(5+)" behind fives: the last set is open."""
    amount = typed.amount(at + 1) if typed.is_mark(at, "(") and given.reps else None
    if amount and amount.is_open and typed.is_mark(amount.end, ")") and given.reps[-1] == amount.figures:
        return Found(amount.end + 1, {"open_last": True})
    return None


def unsigned(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read a figure without a unit: the repetitions, in front of a name ("15 burpees") or in brackets behind it."""
    amount = typed.amount(at)
    if amount is None or amount.unit:
        return None
    if found := _unsigned_load(typed, at, amount, given):
        return found
    if given.has_work or amount.is_plural:
        return None
    if typed[amount.end].word == "plus" and typed.number(amount.end + 1):
        return Found(amount.end, {"words": [typed.typed(at, amount.end)]})  # "185 plus 1 band": a load
    is_role = bool(given.role) or (given.load is not None and given.load.kind == "words")
    is_first = (
        at == 0
        or bool(given.sets and typed.sees(at - 1, "set") == at)
        or (given.sets is not None and typed[at - 1].text in (",", ":", "-", "–"))
    )
    if given.sets is not None and not is_first and not is_role:
        return None
    return _counted(typed, amount, is_first=is_first, is_role=is_role)


def _unsigned_load(typed: Typed, at: int, amount: Amount, given: Dose) -> Found | None:
    load: Fields = {"load": TypedLoad("mass", amount.figures)}
    sets = typed.amount(amount.end + 1) if typed[amount.end].word == "for" else None
    if sets and sets.unit in ("set", "rep"):  # "140 for 4 sets of 10"
        return Found(amount.end + 1, {**load, "part": True})
    is_decimal = "." in typed[at].text and typed[amount.end].text == "" and amount.low >= 2  # "10 DB snatch 22.5"
    return Found(amount.end, load) if given.has_work and not given.load and is_decimal else None


def _counted(typed: Typed, amount: Amount, *, is_first: bool, is_role: bool) -> Found | None:
    end, following, reps = amount.end, typed[amount.end], Fields(reps=(amount.figures,))
    is_joined = following.kind is Kind.FIGURE and typed[end + 1].is_dash and typed[end + 1].glued
    if is_first and (following.kind is Kind.WORD or is_joined) and not following.glued:
        is_pool = amount.low % 25 == 0 and (amount.low >= _SHORTEST_POOL or following.word in listed("strokes"))
        return Found(end, {"words": [typed.typed(amount.start, end)]} if is_pool else reps)
    if is_first and following.is_times and typed[end + 1].kind is Kind.WORD:
        return Found(end + 1, reps)
    behind_sets = typed.sees(amount.start - 1, "set") == amount.start and following.text in ("", "@", ",", "(", ";")
    behind_role = is_role and (following.text in ("", "@", ",", "(") or following.word == "at")
    if behind_sets or behind_role:
        return Found(end, reps)
    if is_first and following.text == "":
        return None
    return _sure(typed, amount, reps) or (Found(end, reps) if amount.start and _stands_behind(typed, amount) else None)


def _sure(typed: Typed, amount: Amount, reps: Fields) -> Found | None:
    """Read a figure whose place says that it counts: "1 every 90 s", "32x" at the end."""
    end = amount.end
    if total := typed.sees(end, "total"):
        return Found(total, reps)
    if typed.sees(end, "every", "everyminute") and (
        amount.start == 0 or typed[amount.start - 1].text in (":", ",", "-", "–")
    ):
        return Found(end, reps)
    if typed[amount.start - 1].word == "accumulate" and typed[end].kind is not Kind.FIGURE:
        return Found(end, reps)
    is_closed = typed[end].is_times and typed[end].glued and typed[end + 1].text in ("", ",", ";", ")")
    if not is_closed or not amount.start:
        return None
    if amount.high > _FEW:
        return Found(end + 1, reps)
    return Found(end + 1, {"words": [typed.typed(amount.start, end + 1)]})  # "2x": sets or repetitions?


def _stands_behind(typed: Typed, amount: Amount) -> bool:
    """Tell whether a figure stands behind a name, in brackets or at the end of what belongs together."""
    before, following = typed[amount.start - 1], typed[amount.end]
    if typed.is_mark(amount.start - 1, "(") and typed.is_mark(amount.end, ")"):
        return True
    is_apart = before.kind is Kind.WORD or before.text in (":", ",", "-", "–", "—")
    is_in_words = typed[amount.start].kind is Kind.WORD and before.kind is Kind.WORD  # "Warrior two"
    is_closed = following.text in ("", ",", "@", ".") or following.word in listed("directions")
    return is_apart and is_closed and amount.high <= 100 and not is_in_words
