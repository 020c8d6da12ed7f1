"""What may stand at one place of a typed line: a rest, a tempo, sets and repetitions, a load, a way of doing them.

Each reader looks from a token on and returns what it found with the token behind it, or None. The first that finds
something wins, so the order of READERS is the grammar: what is most particular comes first.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import Dose, TypedLoad
from repslate.model.notes.loads import behind_at, bracketed_levels, levels, load_words, massive, percent_of, plain_load
from repslate.model.quantity import Range, write_number
from repslate.model.tokens import Kind

ONE = Range(Decimal(1), Decimal(1))
_SEVEN = (7, 7, 7)
_LONGEST_HOLD = 10  # seconds of a hold inside a repetition; "10 × 6 s hold" is ten of them, "3 × 45 s hold" three sets
_FEWEST_HELD = 5
_MOST_SETS = 12  # more than that before "×" is a load or a distance, not sets (common practice, no source)
_LIGHTEST = 20


@dataclass(slots=True)
class Found:
    """The token behind what was read, and the fields it fills; `may_begin`: it can be the first of another part."""

    end: int
    fields: dict[str, object] = field(default_factory=dict)
    may_begin: bool = False


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


def _work(amount: Amount) -> dict[str, object] | None:
    """Return the field that an amount of work fills; None for what is no work."""
    name = {
        "s": "seconds", "m": "metres", "cal": "calories", "breath": "breaths", "step": "steps",
    }.get(amount.unit)  # fmt: skip
    if name:
        return {name: amount.figures}
    if amount.unit in ("", "rep"):
        return {"reps": (amount.figures,), **({"open_last": True} if amount.is_open else {})}
    return None


# ---- times a day, every so often


def _per_day(typed: Typed, at: int, given: Dose) -> Found | None:
    if end := typed.sees(at, "twiceaday"):
        return Found(end, {"per_day": 2})
    amount = typed.amount(at)
    if not amount or amount.unit not in ("", "rep"):
        return None
    step = amount.end + typed[amount.end].is_times
    end = typed.sees(step, "perday")
    return Found(end, {"per_day": int(amount.low)}) if end else None


def _every(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "every 2 min for 12 min", "E2MOM x 7", "EMOM 10", "on 1:30", "2:15 clock"."""
    seconds: Decimal | None = None
    end = 0
    if typed[at].word == "e" and typed[at + 1].kind is Kind.FIGURE and typed[at + 1].glued and typed[at + 2].glued:
        factor = {"mom": 60, "m": 60, "s": 1, "min": 60}.get(typed[at + 2].word)
        if factor:
            seconds, end = Decimal(typed[at + 1].text.replace(",", ".")) * factor, at + 3
    elif end := typed.sees(at, "everyminute"):
        seconds = Decimal(60)
    elif (behind := typed.sees(at, "every")) or ((given.has_work or given.sets) and (behind := typed.sees(at, "onclock"))):
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
    elif length and length.unit in ("round", "set") and length.is_single:
        fields["sets"], end = length.figures, length.end
    elif length and length.unit == "" and length.is_single and step > end and not _goes_on(typed, length.end):
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


# ---- tempo


def _tempo(typed: Typed, at: int, given: Dose) -> Found | None:
    begin = at
    named = typed.sees(at, "tempo")
    if named:
        at = named + typed.is_mark(named, ":")
    if typed.is_mark(at, "@"):
        at += 1
    phases, end = _phases(typed, at)
    if not phases:
        return _tempo_in_words(typed, begin, given)
    behind = typed.sees(end, "tempo")
    has_x = "X" in phases
    if has_x and end - at > 1 and typed[at + 1].text == "x" and (typed[end].is_number or not given.has_work):
        return None  # "60x2 65x2" are loads and repetitions
    is_sure = bool(named or behind or has_x or len(phases) == 4)
    if not is_sure and not (given.has_work and given.sets is not None):
        return None
    if typed.unit(end)[0] or typed[end].is_times or (typed[end].is_dash and typed[end].glued):
        return None
    compact = end - at == 1 and not has_x
    if compact and not (named or behind or given.reps or typed.is_mark(at - 1, "@")):
        return None
    return Found(behind or end, {"tempo": phases})


