"""What may stand at one place of a typed line: a rest, a tempo, sets and repetitions, a load, a way of doing them.

Each reader looks from a token on and returns what it found with the token behind it, or None. The first that finds
something wins, so the order of READERS is the grammar: what is most particular comes first.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import LONGEST_HOLD, Dose, Found, TypedLoad, work_fields
from repslate.model.notes.loads import behind_at, load_words, plain_load
from repslate.model.notes.products import at_pairs, chain, joined_movements, listed_sets, pairs
from repslate.model.notes.rests import every, per_day, rest
from repslate.model.notes.techniques import heavy_singles, part_name, repeat, technique
from repslate.model.notes.tempi import tempo
from repslate.model.quantity import Range
from repslate.model.tokens import Kind


def item(typed: Typed, at: int, given: Dose, *, has_name: bool) -> Found | None:
    """Return what stands at token `at`, in view of what this part says already; None if only words do."""
    if at >= typed.end or (at and typed.is_idle(at)):
        return None
    for reader in READERS:
        found = reader(typed, at, given)
        if found:
            return found
    if has_name or at == 0 or given.sets is not None or given.role:
        return _unsigned(typed, at, given)
    return None


def _effort(typed: Typed, at: int, given: Dose) -> Found | None:
    at += typed.is_mark(at, "@")
    if end := typed.sees(at, "rpe"):
        end += typed[end].text in (":", "of", "@")
        bound = typed[end].text in ("<", "≤", "~")
        amount = typed.amount(end + bound)
        if amount and amount.unit in ("", "rep") and amount.high <= 10 and amount.low >= 1:
            figures = Range(Decimal(1), amount.high) if bound and typed[end].text != "~" else amount.figures
            return Found(amount.end, {"effort": TypedLoad("rpe", figures)})
        return None
    if end := typed.sees(at, "rir"):
        end += typed.is_mark(end, ":")
        amount = typed.amount(end)
        if amount and amount.unit == "" and amount.high <= 10:
            return Found(amount.end, {"effort": TypedLoad("rir", amount.figures)})
        return None
    at += typed[at].word == "leave"
    amount = typed.amount(at)
    if amount and amount.unit in ("", "rep"):
        step = typed.sees(amount.end, "rir", "rpe") or typed.sees(
            amount.end + (typed[amount.end].word == "reps"), "rir"
        )
        if step:
            kind = "rpe" if typed.sees(amount.end, "rpe") else "rir"
            return Found(step, {"effort": TypedLoad(kind, amount.figures)})
    return None


def _load(typed: Typed, at: int, given: Dose) -> Found | None:
    if found := behind_at(typed, at, given):
        return Found(found[1], {"load": found[0], **found[2]})
    if found := plain_load(typed, at, given):
        return Found(found[1], {"load": found[0], **found[2]})
    if found := load_words(typed, at, given):
        return Found(found[1], {"load": found[0], **found[2]})
    return None


def _two_levels(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "24/18 cal", "400/320 m Ski" and "24/18 Ski Calories": two levels of work, of which each picks one."""
    listed = typed.figures(at, "/")
    if listed and len(listed.values) == 2 and listed.values[0] > listed.values[1] and not given.has_work:
        kind = listed.unit
        if kind in ("cal", "m", "s"):
            return Found(listed.end, {"two_levels": (kind, listed.values)})
        if not kind and at == 0 and typed[listed.end].kind is Kind.WORD and typed.sees(typed.end - 1, "cal"):
            return Found(listed.end, {"two_levels": ("cal", listed.values)})
    if given.two_levels and at == typed.end - 1 and (end := typed.sees(at, "cal")):
        return Found(end, {})
    return None


