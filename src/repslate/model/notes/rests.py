"""Rests of a typed line, and the clock that sets begin by: "rest 60-90 s", "every 2 min for 12 min", "2x/day"."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import Dose, Fields, Figures, Found, TypedLoad, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

_SECONDS = {"mom": 60, "m": 60, "s": 1, "min": 60}  # of "E2MOM", "E90s"
_STROKE_RATES = range(16, 41)  # a minute, of rowing (common practice, no source)
_SHORTEST_PACED = 120  # seconds of work
_SHORTEST_WAY = 500  # metres
_SHORTEST_REST = 10  # seconds of a rest that nothing names
_LONGEST_BARE = 5  # "rest 2" may be of minutes; from six on it is of seconds
#: What a pair of bells weighs; "20s" behind a dose may be one (common practice, no source).
BELLS = frozenset(map(Decimal, (8, 12, 14, 16, 18, 20, 22, 24, 26, 28, 32, 36, 40, 44, 48)))
_FOR = frozenset({"for", "x", "×", "of", "i", "durante", "pendant", "per", "por", "während"})
_SHORT = frozenset({"p", "v", "r", "int"})  # too short to be a rest without a time


def per_day(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "2x/day", "3 times a day" and "twice daily"."""
    if end := typed.sees(at, "twiceaday"):
        return Found(end, {"per_day": 2})
    amount = typed.amount(at)
    if not amount or amount.unit not in ("", "rep"):
        return None
    end = typed.sees(amount.end + typed[amount.end].is_times, "perday")
    if end and not amount.is_single:
        return Found(end, {"words": [typed.typed(at, end)]})
    return Found(end, {"per_day": int(amount.low)}) if end else None


# ---- the clock