def _phases(typed: Typed, at: int) -> tuple[tuple[str, ...], int]:
    """Return the phases of a tempo in signs: "3-0-X-1", "3010", "31X0", "3/1/1"."""
    token = typed[at]
    if token.kind is Kind.FIGURE and len(token.text) == 4 and token.text.isdigit() and max(token.text) <= "8":
        if not (typed[at + 1].glued and typed[at + 1].kind is Kind.WORD and not typed[at + 1].is_times):
            return tuple(token.text), at + 1
    text, step = "", at
    while step < typed.end and len(text) < 5 and (step == at or typed[step].glued):
        if not (typed[step].text.isdigit() or typed[step].word == "x"):
            break
        text += typed[step].text.upper()
        step += 1
    if len(text) == 4 and text.count("X") == 1 and "X" in (text[0], text[2]) and max(text.replace("X", "")) <= "8":
        return tuple(text), step
    phases: list[str] = []
    step = at
    while typed[step].word == "x" or (typed[step].text.isdigit() and len(typed[step].text) <= 2):
        phases.append(typed[step].text.upper())
        step += 1
        if not typed[step].is_dash or len(phases) == 4:
            break
        step += 1
    is_long = any(phase != "X" and int(phase) > 10 for phase in phases)
    if len(phases) in (3, 4) and not is_long and not typed[step - 1].is_dash:
        return tuple(phases), step
    return (), at


