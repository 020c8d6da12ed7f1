"""Ways of doing a set: 21s, myo-reps, rest-pause, drops, clusters, partials, ladders, and the names of parts."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Figures, Typed
from repslate.model.notes.dose import LONGEST_HOLD, ONE, Dose, Found, TypedLoad
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

SEVEN = (7, 7, 7)


def technique(typed: Typed, at: int, given: Dose) -> Found | None:
    for reader in (twentyone, _myo, _rest_pause, _drops, _cluster, _partials, _ladder):
        if found := reader(typed, at, given):
            return found
    return None


def twentyone(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "twentyone")
    if not end:
        return None
    fields: dict[str, object] = {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": SEVEN, "partials": True}
    if typed.is_mark(end, "(") and (inside := typed.figures(end + 1)) and inside.values == (7, 7, 7):
        end = inside.end + 1
    elif typed[at - 1].is_times and typed[at + 1].text != "'":
        return None  # "3 x 21s" may be of seconds
    return Found(end, fields)


def _myo(typed: Typed, at: int, given: Dose) -> Found | None:
    begin = at + typed.is_mark(at, "+")
    end = typed.sees(begin, "myo")
    if not end:
        return None
    while typed[end].word in (":", "set", "sets", "act", "activation", "match", "-", "–", "of", ".", ","):
        end += 1
    fields: dict[str, object] = {"myo": True}
    plus = typed.amount(end)
    if plus and not plus.unit and typed.is_mark(plus.end, "+") and (chain := _pair(typed, plus.end + 1)):
        fields |= {"reps": (plus.figures,), "sets": ONE, "mini_sets": chain[0], "mini_reps": chain[1]}
        return Found(chain[2], fields)
    if given.reps and (chain := _pair(typed, end)):
        fields |= {"mini_sets": chain[0], "mini_reps": chain[1], "adds": True}
        return Found(chain[2], fields)
    listed = typed.figures(end, "+")
    if listed and not listed.unit:
        total = sum(listed.values)
        fields |= {"cluster": tuple(map(int, listed.values)), "reps": (Range(total, total),), "sets": ONE}
        return Found(listed.end, fields)
    amount = typed.amount(end)
    if amount and amount.unit in ("", "rep") and not typed.is_mark(amount.end, "/"):
        fields |= {"reps": (amount.figures,), "sets": ONE}
        step = amount.end + typed.is_mark(amount.end, ",")
        step += typed[step].word in ("then", "+")
        if chain := _pair(typed, step):
            return Found(chain[2], fields | {"mini_sets": chain[0], "mini_reps": chain[1]})
        return Found(amount.end, fields)
    if given.has_work and given.sets is None:
        fields["sets"] = ONE
    return Found(end, fields)


def _pair(typed: Typed, at: int) -> tuple[Range[Decimal], Range[Decimal], int] | None:
    """Return "4 x 4": so many of so many."""
    first = typed.amount(at)
    if first and not first.unit and typed[first.end].is_times:
        second = typed.amount(first.end + 1)
        if second and second.unit in ("", "rep"):
            return first.figures, second.figures, second.end
    return None


def _rest_pause(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "restpause")
    if not end:
        return None
    end = typed.sees(end, "set") or end
    end += typed.is_mark(end, ":")
    plus = typed.amount(end)
    if plus and not plus.unit and typed.is_mark(plus.end, "+") and (chain := _pair(typed, plus.end + 1)):
        fields = {
            "rest_pause": True,
            "reps": (plus.figures,),
            "sets": ONE,
            "mini_sets": chain[0],
            "mini_reps": chain[1],
        }
        return Found(chain[2], fields)
    if not given.has_work and (listed := typed.figures(end, "/+")) and not listed.unit:
        total = sum(listed.values)
        cluster = tuple(map(int, listed.values))
        return Found(listed.end, {"rest_pause": True, "cluster": cluster, "reps": (Range(total, total),), "sets": ONE})
    fields: dict[str, object] = {"rest_pause": True}
    if not given.sets and not given.has_work and "set" in (typed[end - 1].word, typed[at + 1].word):
        fields["sets"] = ONE
    return Found(end, fields)


def _drops(typed: Typed, at: int, given: Dose) -> Found | None:
    fields: dict[str, object] = {"drop_set": True}
    begin = at
    if last := typed.sees(at, "last"):
        at = last + (typed[last].text in (":", "-", "–"))
        fields["drop_last"] = True
    at += typed.is_mark(at, "+")
    end = typed.sees(at, "rack")
    if not end and (end := typed.sees(at, "double")):
        fields["drops"] = 2
    if not end and (end := typed.sees(at, "triple")):
        fields["drops"] = 3
    amount = None if end else typed.amount(at)
    if amount and amount.unit == "" and amount.is_single and (end := typed.sees(amount.end, "drops")):
        if "set" in typed.typed(amount.end, end).lower().replace("-", ""):
            fields |= {"sets": amount.figures, "adds": True}  # "1 dropset"
        else:
            fields["drops"] = int(amount.low)
    if not end and (end := typed.sees(at, "drops")):
        step = end + typed[end].is_times
        count = typed.amount(step)
        listed = typed.figures(end, "-/")
        if listed and (not listed.unit or listed.unit in ("kg", "lb")):
            kind = listed.unit or "mass"
            drops = len(listed.values) - 1
            return Found(listed.end, {"drops": drops, "load": TypedLoad(kind, by_set=listed.values)})
        if step > end and count and count.unit == "":
            fields["drops"], end = int(count.low), count.end
    if not end or end == begin:
        return None
    if behind := typed.sees(end, "last"):
        fields["drop_last"], end = True, behind
    if "drop_last" not in fields and typed.typed(at, end).lower() == "drop" and not given.has_work:
        return None
    step = end + (typed[end].word in ("of", "by", "@"))
    step += typed[step].word in ("about", "approx", "~")
    size = typed.amount(step)
    if size and size.unit == "percent":
        fields["words"], end = [typed.typed(at, size.end)], size.end
    return Found(end, fields)


def _cluster(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "cluster")
    if not end:
        return None
    end += typed.is_mark(end, ":")
    if (listed := typed.figures(end, "+/")) and not listed.unit:
        return Found(listed.end, {"cluster": tuple(map(int, listed.values)), "adds": True})
    return Found(end, {"cluster": (-1,)} if not given.cluster else {})


def _partials(typed: Typed, at: int, given: Dose) -> Found | None:
    begin = at
    is_last = typed.sees(at, "last")
    at = is_last or at
    at += typed.is_mark(at, "+,:")
    amount = typed.amount(at)
    if amount and amount.unit == "" and (end := typed.sees(amount.end, "partials")) and begin < at:
        fields: dict[str, object] = {"partials": amount.figures}
        if is_last:
            fields["words"] = [typed.typed(begin, end)]
        return Found(end, fields)
    return None


def _ladder(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read figures joined by dashes or behind "ladder" or "wave" as the repetitions of set after set."""
    end = typed.sees(at, "ladder", "wave")
    begin = (end + (typed[end].text in (":", "("))) if end else at
    listed = typed.figures(begin, "-/," if end else "-")
    if not listed or listed.unit not in ("", "rep") or len(listed.values) < 3 or given.reps:
        return None
    if not end and (len(listed.values) == 4 and max(listed.values) < 4):
        return None
    if typed[listed.end].is_times and typed.amount(listed.end + 1) and end:
        return None
    behind = listed.end + (typed.is_mark(listed.end, ")") and begin > end)
    return Found(behind, each_of(listed))