def _amounts(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read work with its unit: "30 s", "for 2 minutes", "40 m", "12 cal", "5 breaths", "10 reps", "20 steps"."""
    begin = at
    while typed[at].word in (
        "for",
        "of",
        "x",
        "×",
        "~",
        "about",
        "approx",
        "à",
        "at",
        "least",
        "pendant",
        "por",
        "durante",
    ):
        at += 1
    if upto := typed.sees(at, "upto") or (at + 2 if typed[at].word == "up" and typed[at + 1].word == "to" else 0):
        amount = typed.amount(upto)
        if amount and amount.unit == "s":
            return Found(amount.end, {"seconds": Range(Decimal(0), amount.high)})
        return None
    held = typed.sees(at, "hold")
    if held and typed[at].word in ("hold", "squeeze", "pause"):
        step = held + (typed[held].word == "for")
        amount = typed.amount(step)
        if amount and amount.unit == "s" and amount.high <= LONGEST_HOLD:
            return Found(amount.end, {"hold": amount.figures})
    amount = typed.amount(at)
    if amount is None or amount.unit in (
        "",
        "set",
        "round",
        "percent",
        "kg",
        "lb",
        "cm",
        "spm",
        "rpm",
        "watt",
        "length",
    ):
        return None
    if held := typed.sees(amount.end, "hold"):
        is_inside = bool(given.reps) or typed[held].is_times or typed.sees(held, "relax")
        if amount.unit == "s" and (is_inside or typed.is_mark(held, "/")) and amount.high <= 3 * LONGEST_HOLD:
            return Found(held, {"hold": amount.figures, "adds": True})
    work = work_fields(amount)
    if work is None:
        return None
    if given.has_work:
        key = next(iter(work))
        is_next = typed[begin - 1].text in (",", ";", "+") or typed[begin - 1].word == "then"
        if is_next and getattr(given, key) not in (None, ()) and given.load:
            return Found(amount.end, work, may_begin=True)
        if key == "breaths" and given.breaths is None:
            return Found(amount.end, work | {"adds": True})
        if key == "reps" and not given.reps and given.seconds and given.seconds.high <= LONGEST_HOLD:
            return None
        if key not in ("reps",):
            return None
    end = amount.end
    if begin == at and typed[end].is_times and typed[end + 1].kind is Kind.WORD:
        end += 1
    return Found(end, work)


def _sides(typed: Typed, at: int, given: Dose) -> Found | None:
    if end := typed.sees(at, "eachside"):
        word = typed.typed(at, end)
        if len(word) <= 2 and not (given.has_work or given.sets):
            return None
        return Found(end + typed[end].is_times, {"per_side": True}) if given.has_work or end > at + 1 else None
    if typed[at].word == "e" and typed[at].glued and typed[at - 1].is_number and given.has_work:
        return Found(at + 1, {"per_side": True})
    if (
        typed[at].word in ("each", "ea")
        and given.has_work
        and typed[at + 1].word not in ("with", "set", "round", "rep", "time")
    ):
        return Found(at + 1 + typed[at + 1].is_times, {"per_side": True})
    amount = typed.amount(at)
    if amount and amount.unit in ("", "rep") and (end := typed.sees(amount.end, "eachside")):
        if given.reps and len(given.reps) == 1 and given.reps[0].low == 2 * amount.low:
            return Found(end, {"sided_reps": (amount.figures,), "per_side": True})
        return Found(end + typed[end].is_times, {"reps": (amount.figures,), "per_side": True})
    return None


def _worded(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read single words: alternating, total, max, last set."""
    if (end := typed.sees(at, "total")) and given.has_work:
        return Found(end, {})
    if (end := typed.sees(at, "alternating")) and at and (given.has_work or typed.is_mark(at - 1, "(")):
        if typed[end].text in ("", ",", ")", ".", ";", "@"):
            return Found(end, {"alternating": True})
    if (end := typed.sees(at, "once")) and given.has_work and given.sets is None and typed[at].word != "once":
        count = Decimal({"tw": 2, "th": 3, "3": 3, "fo": 4}[typed[at].word[:2]])
        return Found(end, {"sets": Range(count, count), "adds": True})
    if last := typed.sees(at, "last"):
        step = last + (typed[last].text in (":", "-", "–", "="))
        if end := typed.sees(step, "max"):
            return Found(end, {"max_last": True})
        amount = typed.amount(step)
        if amount and amount.is_open and given.reps:
            return Found(amount.end, {"open_last": True})
    if (end := typed.sees(at, "max")) and given.sets and not given.has_work:
        return Found(end, {"is_max": True})
    number = typed.number(at)
    if number and not number[2] and (end := typed.sees(number[1], "max")) and (behind := typed.sees(end, "set")):
        return Found(behind, {"sets": Range(number[0], number[0]), "is_max": True})
    if (
        typed.is_mark(at, "(")
        and (amount := typed.amount(at + 1))
        and amount.is_open
        and typed.is_mark(amount.end, ")")
    ):
        if given.reps and given.reps[-1] == amount.figures:
            return Found(amount.end + 1, {"open_last": True})
    return None


def _unsigned(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read a figure without a unit: the repetitions, in front of a name ("15 burpees") or in brackets behind it."""
    amount = typed.amount(at)
    if amount is None or amount.unit:
        return None
    following = typed[amount.end]
    if following.word == "for" and (sets := typed.amount(amount.end + 1)) and sets.unit in ("set", "rep"):
        return Found(
            amount.end + 1, {"load": TypedLoad("mass", amount.figures), "part": True}
        )  # "140 for 4 sets of 10"
    if given.has_work and not given.load and "." in typed[at].text and following.text == "" and amount.low >= 2:
        return Found(amount.end, {"load": TypedLoad("mass", amount.figures)})  # "10 DB snatch 22.5"
    if given.has_work or amount.is_plural:
        return None
    is_role = bool(given.role) or (given.load is not None and given.load.kind == "words")
    is_first = at == 0 or (given.sets is not None and typed[at - 1].text in (",", ":", "-", "–"))
    if given.sets is not None and not is_first and not is_role:
        return None
    is_named = following.kind is Kind.WORD or (
        following.kind is Kind.FIGURE and typed[amount.end + 1].is_dash and typed[amount.end + 1].glued
    )
    if is_first and is_named and not following.glued:
        if amount.low >= 200 and amount.low % 25 == 0:  # a length in a pool, whose unit nobody writes
            return Found(amount.end, {"words": [typed.typed(at, amount.end)]})
        return Found(amount.end, {"reps": (amount.figures,)})
    if is_first and following.is_times and typed[amount.end + 1].kind is Kind.WORD:
        return Found(amount.end + 1, {"reps": (amount.figures,)})
    if is_role and (following.text in ("", "@", ",", "(") or following.word == "at"):
        return Found(amount.end, {"reps": (amount.figures,)})
    if following.text == "" and is_first:
        return None
    if typed.sees(amount.end, "total"):
        return Found(typed.sees(amount.end, "total"), {"reps": (amount.figures,)})
    in_brackets = typed.is_mark(at - 1, "(") and typed.is_mark(amount.end, ")")
    before = typed[at - 1]
    is_last = following.text in ("", ",", "@", ".") and (
        before.kind is Kind.WORD or before.text in (":", ",", "-", "–", "—")
    )
    if at and (in_brackets or (is_last and amount.high <= 100)):
        return Found(amount.end, {"reps": (amount.figures,)})
    return None


READERS: tuple[Callable[[Typed, int, Dose], Found | None], ...] = (
    joined_movements, heavy_singles, per_day, _two_levels, part_name, every, rest, tempo, _effort, technique, _worded, repeat,
    _sides, at_pairs, pairs, _load, chain, listed_sets, _amounts,
)  # fmt: skip