def _tempo_in_words(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 s down", "1 s pause at the bottom", "2 s squeeze at the top", "up fast", phase by phase."""
    phases = list(given.tempo or ("?",) * 4)
    step, end, told = at, 0, 0
    while step < typed.end:
        found = _phase(typed, step)
        if not found:
            break
        place, value, end = found
        if phases[place] not in ("?", value):
            return None
        phases[place] = value
        told += 1
        step = end
        while typed[step].text in (",", "/", "•", "-", "–", "*", ";") or typed[step].word == "and":
            step += 1
    if not end:
        return None
    if told == 1 and (phases[1] != "?" or phases[3] != "?") and not given.tempo:  # a pause alone is a hold in each
        held = Decimal(phases[1] if phases[1] != "?" else phases[3])
        return Found(end, {"hold": Range(held, held), "adds": True})
    return Found(end, {"tempo": tuple(phases)})


def _phase(typed: Typed, at: int) -> tuple[int, str, int] | None:
    places = {"down": 0, "bottom": 1, "up": 2, "top": 3}
    if fast := typed.sees(at, "fast"):
        if typed[at].word == "x":
            return None
        return (2, "X", fast) if fast - at > 1 or typed[at].word.startswith("explo") else None
    if (up := typed.sees(at, "up")) and (fast := typed.sees(up, "fast")):
        return 2, "X", fast
    if (down := typed.sees(at, "down")) and typed.is_mark(down, "(") and (inside := typed.amount(down + 1)):
        if inside.unit == "s" and inside.is_single and typed.is_mark(inside.end, ")"):
            return 0, str(inside.low.normalize()), inside.end + 1
    amount = typed.amount(at)
    if not amount or amount.unit != "s" or not amount.is_single or amount.high > 15:
        return None
    for meaning, place in places.items():
        step = amount.end + (typed[amount.end].word in ("pause", "hold", "stop"))
        step += typed[step].text == "@" and typed[step + 1].word in ("bottom", "top")
        if typed[step - 1].text == "@" and typed[step].word == ("bottom" if place == 1 else "top" if place == 3 else ""):
            return place, str(amount.low.normalize()), step + 1
        if end := typed.sees(amount.end, meaning):
            return place, str(amount.low.normalize()), end
    if (end := typed.sees(amount.end, "hold")) and typed[amount.end].word in ("pause", "paused"):
        for meaning in ("bottom", "top"):
            if behind := typed.sees(end, meaning):
                return places[meaning], str(amount.low.normalize()), behind
        if typed[at - 1].text == "/":  # "3 s down / 1 s pause"
            return 1, str(amount.low.normalize()), end
    return None


# ---- rest


def _rest(typed: Typed, at: int, given: Dose) -> Found | None:
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
    while typed[at].word in ("with", "w", "/", "then", "+", "and", "con", "avec", "mit", "med", "com") and at - begin < 3:
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
    if amount.unit == "" and amount.high <= 5 and amount.high > 0:  # "rest 2": of minutes or seconds? minutes, written so
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
    if easy and (given.has_work or given.sets or is_joined) and (typed.sees(easy, "between") or typed[easy].text in (")", "", ",", ".")):
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
    is_bell = typed[amount.start + 1].word == "s" and typed[amount.start + 1].glued and amount.low in _BELLS and not given.load
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
        if typed[end].word in ("exercises", "exercise", "reps", "efforts", "lifts", "attempts", "intervals", "side", "sides"):
            end += 1
    return end


# ---- ways of doing a set


def _technique(typed: Typed, at: int, given: Dose) -> Found | None:
    for reader in (_twentyone, _myo, _rest_pause, _drops, _cluster, _partials, _ladder):
        if found := reader(typed, at, given):
            return found
    return None


def _twentyone(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "twentyone")
    if not end:
        return None
    fields: dict[str, object] = {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": _SEVEN, "partials": True}
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
        fields = {"rest_pause": True, "reps": (plus.figures,), "sets": ONE, "mini_sets": chain[0], "mini_reps": chain[1]}
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
    return Found(behind, _each(listed))


def _each(listed: Figures) -> dict[str, object]:
    count = Decimal(len(listed.ranges))
    fields: dict[str, object] = {"reps": listed.ranges, "sets": Range(count, count)}
    return fields | ({"open_last": True} if listed.is_open else {})


# ---- effort and load


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
        step = typed.sees(amount.end, "rir", "rpe") or typed.sees(amount.end + (typed[amount.end].word == "reps"), "rir")
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


# ---- sets, repetitions, times, lengths


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
    listed = typed.figures(at, "/+") or _dotted(typed, at)
    if listed and listed.sign == "+" and sets is not None and (
        typed.sees(listed.end, "partials", "drops", "myo", "max") or typed[listed.end].is_times
    ):
        listed = None
    if typed.sees(at, "twentyone") and typed[at].text == "21":
        found = _twentyone(typed, at, Dose())
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


def _dotted(typed: Typed, at: int) -> Figures | None:
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


def _chain(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 × 10", "4 sets of 8", "60 kg x 5", "5x10x75", and "x 4" alone."""
    if typed[at].is_times and typed[at].word != "by" and not typed[at - 1].is_number:
        alone = _factor(typed, at + 1)
        if alone and alone.amount and not alone.rep_max and alone.amount.unit in ("", "set", "round", "rep") and not (
            typed[alone.end].is_times and _factor(typed, alone.end + 1)
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
    inside = _chain(typed, at + 1, Dose())
    if inside is None or not typed.is_mark(inside.end, ")") or "sets" in inside.fields or "words" in inside.fields:
        return None
    return Found(inside.end + 1, {"sets": sets.amount.figures, **inside.fields}, may_begin=True)


def _pairs(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read two or more pairs such as "70x3 75x2 80x1" and "5 x 135, 5 x 155": a load and its repetitions in turn."""
    pairs, step, end = [], at, at
    while True:
        first = typed.amount(step)
        is_joined = bool(first) and (typed[first.end].is_times or (typed.is_mark(first.end, "/") and typed[first.end].glued))  # type: ignore[union-attr]
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
    if all(first.low > _LIGHTEST - 1 and second.high <= _LIGHTEST for first, second in pairs):
        turned = pairs
    elif all(second.low > 2 * _LIGHTEST and second.is_single and first.high <= _LIGHTEST for first, second in pairs):
        turned = [(second, first) for first, second in pairs]
    else:
        return None
    parts = [Dose(sets=ONE, reps=(reps.figures,), load=TypedLoad("mass", load.figures)) for load, reps in turned]
    return Found(end, {"parts": parts})


def _at_pairs(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "12 @ 40, 10 @ 45, 8 @ 50 kg" and "5 @ 65 %, 5 @ 75 %, 5+ @ 85 %": repetitions and a load in turn."""
    parts: list[Dose] = []
    step = end = at
    while True:
        reps = typed.amount(step)
        behind = typed.amount(reps.end + 1) if reps and reps.unit == "percent" and typed.is_mark(reps.end, "/") else None
        if reps and behind and not behind.unit and behind.high <= _LIGHTEST:  # "75 %/2, 80 %/1"
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


def _part_name(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "top set", "back-offs" or "WU" in front of the figures of a part."""
    for meaning, role in (("topset", "top"), ("backoff", "back-off"), ("warmupset", "warm-up"), ("worksets", "work")):
        end = typed.sees(at, meaning)
        if not end or (role == "warm-up" and at and not given.has_work) or (role == "top" and typed[at - 1].word in ("the", "at", "of")):
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


def _heavy_singles(typed: Typed, at: int, given: Dose) -> Found | None:
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


def _repeat(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "repeat 3 times" behind a hold: so many of it; and a way of doing it that names no figure."""
    if typed[at].word in ("repeat", "repeating", "repeated") and (given.seconds or given.breaths or given.hold):
        step = at + 1
        step += typed[step].word in ("for", "this")
        amount = typed.amount(step)
        if amount and amount.unit == "rep" and not given.reps:
            fields: dict[str, object] = {"reps": (amount.figures,), "adds": True}
            if given.seconds and given.hold is None and given.seconds.high <= 3 * _LONGEST_HOLD:
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


def _single(typed: Typed, factor: _Factor, given: Dose) -> Found | None:
    end = factor.end
    if factor.is_sets and factor.amount:
        fields: dict[str, object] = {"sets": factor.amount.figures}
        for_time = typed.sees(end, "max")
        return Found(for_time, fields | {"is_max": True}) if for_time else Found(end, fields | {"adds": True})
    if factor.per_side and factor.amount:
        return Found(end, {**(_work(factor.amount) or {}), "per_side": True})
    if factor.is_max:
        return Found(end, {"is_max": True}) if not given.is_max else None
    if factor.hold:
        return Found(end + typed[end].is_times, {"hold": factor.hold})
    amount = factor.amount
    if amount and amount.unit == "rep" and not factor.rep_max:
        if sets := typed.sees(end, "in"):
            return Found(sets, {})
        return Found(end, _work(amount) or {})
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
        return {**(_work(second.amount) or {}), "hold": first.hold}
    if first.listed and first.listed.sign == "+" and second.amount and second.amount.unit in ("", "set", "round"):
        return {"complex": tuple(map(int, first.listed.values)), "sets": second.amount.figures}
    if first.per_side and first.amount and second.amount and second.amount.unit in ("", "set", "round"):
        return {**(_work(first.amount) or {}), "sets": second.amount.figures}
    if first.amount is None or first.per_side or first.is_max:
        return None
    sets = first.amount
    if sets.unit == "rep" and second.amount and second.is_sets:
        return {"sets": second.amount.figures, "reps": (sets.figures,)}
    if sets.unit == "rep" and second.amount and second.amount.unit == "":
        return None
    if sets.unit not in ("", "set", "round"):
        if second.amount and second.is_sets:
            return {"sets": second.amount.figures, **(_work(sets) or {})}
        if second.amount and second.amount.unit == "" and _work(sets):
            return {"sets": second.amount.figures, **(_work(sets) or {})}
        return None
    if second.hold and second.hold.high <= _LONGEST_HOLD and sets.low >= _FEWEST_HELD and not first.is_sets:
        return {"reps": (sets.figures,), "hold": second.hold}
    work = _work_of(second, sets)
    if work is None:
        return None
    bare = second.amount and second.amount.unit == "" and not first.is_sets
    if bare and second.amount:
        if sets.low > _LIGHTEST and second.amount.high <= _LIGHTEST and not second.per_side:
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
    work = _work(other.amount) if other.amount else None
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
        return {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": _SEVEN, "partials": True}
    if factor.listed:
        return _listed_work(factor.listed, sets)
    if factor.amount is None:
        return None
    work = _work(factor.amount)
    if factor.rep_max:
        return {**(work or {}), "load": TypedLoad("rep_max", factor.amount.figures)}
    return work


def _listed_work(listed: Figures, sets: Amount) -> dict[str, object] | None:
    """Decide what "3 × 12/10/8", "3 × 8/10", "3 × 5/5" and "4 × 2+2+2" say."""
    if listed.unit not in ("", "rep"):
        return None
    if listed.sign == "+":
        return {"complex": tuple(map(int, listed.values))}
    if len(listed.ranges) == sets.low and sets.is_single and (len(listed.ranges) != 2 or listed.values[0] != listed.values[1]):
        return {"reps": listed.ranges, **({"open_last": True} if listed.is_open else {})}
    if len(listed.ranges) == 2 and listed.values[0] == listed.values[1]:
        return {"reps": listed.ranges[:1], "per_side": True}
    if len(listed.ranges) == 2 and listed.values[0] < listed.values[1]:
        return {"reps": (Range(listed.values[0], listed.values[1]),)}
    if sets.low == 1 and len(set(listed.values)) == 1 and len(listed.values) > 2:
        return {"reps": listed.ranges[:1]}
    if len(set(listed.values)) == 1 and listed.values[0] == 7:
        return {"reps": (Range(Decimal(21), Decimal(21)),), "cluster": _SEVEN, "partials": True}
    return None


def _three(first: _Factor, second: _Factor, third: _Factor) -> dict[str, object] | None:
    """Decide what three figures say: sets, repetitions and a load, or a load, repetitions and sets."""
    if first.amount and massive(first.amount) and third.amount and third.amount.unit in ("", "set") and second.amount:
        return {"load": massive(first.amount), **(_work(second.amount) or {}), "sets": third.amount.figures}
    if first.amount is None or first.amount.unit not in ("", "set", "round"):
        return None
    sets = first.amount
    if third.amount and third.amount.unit == "m" and second.amount and second.amount.unit == "":
        return {"sets": sets.figures, "reps": (second.amount.figures,), "metres": third.amount.figures}
    bare = bool(third.amount and third.amount.unit == "" and second.amount)
    if bare and sets.low > _LIGHTEST and third.amount and third.amount.high <= _MOST_SETS and second.amount:
        return {"load": TypedLoad("mass", sets.figures), "reps": (second.amount.figures,), "sets": third.amount.figures}
    work = _work_of(second, sets)
    load = third.load or (massive(third.amount, bare=True) if third.amount else None)
    if third.listed:
        load = levels(third.listed)
    if work is None or load is None:
        return None
    return {"sets": sets.figures, **work, "load": load}


def _listed(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "12/10/8 reps", "5/5/5+", "12, 10, 8 reps", "1+1+1" where no "×" joins them."""
    found = typed.figures(at, "/") or typed.figures(at, ",")
    if found and found.sign == "," and not (
        found.unit == "rep" or typed.sees(found.end, "rep") or (given.sets and given.sets.low == len(found.ranges))
    ):
        found = None
    if found and found.unit in ("", "rep") and len(found.ranges) >= 3:
        if given.reps:
            return None
        end = typed.sees(found.end, "rep") or found.end
        return Found(end, {**_each(found), "adds": True})
    found = typed.figures(at, "+") or _dotted(typed, at)
    if found and found.unit == "" and len(found.ranges) >= 2 and not given.reps:
        end = typed.sees(found.end, "rep") or found.end
        return Found(end, {"complex": tuple(map(int, found.values)), "adds": True})
    equal = typed.figures(at, "/")
    if equal and len(equal.ranges) == 2 and equal.values[0] == equal.values[1] and equal.unit in ("", "rep"):
        if not given.reps and not typed.sees(equal.end, "bodyweight") and equal.values[0] <= 30:
            return Found(equal.end, {"reps": equal.ranges[:1], "per_side": True})
    return None


def _amounts(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read work with its unit: "30 s", "for 2 minutes", "40 m", "12 cal", "5 breaths", "10 reps", "20 steps"."""
    begin = at
    while typed[at].word in ("for", "of", "x", "×", "~", "about", "approx", "à", "at", "least", "pendant", "por", "durante"):
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
        if amount and amount.unit == "s" and amount.high <= _LONGEST_HOLD:
            return Found(amount.end, {"hold": amount.figures})
    amount = typed.amount(at)
    if amount is None or amount.unit in ("", "set", "round", "percent", "kg", "lb", "cm", "spm", "rpm", "watt", "length"):
        return None
    if held := typed.sees(amount.end, "hold"):
        is_inside = bool(given.reps) or typed[held].is_times or typed.sees(held, "relax")
        if amount.unit == "s" and (is_inside or typed.is_mark(held, "/")) and amount.high <= 3 * _LONGEST_HOLD:
            return Found(held, {"hold": amount.figures, "adds": True})
    work = _work(amount)
    if work is None:
        return None
    if given.has_work:
        key = next(iter(work))
        is_next = typed[begin - 1].text in (",", ";", "+") or typed[begin - 1].word == "then"
        if is_next and getattr(given, key) not in (None, ()) and given.load:
            return Found(amount.end, work, may_begin=True)
        if key == "breaths" and given.breaths is None:
            return Found(amount.end, work | {"adds": True})
        if key == "reps" and not given.reps and given.seconds and given.seconds.high <= _LONGEST_HOLD:
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
    if typed[at].word in ("each", "ea") and given.has_work and typed[at + 1].word not in ("with", "set", "round", "rep", "time"):
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
    if typed.is_mark(at, "(") and (amount := typed.amount(at + 1)) and amount.is_open and typed.is_mark(amount.end, ")"):
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
        return Found(amount.end + 1, {"load": TypedLoad("mass", amount.figures), "part": True})  # "140 for 4 sets of 10"
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
    is_last = following.text in ("", ",", "@", ".") and (before.kind is Kind.WORD or before.text in (":", ",", "-", "–", "—"))
    if at and (in_brackets or (is_last and amount.high <= 100)):
        return Found(amount.end, {"reps": (amount.figures,)})
    return None


def _joined_movements(typed: Typed, at: int, given: Dose) -> Found | None:
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
        if following and typed.unit(following[1])[0] or (following and typed[following[1]].is_times):
            break
        commas += typed[step].text != "+"
        step = sign
    if len(names) < 2 or not counted or (commas and counted < len(names) - 1) or (typed.number(0) is None and commas):
        return None
    return Found(step, {"name": " + ".join(names), "complex": tuple(counts)})


READERS: tuple[Callable[[Typed, int, Dose], Found | None], ...] = (
    _joined_movements, _heavy_singles, _per_day, _two_levels, _part_name, _every, _rest, _tempo, _effort, _technique, _worded, _repeat,
    _sides, _at_pairs, _pairs, _load, _chain, _listed, _amounts,
)  # fmt: skip