def each_of(listed: Figures) -> dict[str, object]:
    count = Decimal(len(listed.ranges))
    fields: dict[str, object] = {"reps": listed.ranges, "sets": Range(count, count)}
    return fields | ({"open_last": True} if listed.is_open else {})


def part_name(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "top set", "back-offs" or "WU" in front of the figures of a part."""
    for meaning, role in (("topset", "top"), ("backoff", "back-off"), ("warmupset", "warm-up"), ("worksets", "work")):
        end = typed.sees(at, meaning)
        if (
            not end
            or (role == "warm-up" and at and not given.has_work)
            or (role == "top" and typed[at - 1].word in ("the", "at", "of"))
        ):
            continue
        is_set = typed.sees(end, "set")
        step = is_set or end
        step += typed[step].text in (":", "-", "–", "=", ",")
        if (single := typed.sees(step, "singles")) and role == "top":
            return Found(single, {"part": True, "role": role, "sets": ONE, "reps": (_single_word(typed[step].word),)})
        if role == "work" and (at or typed[end].text != ":"):
            continue
        if not typed.amount(step) and not typed.is_mark(step, "@") and not typed.sees(step, "emptybar"):
            continue
        fields: dict[str, object] = {"part": True, "role": role}
        if role == "top" and (not typed[typed.amount(step).end].is_times if typed.amount(step) else True):  # type: ignore[union-attr]
            fields["sets"] = ONE
        return Found(step, fields)
    return None


def heavy_singles(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "4-6 heavy doubles": so many sets of two."""
    amount = typed.amount(at)
    if not amount or amount.unit:
        return None
    heavy = typed.sees(amount.end, "heavy")
    end = typed.sees(heavy or amount.end, "singles")
    if not end or not typed[end - 1].word.endswith("s") or typed[end].kind is Kind.WORD:
        return None
    fields: dict[str, object] = {"sets": amount.figures, "reps": (_single_word(typed[end - 1].word),)}
    if heavy:
        fields["load"] = TypedLoad("words", words=typed.typed(amount.end, heavy))
    return Found(end, fields)


def _single_word(word: str) -> Range[Decimal]:
    count = Decimal({"s": 1, "d": 2, "t": 3}[word[0]])
    return Range(count, count)


def repeat(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "repeat 3 times" behind a hold: so many of it; and a way of doing it that names no figure."""
    if typed[at].word in ("repeat", "repeating", "repeated") and (given.seconds or given.breaths or given.hold):
        step = at + 1
        step += typed[step].word in ("for", "this")
        amount = typed.amount(step)
        if amount and amount.unit == "rep" and not given.reps:
            fields: dict[str, object] = {"reps": (amount.figures,), "adds": True}
            if given.seconds and given.hold is None and given.seconds.high <= 3 * LONGEST_HOLD:
                fields["hold"] = given.seconds
                given.seconds = None
            return Found(amount.end, fields)
    if end := typed.sees(at, "manner"):
        return Found(end, {"words": [typed.typed(at, end)]}) if at else None
    amount = typed.amount(at + (typed[at].text == "/"))
    if amount and amount.unit == "s" and (end := typed.sees(amount.end, "relax")):
        return Found(end, {"words": [typed.typed(at, end)]})
    if amount and amount.unit == "breath" and typed.sees(amount.end, "between") and given.has_work:
        end = typed.sees(amount.end, "between")
        return Found(end, {"words": [typed.typed(at, end)]})
    if (end := typed.sees(at, "tm")) and given.load:
        return Found(end, {"tm": True})
    return None
