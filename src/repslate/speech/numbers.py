"""Words to amounts: "ten to twelve", "10 12", "a minute and a half", "seventeen and a half up to 25 kilos".

Knows what numbers and units sound like, and nothing of training: what an amount is for is figures.py's business.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.speech.words import Word

_UNITS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
         "ninety": 90}  # fmt: skip
_ZEROS = frozenset({"zero", "nought"})
_SINGLE = _UNITS | _TENS | dict.fromkeys(_ZEROS, 0)
# "a pair of twenties", "the forty fives", "grab your tens": weights by their number.
_PLURALS = (
    {word[:-1] + "ies": value for word, value in _TENS.items()}
    | {word + "s": value for word, value in _UNITS.items() if value in (2, 3, 4, 5, 7, 8, 9, 10, 15)}
    | {"fives": 5, "sixes": 6, "twelves": 12, "sixteens": 16}
)
_TIMING = frozenset("rest hold plank off on between work break side each per".split())  # "30s hold", not "the 40s"
_SEVERAL = {
    "double": 2,
    "triple": 3,
    "doubles": 2,
    "triples": 3,
    "singles": 1,
}  # lifters' words for sets of two and of three
_DROPS = {"single": 1, "double": 2, "triple": 3}
_TIMES = {"once": 1, "twice": 2, "thrice": 3}
_UNIT_WORDS = {
    "s": {"second", "seconds", "sec", "secs", "s", "second's", "seconds'"},
    "min": {"minute", "minutes", "min", "mins", "minute's", "minutes'"},
    "h": {"hour", "hours", "hour's"},
    "m": {"metre", "metres", "meter", "meters", "m"},
    "kg": {"kilo", "kilos", "kg", "kgs", "kilogram", "kilograms", "kilo's"},
    "lb": {"pound", "pounds", "lb", "lbs", "pounder", "pounders"},
    "%": {"percent", "%", "percents"},
}
_UNIT_OF = {word: unit for unit, words in _UNIT_WORDS.items() for word in words}
_SECONDS = {"s": 1, "min": 60}
_ARTICLES = frozenset({"a", "an"})
# Words that may stand between a number and its minute: "one daft minute", "two full minutes".
_SMALL = frozenset(
    "a an the of to or and in on at for with per each is it it's that that's you your i we be do go if so then from"
    " rounds round sets set reps rep times time more or as but by off up down no not sorry to first second third last next every there can could just in for this those these my"
    " when while between before after rest hold lower press where".split()
)
_JOINS = (("to",), ("-",), ("or",), ("or", "maybe"), ("maybe",), ("maybe", "even"), ("possibly",), ("perhaps",), ("up", "to"), ("to", "maybe"),
          ("or", "even"), ("or", "possibly"), ("or", "perhaps"), ("through", "to"), ("even",), ("max",), ("or", "up", "to"), ("and", "up", "to"), ("going", "to"),
          ("to", "about"), ("or", "about"), ("or", "a"), ("to", "a"), ("or", "a", "pair", "of"), ("up", "to", "a"))  # fmt: skip
_BETWEEN = frozenset({"between", "betwixt", "from"})
# What follows a choice of numbers: "eight nine ten, whichever you can".
_LOOSE = frozenset("of whichever whatever anywhere reps each a per depending depends somewhere pulls on".split())
# "twelve, sorry, ten" — what takes a number back.
_TAKES_BACK = frozenset(
    {
        "sorry", "no sorry", "no", "i mean", "no i mean", "make that", "no make that", "scratch that", "no wait", "wait",
        "wait no", "sorry no", "actually", "no actually", "no i'm sorry", "i'm sorry", "i beg your pardon", "rather",
        "or rather", "no hang on", "hang on", "no tell a lie", "tell a lie", "no i tell a lie", "i tell a lie", "no no",
        "correction", "sorry i mean", "sorry i meant", "i meant", "sorry make that", "let me say that again",
        "let's say", "let's make it", "no let's", "no it's", "sorry it's", "no sorry it's", "what am i saying",
        "excuse me", "my mistake", "no my mistake", "no wait it's", "wait it's", "actually no", "nope", "no that's wrong",
        "that's wrong", "no that's wrong it's", "sorry that's", "no scratch that", "actually make that", "no we said",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Amount:
    """A number or a range of them as said, from the word `first` to the word `last`.

    `unit` is "" (a bare number), "s" (always seconds, minutes included), "h", "m", "kg", "lb" or "%". `noun` is what was counted where it is said in the
    middle ("two times, maybe three"). `form` is "" or
    "plural" ("the twenties"), "times" ("once", "twice"), "few" ("a couple"), "clock" ("1:30"), "list" ("five eight
    ten"), "side by side" ("10 12"). `minutes` tells a time that was said in minutes, `void` marks one that was taken back at once ("twelve, sorry, ten").
    """

    first: int
    last: int
    low: Fraction
    high: Fraction
    unit: str = ""
    form: str = ""
    void: bool = False
    minutes: bool = False
    noun: str = ""


def amounts(words: Sequence[Word]) -> tuple[Amount, ...]:
    """Return every amount said, in order, ranges as one; those that were taken back are marked."""
    ranges = list(_ranges(words, list(_singles(words))))
    return tuple(_taken_back(words, list(_restated(words, ranges))))


# ---- one number, with its unit


def _singles(words: Sequence[Word]) -> Iterator[Amount]:
    at = 0
    while at < len(words):
        amount = _timed(words, at) or _counted(words, at)
        if amount is None:
            at += 1
            continue
        yield amount
        at = amount.last + 1


def _word(words: Sequence[Word], at: int) -> str:
    """Return the word at an index, "" beyond the end and after the end of a sentence."""
    return words[at].text if 0 <= at < len(words) and not (at and words[at - 1].ends) else ""


def _next(words: Sequence[Word], at: int) -> str:
    """Return the word after `at`, "" where the sentence ends with `at`."""
    return _word(words, at + 1)


def _value(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Return a cardinal number that begins at `at`, with the index of its last word."""
    text = words[at].text
    if text[0].isdigit() or (text[0] == "." and len(text) > 1):
        if ":" in text or text[-1] == "s":
            return None
        return _half(words, Fraction(text.replace(",", "") if len(text) > 4 else text.replace(",", ".")), at)
    if (text == "a" or _UNITS.get(text, 99) < 10) and _next(words, at) in ("hundred", "dozen"):
        times = 1 if text == "a" else _UNITS[text]
        if _next(words, at) == "dozen":
            return Fraction(12 * times), at + 1
        return _hundreds(words, times, at + 1)
    if text == "half" and _next(words, at) in _ARTICLES and _word(words, at + 2) == "dozen":
        return Fraction(6), at + 2
    if text == "dozen":
        return Fraction(12), at
    if text in _TENS:
        unit = _UNITS.get(_next(words, at), 99)
        if unit < 10:
            return _half(words, Fraction(_TENS[text] + unit), at + 1)
        return _half(words, Fraction(_TENS[text]), at)
    if text == "one" and _next(words, at) in _TENS and not words[at].ends:
        tens = _value(words, at + 1)
        return (100 + tens[0], tens[1]) if tens else None
    if text in ("a", "one", "two", "three") and _next(words, at) == "thousand":
        return Fraction(1000 * (_UNITS.get(text) or 1)), at + 1
    if _UNITS.get(text, 99) < 10 and _next(words, at) in _TENS and _names_hundreds(words, at):
        tens = _value(words, at + 1)
        return (100 * _UNITS[text] + tens[0], tens[1]) if tens else None
    if text in _SINGLE:
        return _half(words, Fraction(_SINGLE[text]), at)
    return None


def _names_hundreds(words: Sequence[Word], at: int) -> bool:
    """Tell "seven fifty metres" from "seven, fifty": a long unit or a thousand follows."""
    after = {_word(words, at + k) for k in (2, 3, 4, 5)}
    return bool(after & {"metres", "meters", "pounds", "lbs", "thousand"})


def _hundreds(words: Sequence[Word], hundreds: int, at: int) -> tuple[Fraction, int]:
    """Return "a hundred (and) fifty"; `at` is the index of "hundred"."""
    rest = at + 1 + (_next(words, at) == "and")
    if rest < len(words) and _word(words, rest) in _SINGLE and (tail := _value(words, rest)) and tail[0] < 100:
        return 100 * hundreds + tail[0], tail[1]
    return Fraction(100 * hundreds), at


def _half(words: Sequence[Word], whole: Fraction, last: int) -> tuple[Fraction, int]:
    """Add "and a half" or "point five"."""
    if [_word(words, last + k) for k in (1, 2, 3)] == ["and", "a", "half"]:
        return whole + Fraction(1, 2), last + 3
    if _next(words, last) == "point" and (tenth := _SINGLE.get(_word(words, last + 2), 99)) < 10:
        return whole + Fraction(tenth, 10), last + 2
    if _next(words, last) == ".5":
        return whole + Fraction(1, 2), last + 1
    return whole, last


def _counted(words: Sequence[Word], at: int) -> Amount | None:
    """Return a number that is no time: bare or with its unit."""
    text = words[at].text
    if text in _TIMES:
        return Amount(at, at, Fraction(_TIMES[text]), Fraction(_TIMES[text]), form="times")
    if text in _DROPS and _next(words, at) in ("drop", "drops", "dropset", "strip"):
        return Amount(at, at, Fraction(_DROPS[text]), Fraction(_DROPS[text]))
    if text == "single" and at > 1 and [words[at - 2].text, words[at - 1].text] == ["for", "a"]:
        return Amount(at, at, Fraction(1), Fraction(1), form="several")
    if text in _SEVERAL and at and (text[-1] == "s" or words[at - 1].text in ("a", "heavy", "only", "one", "for")):
        return Amount(at, at, Fraction(_SEVERAL[text]), Fraction(_SEVERAL[text]), form="several")
    if text == "couple":
        first = at - 1 if at and words[at - 1].text in ("a", "last", "the") and not words[at - 1].ends else at
        last = at + 1 if _next(words, at) == "of" else at
        return Amount(first, last, Fraction(2), Fraction(2), form="few")
    if plural := _plural(words, at):
        return plural
    if (
        text == "half"
        and _next(words, at) == "of"
        and (
            _word(words, at + 2) == "what"
            or (_word(words, at + 2) == "your" and _word(words, at + 3) in ("working", "max", "top"))
        )
    ):
        return Amount(at, at, Fraction(50), Fraction(50), "%", "half")
    if text == "three" and _next(words, at) == "quarters" and _word(words, at + 2) == "of":
        return Amount(at, at + 1, Fraction(75), Fraction(75), "%", "half")
    found = _value(words, at)
    if found is None:
        return None
    value, last = found
    unit, last = _unit(words, last)
    first = at - 1 if text == "dozen" and at and words[at - 1].text == "a" else at
    return Amount(first, last, value, value, unit)


def _plural(words: Sequence[Word], at: int) -> Amount | None:
    """Return "twenties" or "forty fives", which name weights."""
    text = words[at].text
    if text in _TENS and _PLURALS.get(_next(words, at), 99) < 10:
        value = Fraction(_TENS[text] + _PLURALS[_next(words, at)])
        return Amount(at, at + 1, value, value, form="plural")
    if text in _PLURALS:
        return Amount(at, at, Fraction(_PLURALS[text]), Fraction(_PLURALS[text]), form="plural")
    if text.endswith("s") and text[:-1].isdigit():
        near = {words[k].text for k in range(max(0, at - 3), min(len(words), at + 4))}
        unit, form = ("s", "") if near & _TIMING else ("", "plural")
        return Amount(at, at, Fraction(text[:-1]), Fraction(text[:-1]), unit, form)
    return None


def _unit(words: Sequence[Word], last: int) -> tuple[str, int]:
    """Return the unit that follows a number and the index of its last word; one word may stand between."""
    one, two, three = (_word(words, last + k) for k in (1, 2, 3))
    if one == "per" and two == "cent":
        return "%", last + 2
    if one in _UNIT_OF:
        return _UNIT_OF[one], last + 1
    for skip, unit in ((2, two), (3, three)):  # "one daft minute", "one nasty wee minute"
        if _UNIT_OF.get(unit) in _SECONDS and len(unit) > 3 and all(map(_describes, (one, two)[: skip - 1])):
            return _UNIT_OF[unit], last + skip
    if one == "of" and two in ("a", "your") and three == "percent":
        return "%", last + 3
    return "", last


def _describes(word: str) -> bool:
    """Tell whether a word may stand between a number and its unit."""
    return word[:1].isalpha() and word not in _SMALL and word not in _SINGLE and word not in _UNIT_OF


_TENTHS = frozenset({"ten", "fifteen", "twenty", "thirty", "forty", "fifty", "10", "15", "20", "30", "40", "45", "50"})


# ---- times: minutes have ways of their own


def _timed(words: Sequence[Word], at: int) -> Amount | None:
    """Return a time that begins at `at`: "a minute and a half", "half a minute", "two minutes thirty", "1:30"."""
    text = words[at].text
    if ":" in text:
        minutes, _, seconds = text.partition(":")
        value = Fraction(int(minutes) * 60 + int(seconds))
        last = at + 1 if _UNIT_OF.get(_next(words, at)) == "min" else at
        return Amount(at, last, value, value, "s", "clock", minutes=True)
    if part := _part_of_minute(words, at):
        return part
    count, last = _minutes_before(words, at)
    if count is None:
        return None
    return _with_seconds(words, at, count, last)


def _part_of_minute(words: Sequence[Word], at: int) -> Amount | None:
    """Return "half a minute", "a half minute", "three quarters of a minute"."""
    said = [_word(words, at + k) if k else words[at].text for k in range(5)]
    for phrase, share in (
        (("half", "a", "minute"), Fraction(1, 2)),
        (("half", "minute"), Fraction(1, 2)),
        (("quarter", "of", "a", "minute"), Fraction(1, 4)),
        (("three", "quarters", "of", "a", "minute"), Fraction(3, 4)),
        (("three", "quarter", "minute"), Fraction(3, 4)),
    ):
        if tuple(said[: len(phrase)]) == phrase:
            return Amount(at, at + len(phrase) - 1, 60 * share, 60 * share, "s", minutes=True)
    return None


def _minutes_before(words: Sequence[Word], at: int) -> tuple[Fraction | None, int]:
    """Return how many minutes are named from `at` on ("a minute", "that full minute", "two minutes") and the last word."""
    text = words[at].text
    if text in ("a", "an", "another", "that", "full", "whole", "the", "your"):
        for skip in (1, 2):
            if _UNIT_OF.get(_word(words, at + skip)) == "min" and (skip == 1 or _next(words, at) not in _SINGLE):
                if text in ("the", "that") and skip == 1 and _word(words, at + 2) != "and":
                    return None, at
                between = _next(words, at)
                if skip == 2 and (between in _SMALL or not between.isalpha() or _value(words, at + 1) is not None):
                    continue
                return Fraction(1), at + skip
        if text in ("a", "an") and _UNIT_OF.get(_next(words, at)) == "s" and _next(words, at) in ("second", "sec"):
            return Fraction(1, 60), at + 1
        return None, at
    if text == "minute" and (
        _word(words, at + 1) in _TENTHS or [_word(words, at + k) for k in (1, 2, 3)] == ["and", "a", "half"]
    ):
        return Fraction(1), at
    if (found := _value(words, at)) is None:
        return None, at
    value, last = found
    unit, end = _unit(words, last)
    return (value, end) if unit == "min" else (None, at)


def _with_seconds(words: Sequence[Word], first: int, minutes: Fraction, last: int) -> Amount:
    """Add "and a half", "thirty", "and ten seconds" to whole minutes."""
    seconds = minutes * 60
    if seconds < 60:
        return Amount(first, last, seconds, seconds, "s")
    if [_word(words, last + k) for k in (1, 2, 3)] == ["and", "a", "half"]:
        return Amount(first, last + 3, seconds + 30, seconds + 30, "s", minutes=True)
    after = last + 1 + (_next(words, last) == "and")
    if after < len(words) and _word(words, after) and (found := _value(words, after)):
        value, end = found
        unit, stop = _unit(words, end)
        joined = after == last + 2
        if (
            value < 60
            and value % 5 == 0
            and (
                (unit == "s" and joined)
                or (unit == "" and not joined and (words[first].text == "minute" or not _range_follows(words, end)))
            )
        ):
            return Amount(first, stop, seconds + value, seconds + value, "s", minutes=True)
    return Amount(first, last, seconds, seconds, "s", minutes=True)


def _range_follows(words: Sequence[Word], last: int) -> bool:
    """Tell whether a number is the lower end of a range of its own, as in "a minute ten to twelve of these"."""
    return _next(words, last) in ("to", "or", "of", "reps", "rep", "each", "per", "-")


# ---- ranges


def _ranges(words: Sequence[Word], singles: list[Amount]) -> Iterator[Amount]:
    at = 0
    while at < len(singles):
        low = singles[at]
        run = _list(words, singles, at)
        if run:
            yield run
            at += 3
            continue
        high = singles[at + 1] if at + 1 < len(singles) else None
        joined = _joined(words, low, high) if high else None
        if joined and high:
            third = singles[at + 2] if at + 2 < len(singles) else None
            wider = _joined(words, joined, third) if third and _between(words, joined, third) == ["or"] else None
            yield wider or joined  # "tens or twelves or fourteens"
            at += 3 if wider else 2
        else:
            yield low
            at += 1


def _between(words: Sequence[Word], one: Amount, two: Amount) -> list[str] | None:
    """Return the words between two amounts, None where a sentence ends there."""
    if any(word.ends for word in words[one.last : two.first]):
        return None
    return [word.text for word in words[one.last + 1 : two.first]]


def _joined(words: Sequence[Word], low: Amount, high: Amount) -> Amount | None:
    """Return one range of two amounts where they are said as one."""
    gap = _between(words, low, high)
    if gap is None or "times" in (high.form,) or not _alike(low, high):
        return None
    if gap == ["and"] and not low.unit and not high.unit and low.low == high.low >= 4:
        return replace(low, last=high.last, form="pair")  # "ten and ten": one for each side
    gap = [word for word in gap if word not in ("about", "like", "say")]
    noun = low.unit == "" and gap[:1] in (["sets"], ["rounds"], ["reps"], ["times"])
    plain = gap[1:] if noun else gap
    both = _same_unit(low, high)
    if both is None:
        return None
    low_end, high_end, unit = both
    if low_end >= high_end:
        return None
    form = "plural" if "plural" in (low.form, high.form) else ""
    minutes = low.minutes or high.minutes
    joined = Amount(low.first, high.last, low_end, high_end, unit, form, minutes=minutes, noun=gap[0] if noun else "")
    if tuple(plain) in _JOINS and not (noun and plain == ["to"] and not high.unit):
        return joined
    if plain[:1] == ["and"] and set(plain[1:]) <= {"a", "pair", "of"} and _after_between(words, low):
        return joined
    if plain == ["a", "pair", "of"] or plain == ["to", "a", "pair", "of"] or plain == ["or", "a", "pair", "of"]:
        return joined
    if gap == [] and _side_by_side(words, low, high):
        return replace(joined, form="side by side")
    return None


def _alike(low: Amount, high: Amount) -> bool:
    if low.form in ("times",) or "clock" in (low.form, high.form):
        return False
    return low.unit == high.unit or not low.unit or (not high.unit and low.unit in ("s", "m", "kg", "lb", "%"))


def _same_unit(low: Amount, high: Amount) -> tuple[Fraction, Fraction, str] | None:
    """Return both ends in one unit; the end that names none has the other's ("sixty to ninety seconds")."""
    if low.unit == high.unit:
        return low.low, high.high, high.unit
    if not low.unit:
        minutes = high.minutes and low.low * 60 < high.high  # "sixty to two minutes" is sixty seconds
        return low.low * (60 if minutes else 1), high.high, high.unit
    return low.low, high.high * (60 if low.minutes and high.high < 10 else 1), low.unit


def _after_between(words: Sequence[Word], low: Amount) -> bool:
    before = [word.text for word in words[max(0, low.first - 4) : low.first]]
    return bool(_BETWEEN & set(before)) or (before[-1:] == ["a"] and "between" in before)


def _side_by_side(words: Sequence[Word], low: Amount, high: Amount) -> bool:
    """Tell whether two numbers in a row are a range ("10 12 reps", "thirty forty seconds") rather than counting aloud.

    Counting goes up by one; a range by one needs a unit or a word for repetitions behind it.
    """
    if words[low.last].ends or words[low.last].breaks and not high.unit:
        return False
    if low.unit and (low.unit == high.unit or low.minutes):  # "two minutes, two and a half"
        return True
    ends = _same_unit(low, high)
    if ends is None:
        return False
    scale = 60 if high.minutes and ends[0] >= 60 else 1
    step = (ends[1] - ends[0]) / scale
    if low.low < 2 or ends[1] / scale > 3 * low.low + 5 or (high.form == "plural") != (low.form == "plural"):
        return False
    follows = _next(words, high.last)
    named = bool(high.unit) or follows in ("reps", "rep", "sets", "rounds", "of", "each", "per", "a", "on")
    if step == 1:
        return named and follows != "and"
    return named or step <= 10


def _list(words: Sequence[Word], singles: list[Amount], at: int) -> Amount | None:
    """Return "the five, eight, ten pounders" and "eight nine ten, whatever you have" as one range."""
    three = singles[at : at + 3]
    if _is_loose_run(words, singles, at):
        return Amount(three[0].first, three[2].last, three[0].low, three[2].high)
    if len(three) < 3 or three[0].unit or three[1].unit or not three[0].low < three[1].low < three[2].low:
        return None
    last = three[2]
    if last.unit not in _LISTED or last.form not in ("", "plural") or _between(words, three[0], three[1]) != []:
        return None
    if _between(words, three[1], last) not in _LISTED[last.unit]:
        return None
    form = last.form or ("list" if last.unit else "")
    return Amount(three[0].first, last.last, three[0].low, last.high, last.unit, form)


_LISTED: dict[str, list[list[str]]] = {  # what may stand before the last of three, by its unit
    "kg": [[], ["or"], ["and"]], "lb": [[], ["or"], ["and"]], "s": [[], ["or"], ["maybe"]], "": [["or"]],
}  # fmt: skip


def _restated(words: Sequence[Word], found: list[Amount]) -> Iterator[Amount]:
    """Yield "three minutes, at least three, up to four" as one range: the same figure, then its upper end."""
    at = 0
    while at < len(found):
        amount, after = found[at], found[at + 1] if at + 1 < len(found) else None
        scale = 60 if amount.minutes else 1
        if (
            after
            and amount.unit
            and not after.unit
            and after.low * scale == amount.high < after.high * scale
            and (gap := _between(words, amount, after)) is not None
            and len(gap) <= 3
        ):
            yield replace(amount, last=after.last, high=after.high * scale)
            at += 2
            continue
        yield amount
        at += 1


def _is_loose_run(words: Sequence[Word], singles: list[Amount], at: int) -> bool:
    """Tell whether three numbers in a row leave the choice to the viewer; counting aloud goes on before or after."""
    three, around = singles[at : at + 3], (*singles[max(0, at - 1) : at], *singles[at + 3 : at + 4])
    if len(three) < 3 or any(one.unit or one.form for one in three) or three[2].first - three[0].first != 2:
        return False
    if [one.low - three[0].low for one in three] != [0, 1, 2] or three[0].low < 4:
        return False
    if any(one.low in (three[0].low - 1, three[2].low + 1) and abs(one.first - three[1].first) < 12 for one in around):
        return False
    return _next(words, three[2].last) in _LOOSE


# ---- corrected at once


def _taken_back(words: Sequence[Word], found: list[Amount]) -> Iterator[Amount]:
    """Yield the amounts, those marked that were taken back; "three by fifteen, scratch that" takes back both."""
    void = [index for index in range(len(found) - 1) if _is_taken_back(words, found[index], found[index + 1])]
    linked = {
        index - 1
        for index in void
        if index and [word.text for word in words[found[index - 1].last + 1 : found[index].first]] in (["by"], ["x"])
    }
    for index, amount in enumerate(found):
        yield replace(amount, void=True) if index in linked or index in void else amount


def _is_taken_back(words: Sequence[Word], amount: Amount, after: Amount) -> bool:
    """Tell whether what stands between two amounts takes the first back; a noun of the first may come before it."""
    between = [word.text for word in words[amount.last + 1 : after.first]]
    if not between and not amount.unit and amount.low == amount.high == after.low < after.high:
        return True  # "thirty, thirty to forty five seconds"
    if amount.unit and after.unit and amount.unit != after.unit:
        return False
    for skip in range(min(3, len(between))):
        said = between[skip:]
        if skip and between[skip - 1] not in _COUNTED:
            break
        if _takes_back(said):
            return True
    return False


def _takes_back(said: Sequence[str]) -> bool:
    """Tell whether words between two figures take the first one back."""
    bare = list(said)
    while bare and bare[-1] in _LEADS_ON:
        if " ".join(bare) in _TAKES_BACK:
            return True
        bare.pop()
    if " ".join(bare) in _TAKES_BACK:
        return True
    regrets = bool(_REGRETS & set(said))
    return regrets and len(said) <= 12 and said[0] in _REGRET_BEGINS


_COUNTED = frozenset("reps rep sets set rounds round seconds minutes of each a side".split())
_LEADS_ON = frozenset("it's that's the a we're doing want i to do".split())
_REGRETS = frozenset(
    "sorry lies lie lying wrong meant mean scratch ignore mistake reading misread line sheet wait nope oops".split()
)
_REGRET_BEGINS = frozenset("no sorry nope wait scratch ignore i oh oops hang hold actually well what".split())
