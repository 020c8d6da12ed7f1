"""Rests of a typed line, and the clock that sets begin by: "rest 60-90 s", "every 2 min for 12 min", "2x/day"."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import Dose, Found
from repslate.model.quantity import Range
from repslate.model.tokens import Kind


def per_day(typed: Typed, at: int, given: Dose) -> Found | None:
    if end := typed.sees(at, "twiceaday"):
        return Found(end, {"per_day": 2})
    amount = typed.amount(at)
    if not amount or amount.unit not in ("", "rep"):
        return None
    step = amount.end + typed[amount.end].is_times
    end = typed.sees(step, "perday")
    return Found(end, {"per_day": int(amount.low)}) if end else None


def every(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "every 2 min for 12 min", "E2MOM x 7", "EMOM 10", "on 1:30", "2:15 clock"."""
    seconds: Decimal | None = None
    end = 0
    if typed[at].word == "e" and typed[at + 1].kind is Kind.FIGURE and typed[at + 1].glued and typed[at + 2].glued:
        factor = {"mom": 60, "m": 60, "s": 1, "min": 60}.get(typed[at + 2].word)
        if factor:
            seconds, end = Decimal(typed[at + 1].text.replace(",", ".")) * factor, at + 3
    elif end := typed.sees(at, "everyminute"):
        seconds = Decimal(60)
    elif (behind := typed.sees(at, "every")) or (
        (given.has_work or given.sets) and (behind := typed.sees(at, "onclock"))
    ):
        amount = typed.amount(behind)
        if amount and amount.unit == "s" and amount.is_single and (typed.sees(at, "every") or amount.is_clock):
            seconds, end = amount.low, amount.end
    elif (amount := typed.amount(at)) and amount.unit == "s" and (end := typed.sees(amount.end, "clock")):
        seconds = amount.low
    if seconds is None:
        return None
    fields: dict[str, object] = {"every": seconds}
    step = end
    while typed[step].word in ("for", "x", "×", "of") or typed[step].text in (",", "("):
        step += 1
    length = typed.amount(step)
    if length and length.unit == "s" and length.is_single:
        fields["clock"], end = length.low, length.end
        fields["sets"] = _whole(length.low / seconds)
    elif (length and length.unit in ("round", "set") and length.is_single) or (
        length and length.unit == "" and length.is_single and step > end and not _goes_on(typed, length.end)
    ):
        fields["sets"], end = length.figures, length.end
    elif length and length.unit == "" and length.is_single and step == end and length.low * 60 % seconds == 0:
        fields["clock"], end = length.low * 60, length.end  # "E3MOM 15", "EMOM 12": minutes
        fields["sets"] = _whole(fields["clock"] / seconds)  # type: ignore[operator]
    fields = {key: value for key, value in fields.items() if value is not None}
    if given.sets is not None or given.has_work:
        fields.setdefault("adds", True)
    if given.sets is not None:
        fields.pop("sets", None)
    return Found(end, fields)


def _whole(count: Decimal) -> Range[Decimal] | None:
    return Range(count, count) if count == count.to_integral() else None


def _goes_on(typed: Typed, at: int) -> bool:
    """Tell whether the figure before is the beginning of a dose, not a count of its own."""
    token = typed[at]
    return token.is_times or token.kind is Kind.WORD or token.text in ("%", "/")


def rest(typed: Typed, at: int, given: Dose) -> Found | None:
    if typed[at].word == "no" and typed.sees(at + 1, "rest"):
        return Found(typed.sees(at + 1, "rest"), {"rest": Range(Decimal(0), Decimal(0))})
    if typed[at].glued and typed[at - 1].is_number and typed[at].word in ("r", "p", "v"):
        return None  # "10R" is the right side
    if typed[at].word == "r" and (given.seconds or given.metres) and typed[at + 1].glued:
        rate = typed.amount(at + 1)
        if rate and not rate.unit and 15 < rate.low < 41:
            return Found(rate.end, {"words": [typed.typed(at, rate.end)]})  # a stroke rate or a rest
    begin = at
    if (inside := typed.sees(at, "intra")) and (word := typed.sees(inside, "rest")):
        found = _rest_behind(typed, word, given)
        if found and "rest" in found.fields:
            return Found(found.end, {"intra_rest": found.fields["rest"]})
    while (
        typed[at].word in ("with", "w", "/", "then", "+", "and", "con", "avec", "mit", "med", "com") and at - begin < 3
    ):
        at += 1
    word = typed.sees(at, "rest")
    if word and not (typed[at].word in ("p", "v", "r", "int") and not _is_time(typed, word)):
        return _rest_behind(typed, word, given) or _rest_in_words(typed, word)
    if typed[at].word in ("rest", "r") and typed.sees(at, "rest"):
        return None
    if typed.is_mark(at, "#") and _is_time(typed, at + 1) and typed.amount(at + 1).unit == "s":  # type: ignore[union-attr]
        amount = typed.amount(at + 1)
        return Found(amount.end, {"rest": amount.figures}) if amount else None
    amount = typed.amount(at)
    if at == begin and (bound := typed.sees(at, "upto")):
        amount = typed.amount(bound)
        if amount and amount.unit == "s" and (end := typed.sees(amount.end, "rest")):
            return Found(_ended(typed, end), {"rest": Range(Decimal(0), amount.high)})
        return None
    if amount is None:
        return None
    return _rest_before(typed, amount, given, is_joined=at > begin)