def every(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "every 2 min for 12 min", "E2MOM x 7", "EMOM 10", "on 1:30", "2:15 clock"."""
    found = _interval(typed, at, given)
    if found is None or not found[0]:
        return None
    seconds, end = found
    if typed[at - 1].word in ("switch", "change", "swap", "alternate"):
        return Found(end, {"words": [typed.typed(at, end)]})  # the hands, not the sets
    more, end = _how_often(typed, end, seconds)
    fields: Fields = {"every": seconds, **more}
    if given.sets is not None or given.has_work:
        fields["adds"] = True
    if given.sets is not None:
        fields.pop("sets", None)
    return Found(end, fields)


def _interval(typed: Typed, at: int, given: Dose) -> tuple[Decimal, int] | None:
    """Return the seconds from one beginning to the next, and the piece behind them."""
    if typed[at].word == "e" and typed[at + 1].kind is Kind.FIGURE and typed[at + 1].glued and typed[at + 2].glued:
        factor, number = _SECONDS.get(typed[at + 2].word), typed.number(at + 1)
        return (number[0] * factor, at + 3) if factor and number else None
    if end := typed.sees(at, "everyother"):
        return Decimal(120), end
    if end := typed.sees(at, "everyminute"):
        return Decimal(60), end
    named = typed.sees(at, "every")
    if behind := named or (typed.sees(at, "onclock") if given.has_work or given.sets else 0):
        amount = typed.amount(behind)
        is_clock = amount and amount.unit == "s" and amount.is_single and (named or amount.is_clock)
        return (amount.low, amount.end) if amount and is_clock else None
    amount = typed.amount(at)
    end = typed.sees(amount.end, "clock") if amount and amount.unit == "s" else 0
    return (amount.low, end) if amount and end else None


def _how_often(typed: Typed, end: int, seconds: Decimal) -> tuple[Fields, int]:
    """Read how long it goes on, or how many times, behind the interval."""
    step = end
    while typed[step].word in _FOR or typed[step].text in (",", "("):
        step += 1
    length = typed.amount(step)
    if length is None or not length.is_single:
        return {}, end
    if length.unit == "s":
        return _clocked(length.low, seconds), length.end
    if length.unit in ("round", "set") or (not length.unit and step > end and not _goes_on(typed, length.end)):
        return {"sets": length.figures}, length.end
    if not length.unit and step == end and length.low * 60 % seconds == 0:  # "E3MOM 15", "EMOM 12": minutes
        return _clocked(length.low * 60, seconds), length.end
    return {}, end


def _clocked(length: Decimal, seconds: Decimal) -> Fields:
    count = length / seconds
    return {"clock": length, "sets": exactly(count)} if count == count.to_integral() else {"clock": length}


def _goes_on(typed: Typed, at: int) -> bool:
    """Tell whether the figure before is the beginning of a dose, not a count of its own."""
    token = typed[at]
    return token.is_times or token.kind is Kind.WORD or token.text in ("%", "/")


# ---- rests


def rest(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read a rest: "rest 60-90 s", "no rest", "90 s between sets", "(:30)", "up to 2 min rest"."""
    if typed[at].glued and typed[at - 1].is_number and typed[at].word in ("r", "p", "v"):
        return None  # "10R" is the right side
    for read in (_no_rest, _rate_or_rest, _intra):
        if found := read(typed, at, given):
            return found
    begin = at
    while (typed[at].word in listed("joins a rest") or typed[at].text in ("/", "+")) and at - begin < 3:
        at += 1
    word = typed.sees(at, "rest")
    if word and (typed[at].word not in _SHORT or _is_time(typed, word)):
        return _rest_behind(typed, word) or _rest_in_words(typed, word)
    return None if word and typed[at].word == "r" else _timed(typed, at, given, is_joined=at > begin)


def _timed(typed: Typed, at: int, given: Dose, *, is_joined: bool) -> Found | None:
    """Read a rest that begins with its time."""
    amount = typed.amount(at + 1) if typed.is_mark(at, "#") else None
    if amount and amount.unit == "s":
        return Found(amount.end, {"rest": amount.figures})
    bound = 0 if is_joined else typed.sees(at, "upto")
    if bound:
        amount = typed.amount(bound)
        end = typed.sees(amount.end, "rest") if amount and amount.unit == "s" else 0
        return Found(_ended(typed, end), {"rest": Range(Decimal(0), amount.high)}) if amount and end else None
    amount = typed.amount(at)
    if amount is None or amount.unit not in ("s", "m") or _is_pause(typed, amount):
        return None
    can_ease = is_joined or given.has_work or given.sets is not None
    found = (
        _named(typed, amount) or (_easy(typed, amount, given) if can_ease else None) or _between(typed, amount, given)
    )
    return found or (_unnamed(typed, amount, given) if amount.unit == "s" else None)


def _no_rest(typed: Typed, at: int, _given: Dose) -> Found | None:
    end = typed.sees(at + 1, "rest") if typed[at].word in ("no", "zero") else 0
    return Found(end, {"rest": exactly(0)}) if end else None


def _rate_or_rest(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "r24" behind a long time or length as a stroke rate; behind a short one it may be a rest."""
    is_short = typed[at].word == "r" and (given.seconds or given.metres) and typed[at + 1].glued
    rate = typed.amount(at + 1) if is_short else None
    if not rate or rate.unit or not _STROKE_RATES[0] <= rate.low <= rate.high <= _STROKE_RATES[-1]:
        return None
    words = typed.typed(at, rate.end)
    if is_paced(given):
        return Found(rate.end, {"load": TypedLoad("rate_spm", rate.figures, words=words)})
    return Found(rate.end, {"words": [words]})


def is_paced(given: Dose) -> bool:
    """Tell whether the work is long enough that people pace it."""
    is_long = given.seconds is not None and given.seconds.low >= _SHORTEST_PACED
    return is_long or (given.metres is not None and given.metres.low >= _SHORTEST_WAY)


def _intra(typed: Typed, at: int, _given: Dose) -> Found | None:
    inside = typed.sees(at, "intra")
    word = typed.sees(inside, "rest") if inside else 0
    found = _rest_behind(typed, word) if word else None
    return Found(found.end, {"intra_rest": found.fields["rest"]}) if found and "rest" in found.fields else None


def _is_time(typed: Typed, at: int) -> bool:
    amount = typed.amount(at + (typed[at].text in (":", "=")))
    return bool(amount and amount.unit in ("s", "", "m"))


def _rest_behind(typed: Typed, at: int) -> Found | None:
    """Read what stands behind "rest": a time, seconds where no unit is written."""
    at = _behind_words(typed, at)
    if end := typed.sees(at, "needed"):
        return Found(_ended(typed, end), {"rest_as_needed": True})
    amount = typed.amount(at)
    if amount is None or (typed.is_mark(amount.end, ":") and amount.unit == ""):
        return None  # "1:1" is no clock: a ratio
    if amount.unit == "m":
        time = typed.amount(amount.end + 1) if typed[amount.end].word in ("in", "en") else None
        if time and time.unit == "s":
            return Found(_ended(typed, time.end), {"rest_metres": amount.figures, "rest": time.figures})
        return Found(_ended(typed, amount.end), {"rest_metres": amount.figures})
    is_tiny_clock = amount.is_clock and amount.high < _SHORTEST_REST
    is_unclear = amount.unit == "" and 0 < amount.high <= _LONGEST_BARE  # "rest 2": minutes or seconds?
    if amount.unit not in ("s", "") or is_tiny_clock or is_unclear:
        return None
    end = _ended(typed, amount.end)
    behind = typed.sees(end, "intra")
    return Found(behind, {"intra_rest": amount.figures}) if behind else Found(end, {"rest": amount.figures})


def _behind_words(typed: Typed, at: int) -> int:
    """Return the piece behind the words that stand between "rest" and its time: ":", "of", "between sets:", "up to"."""
    at += typed[at].text in (":", "=")
    for word in ("of", "for", "is", "to", "between", "at", "interval"):
        at += typed[at].word == word
    bound = typed.sees(at, "upto") or typed.sees(at, "between")
    if bound:
        at = bound
        for word in ("sets", "rounds", "set", ":"):
            at += typed[at].word == word
    return at


def _rest_in_words(typed: Typed, at: int) -> Found | None:
    end = typed.sees(at, "needed")
    return Found(_ended(typed, end), {"rest_as_needed": True}) if end else None


def _kind(amount: Amount, is_inside: bool = False) -> str:
    return "intra_rest" if is_inside else "rest" if amount.unit == "s" else "rest_metres"


def _resting(kind: str, figures: Figures) -> Fields:
    """Return the field of a rest: between sets, inside one, or as a length to go easily."""
    if kind == "intra_rest":
        return {"intra_rest": figures}
    return {"rest": figures} if kind == "rest" else {"rest_metres": figures}


def _rest_word(typed: Typed, amount: Amount) -> tuple[int, int]:
    """Return the piece behind a time, and the one behind the word for a rest that stands there; 0 for none."""
    step = amount.end + (typed[amount.end].word in ("of", "de", "di"))
    return step, 0 if typed[step].word in ("p", "v", "e") else typed.sees(step, "rest")


def _is_pause(typed: Typed, amount: Amount) -> bool:
    """Tell whether a time is one of a pause in each repetition, or of a rest-pause."""
    step, word = _rest_word(typed, amount)
    if not word or typed.sees(amount.end, "intra", "inter"):
        return False
    is_held = typed[step].word == "pause" and (typed[word].text == "@" or typed.sees(word, "bottom", "top", "at"))
    is_joined = typed[word].is_dash and typed[word].glued and typed[word + 1].word == "pause"
    return bool(is_held or (is_joined and not _is_time(typed, word)))


def _named(typed: Typed, amount: Amount) -> Found | None:
    """Read a time with "rest", "intra" or "easy recovery" behind it."""
    if behind := typed.sees(amount.end, "intra"):
        return Found(behind, {"intra_rest": amount.figures})
    if behind := typed.sees(amount.end, "inter"):
        return Found(behind, {"rest": amount.figures})
    step, word = _rest_word(typed, amount)
    easy = typed.sees(step, "easybetween")
    end = (typed.sees(easy, "rest") if easy else 0) or (0 if word and _is_time(typed, word) else word)
    return Found(_ended(typed, end), _resting(_kind(amount), amount.figures)) if end else None


def _easy(typed: Typed, amount: Amount, given: Dose) -> Found | None:
    """Read "200 m jog" and "60 s easy" behind work."""
    easy = typed.sees(_rest_word(typed, amount)[0], "easybetween")
    if typed[amount.start - 1].text == "+" and given.sets is None:
        return None  # "6 km + 1 km jog": more work
    is_ended = typed[easy].text in (")", "", ",", ".") or typed[easy].word == "after"
    if easy and (typed.sees(easy, "between") or is_ended):
        return Found(_ended(typed, easy), _resting(_kind(amount), amount.figures))
    return None


def _between(typed: Typed, amount: Amount, given: Dose) -> Found | None:
    """Read "90 s between sets" and "20 s between clusters"."""
    behind = typed.sees(amount.end, "between")
    if not behind:
        return None
    is_inside = bool(given.myo or given.rest_pause or given.complex or given.cluster) and given.intra_rest is None
    if typed[behind].word in ("sets", "rounds", "set"):
        is_inside = False
    elif typed[behind].word in ("reps", "rep", "clusters"):
        is_inside = True
    return Found(_ended(typed, amount.end), _resting(_kind(amount, is_inside), amount.figures))


def _unnamed(typed: Typed, amount: Amount, given: Dose) -> Found | None:
    """Read a time that nothing names behind a whole dose: "4 x 8 (:90)", "3 x 10, 60 s"."""
    start, end = amount.start, amount.end
    in_brackets = typed.is_mark(start - 1, "(")
    is_alone = in_brackets and (typed[end].text in (")", "") or (amount.is_clock and typed[start].text.startswith(":")))
    if (given.has_work or given.sets) and is_alone and not given.rest:
        is_inside = bool(given.rest_pause or given.myo or given.complex)
        return Found(end, _resting(_kind(amount, is_inside), amount.figures))
    is_whole = bool(given.sets and (given.reps or given.metres or given.calories or given.is_max or given.steps))
    is_apart = typed[start - 1].text in (",", ";", "|", "·", "–", "-")
    is_bell = typed[start + 1].word == "s" and typed[start + 1].glued and amount.low in BELLS and not given.load
    is_last = typed[end].text in ("", ",")
    if is_whole and is_apart and is_last and not is_bell and amount.low >= _SHORTEST_REST:
        return Found(end, {"rest": amount.figures})
    return Found(end, {"rest": amount.figures}) if given.tempo and given.reps and is_last else None


def _ended(typed: Typed, at: int) -> int:
    """Return the piece behind words that add nothing to a rest: "between sets", "after each round"."""
    end = typed.sees(at, "between") or at
    if typed[at].word in ("after", "before"):
        end = at + 1
        if len(typed[end].text) == 1 and typed[end + 1].is_number and typed[end + 1].glued:
            return end + 2  # "after B2": the last of a superset, where its rest stands anyway
    if end > at:
        end += typed[end].word in listed("each of a row")
        end += typed[end].word in listed("each of a row")
        end = typed.sees(end, "set", "round", "rep", "station") or end
        end += typed[end].word in listed("rested between")
    return end