def _is_time(typed: Typed, at: int) -> bool:
    amount = typed.amount(at + (typed[at].text in (":", "=")))
    return bool(amount and amount.unit in ("s", "", "m"))


def _rest_behind(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read what stands behind "rest": a time, seconds where no unit is written."""
    at += typed[at].text in (":", "=")
    for word in ("of", "for", "is", "to", "between", "at", "interval"):
        at += typed[at].word == word
    if (bound := typed.sees(at, "upto")) or (bound := typed.sees(at, "between")):
        at = bound
        for word in ("sets", "rounds", "set", ":"):
            at += typed[at].word == word
    if end := typed.sees(at, "needed"):
        return Found(_ended(typed, end), {"rest_as_needed": True})
    amount = typed.amount(at)
    if amount is None:
        return None
    if typed.is_mark(amount.end, ":") and amount.unit == "":  # "1:1" is read as no clock: a ratio
        return None
    if amount.unit == "m":
        return Found(_ended(typed, amount.end), {"rest_metres": amount.figures})
    if amount.unit not in ("s", "") or (amount.is_clock and amount.high < 10 and amount.low < 10):
        return None
    seconds = amount.figures
    if (
        amount.unit == "" and amount.high <= 5 and amount.high > 0
    ):  # "rest 2": of minutes or seconds? minutes, written so
        return None
    end = _ended(typed, amount.end)
    if behind := typed.sees(end, "intra"):
        return Found(behind, {"intra_rest": seconds})
    return Found(end, {"rest": seconds})


def _rest_in_words(typed: Typed, at: int) -> Found | None:
    end = typed.sees(at, "needed")
    return Found(_ended(typed, end), {"rest_as_needed": True}) if end else None


def _rest_before(typed: Typed, amount: Amount, given: Dose, *, is_joined: bool) -> Found | None:
    """Read a time with "rest", "between sets", "intra" or "easy between" behind it."""
    end = amount.end
    if amount.unit not in ("s", "m"):
        return None
    if behind := typed.sees(end, "intra"):
        return Found(behind, {"intra_rest": amount.figures})
    if behind := typed.sees(end, "inter"):
        return Found(behind, {"rest": amount.figures})
    step = end + (typed[end].word in ("of", "de", "di"))
    kind = "rest" if amount.unit == "s" else "rest_metres"
    word = typed.sees(step, "rest")
    if word and typed[step].word in ("p", "v", "e"):
        word = 0
    if word and typed[step].word == "pause" and (typed[word].text == "@" or typed.sees(word, "bottom", "top", "at")):
        return None
    easy = typed.sees(step, "easybetween")
    if easy and (behind := typed.sees(easy, "rest")):
        return Found(_ended(typed, behind), {kind: amount.figures})
    if word and not _is_time(typed, word):
        if typed[word].is_dash and typed[word].glued and typed[word + 1].word == "pause":
            return None
        return Found(_ended(typed, word), {kind: amount.figures})
    if (
        easy
        and (given.has_work or given.sets or is_joined)
        and (typed.sees(easy, "between") or typed[easy].text in (")", "", ",", "."))
    ):
        return Found(_ended(typed, easy), {kind: amount.figures})
    if behind := typed.sees(end, "between"):
        is_inside = bool(given.myo or given.rest_pause or given.complex or given.cluster) and given.intra_rest is None
        if typed[behind].word in ("sets", "rounds", "set"):
            is_inside = False
        elif typed[behind].word in ("reps", "rep", "clusters"):
            is_inside = True
        return Found(_ended(typed, end), {"intra_rest" if is_inside else kind: amount.figures}) if behind else None
    is_alone = typed.is_mark(amount.start - 1, "(") and typed[end].text in (")", "")
    is_swim = typed.is_mark(amount.start - 1, "(") and amount.is_clock and typed[amount.start].text == ":"
    if (given.has_work or given.sets) and kind == "rest" and (is_alone or is_swim) and not given.rest:
        return Found(end, {"intra_rest" if given.rest_pause or given.myo or given.complex else "rest": amount.figures})
    is_whole = bool(given.sets and (given.reps or given.metres or given.calories or given.is_max or given.steps))
    is_apart = typed[amount.start - 1].text in (",", ";", "|", "·", "–", "-")
    is_bell = (
        typed[amount.start + 1].word == "s"
        and typed[amount.start + 1].glued
        and amount.low in _BELLS
        and not given.load
    )
    if is_whole and is_apart and kind == "rest" and typed[end].text in ("", ",") and not is_bell and amount.low >= 10:
        return Found(end, {"rest": amount.figures})
    if given.tempo and given.reps and kind == "rest" and typed[end].text in ("", ","):
        return Found(end, {"rest": amount.figures})
    return None


#: What a pair of bells weighs; "20s" behind a dose may be one (common practice, no source).
_BELLS = frozenset(map(Decimal, (8, 12, 14, 16, 18, 20, 22, 24, 26, 28, 32, 36, 40, 44, 48)))


def _ended(typed: Typed, at: int) -> int:
    """Return the token behind words that add nothing to a rest: "between sets", "after each round"."""
    end = typed.sees(at, "between") or at
    if typed[at].word in ("after", "before"):
        end = at + 1
    if end > at:
        for word in ("each", "every", "chaque", "las", "les", "le", "varje"):
            end += typed[end].word == word
        end = typed.sees(end, "set", "round", "rep", "station") or end
        if typed[end].word in (
            "exercises",
            "exercise",
            "reps",
            "efforts",
            "lifts",
            "attempts",
            "intervals",
            "side",
            "sides",
        ):
            end += 1
    return end
