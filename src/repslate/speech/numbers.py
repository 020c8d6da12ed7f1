"""Words to single amounts: "forty five", "a hundred and ten kilos", "a minute and a half", "a couple of".

Knows what numbers and units sound like, and nothing of training: what an amount is for is figures.py's business.
What words mean here is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.model.clock import read_clock
from repslate.model.quantity import NUMBER_WORDS, TENS, UNITS, number_in_words
from repslate.speech.phrases import listed
from repslate.speech.words import Word, goes_on, word_at

_SINGLE = NUMBER_WORDS | {"zero": 0, "nought": 0}
_ONES = {word: value for word, value in UNITS.items() if value < 10}
_HOW_MANY = _ONES | {"a": 1}  # dozens, hundreds, thousands
# "a pair of twenties", "the forty fives", "grab your tens": weights by their number.
_PLURALS = (
    {word[:-1] + "ies": value for word, value in TENS.items()}
    | {word + "s": value for word, value in UNITS.items() if value in (2, 3, 4, 5, 7, 8, 9, 10, 15)}
    | {"sixes": 6, "twelves": 12, "sixteens": 16}
)
_TIMING = frozenset("rest hold plank off on between work break side each per".split())  # "30s hold", not "the 40s"
_TIMES = {"once": 1, "twice": 2, "thrice": 3}
_DROPS = {"single": 1, "double": 2, "triple": 3}
_SEVERAL = _DROPS | {"singles": 1, "doubles": 2, "triples": 3}  # lifters' words for sets of one, two and three
_ONE_OF_THEM = frozenset("a heavy only one for".split())  # "a heavy triple", but not "triple the rest"
_SHARE_OF = ("of what", "of your working", "of your max", "of your top", "of whatever", "of that weight")
_UNIT_OF = {
    word: unit
    for unit, words in {
        "s": "second seconds sec secs s second's seconds'",
        "min": "minute minutes min mins minute's minutes'",
        "h": "hour hours hour's",
        "m": "metre metres meter meters m",
        "kg": "kilo kilos kg kgs kilogram kilograms kilo's",
        "lb": "pound pounds lb lbs pounder pounders",
        "%": "percent % percents",
    }.items()
    for word in words.split()
}
_LONG = frozenset("metres meters pounds lbs thousand".split())  # "seven fifty metres"
# Words that are none of the describing kind that may stand between a number and its minute ("one daft minute").
_SMALL = listed("numbers small")
_ONE_MINUTE = frozenset("a an another that full whole the your".split())
_PARTS_OF_MINUTE = {
    "half a minute": 30, "half minute": 30, "quarter of a minute": 15, "three quarters of a minute": 45,
    "three quarter minute": 45,
}  # fmt: skip
_AFTER_MINUTE = frozenset("ten fifteen twenty thirty forty fifty 10 15 20 30 40 45 50".split())  # "minute thirty"
_LONGEST = 12  # characters of a number in digits; what is longer is none that anybody trains with
_RANGE_GOES_ON = frozenset("to or of reps rep each per -".split())


@dataclass(frozen=True, slots=True)
class Amount:
    """A number or a range of them as said, from the word `first` to the word `last`.

    `unit` is "" (a bare number), "s" (always seconds, minutes included), "h", "m", "kg", "lb" or "%". `form` is "" or
    "plural" ("the twenties"), "times" ("once", "twice"), "several" ("a triple"), "few" ("a couple"), "half" ("half of
    what you lift"), "clock" ("1:30"), "list" ("five eight ten"), "side by side" ("10 12"), "pair" ("ten and ten").
    `void` marks one that was taken back at once ("twelve, sorry, ten"), `minutes` a time that was said in minutes.
    `noun` is what was counted where it is said in the middle ("two times, maybe three").
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


def singles(words: Sequence[Word]) -> Iterator[Amount]:
    """Yield every single number with its unit, in order; the ends of a range are two."""
    at = 0
    while at < len(words):
        amount = _timed(words, at) or _counted(words, at)
        if amount:
            yield amount
        at = amount.last + 1 if amount else at + 1


# ---- the number alone


def _value(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Return a cardinal number that begins at `at`, with the index of its last word."""
    text = words[at].text
    if text[0].isdecimal() or (text[0] == "." and len(text) > 1):  # "①" and "²" are digits to Python and no numbers
        return _in_digits(words, at)
    if large := _dozens(words, at) or _hundreds(words, at):
        return large
    return _small(words, at)


def _small(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Read a number below a hundred in words: "twenty-one", "five and a half"."""
    text = words[at].text
    if (joined := number_in_words(f"{text} {word_at(words, at + 1)}")) is not None:
        return _with_half(words, Fraction(joined), at + 1)
    return _with_half(words, Fraction(_SINGLE[text]), at) if text in _SINGLE else None


def _in_digits(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Read "12", "1,000" and "22,5"; clocks and "40s" are read elsewhere."""
    text = words[at].text
    if ":" in text or text[-1] == "s" or len(text) > _LONGEST:
        return None
    return _with_half(words, Fraction(text.replace(",", "" if len(text) > 4 else ".")), at)


def _dozens(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    text, after = words[at].text, word_at(words, at + 1)
    if text == "dozen":
        return Fraction(12), at
    if text in _HOW_MANY and after == "dozen":
        return Fraction(12 * _HOW_MANY[text]), at + 1
    if text == "half" and after in ("a", "an") and word_at(words, at + 2) == "dozen":
        return Fraction(6), at + 2
    return None


def _hundreds(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Read "a hundred (and) fifty", "one twenty", "seven fifty metres", "two thousand"."""
    text, after = words[at].text, word_at(words, at + 1)
    count = _HOW_MANY.get(text, 0)
    if count and after == "hundred":
        rest = at + 2 + (word_at(words, at + 2) == "and")
        tail = _small(words, rest) if word_at(words, rest) in _SINGLE else None
        if tail and tail[0] < 100 and word_at(words, tail[1] + 1) not in ("dozen", "hundred", "thousand"):
            return 100 * count + tail[0], tail[1]
        return Fraction(100 * count), at + 1
    if 1 <= count <= 3 and after == "thousand":
        return Fraction(1000 * count), at + 1
    if after in TENS and (text == "one" or (count > 1 and _names_hundreds(words, at))):
        tens = _small(words, at + 1)
        return (100 * count + tens[0], tens[1]) if tens else None
    return None


def _names_hundreds(words: Sequence[Word], at: int) -> bool:
    """Tell "seven fifty metres" from "seven, fifty": a long unit or a thousand follows."""
    return any(word_at(words, at + offset) in _LONG for offset in (2, 3, 4, 5))


def _with_half(words: Sequence[Word], whole: Fraction, last: int) -> tuple[Fraction, int]:
    """Add "and a half" or "point five"."""
    if goes_on(words, last, "and a half"):
        return whole + Fraction(1, 2), last + 3
    if word_at(words, last + 1) == "point" and (tenth := _SINGLE.get(word_at(words, last + 2), 99)) < 10:
        return whole + Fraction(tenth, 10), last + 2
    if word_at(words, last + 1) == ".5":
        return whole + Fraction(1, 2), last + 1
    return whole, last


# ---- what is counted, with its unit


def _counted(words: Sequence[Word], at: int) -> Amount | None:
    """Return an amount that is no time: bare, with its unit, or in a word of its own."""
    named = _repeated(words, at) or _couple(words, at) or _plural(words, at) or _share(words, at)
    found = None if named else _value(words, at)
    if found is None:
        return named
    value, last = found
    unit, last = _unit(words, last)
    first = at - 1 if words[at].text == "dozen" and at and words[at - 1].text == "a" else at
    return Amount(first, last, value, value, unit)


def _repeated(words: Sequence[Word], at: int) -> Amount | None:
    """Return "twice", "a double drop set", "heavy triples"."""
    text = words[at].text
    if text in _TIMES:
        value, form = Fraction(_TIMES[text]), "times"
    elif text in _DROPS and word_at(words, at + 1) in ("drop", "drops", "dropset", "strip"):
        value, form = Fraction(_DROPS[text]), ""
    elif text in _SEVERAL and _names_a_set(text, [word.text for word in words[max(0, at - 2) : at]]):
        value, form = Fraction(_SEVERAL[text]), "several"
    else:
        return None
    return Amount(at, at, value, value, form=form)


def _names_a_set(text: str, before: Sequence[str]) -> bool:
    """Tell "for a single" and "a heavy double" from "a single arm row" and "double up", by the two words before."""
    if text == "single":
        return before == ["for", "a"]
    return bool(before) and (text.endswith("s") or before[-1] in _ONE_OF_THEM)


def _couple(words: Sequence[Word], at: int) -> Amount | None:
    if words[at].text != "couple":
        return None
    first = at - 1 if at and words[at - 1].text in ("a", "last", "the") and not words[at - 1].ends else at
    last = at + 1 if word_at(words, at + 1) == "of" else at
    return Amount(first, last, Fraction(2), Fraction(2), form="few")


def _plural(words: Sequence[Word], at: int) -> Amount | None:
    """Return "twenties" or "forty fives", which name weights."""
    text, after = words[at].text, word_at(words, at + 1)
    if text in TENS and _PLURALS.get(after, 99) < 10:
        value = Fraction(TENS[text] + _PLURALS[after])
        return Amount(at, at + 1, value, value, form="plural")
    if text in _PLURALS:
        return Amount(at, at, Fraction(_PLURALS[text]), Fraction(_PLURALS[text]), form="plural")
    if text.endswith("s") and text[:-1].isdecimal() and len(text) <= _LONGEST:
        near = {word.text for word in words[max(0, at - 3) : at + 4]}
        unit, form = ("s", "") if near & _TIMING else ("", "plural")
        return Amount(at, at, Fraction(text[:-1]), Fraction(text[:-1]), unit, form)
    return None


def _share(words: Sequence[Word], at: int) -> Amount | None:
    """Return "half of your working weight" and "three quarters of it" in percent."""
    text = words[at].text
    if text == "half" and any(goes_on(words, at, phrase) for phrase in _SHARE_OF):
        return Amount(at, at, Fraction(50), Fraction(50), "%", "half")
    if text == "three" and goes_on(words, at, "quarters of"):
        return Amount(at, at + 1, Fraction(75), Fraction(75), "%", "half")
    return None


def _unit(words: Sequence[Word], last: int) -> tuple[str, int]:
    """Return the unit that follows a number and the index of its last word, "" and that of the number if none does."""
    one, two, three = (word_at(words, last + offset) for offset in (1, 2, 3))
    if (one, two) == ("per", "cent"):
        return "%", last + 2
    if one in _UNIT_OF:
        return _UNIT_OF[one], last + 1
    for skip, unit in ((2, two), (3, three)):  # "one daft minute", "one nasty wee minute"
        if _UNIT_OF.get(unit) in ("s", "min") and len(unit) > 3 and all(map(_describes, (one, two)[: skip - 1])):
            return _UNIT_OF[unit], last + skip
    if one == "of" and two in ("a", "your") and three == "percent":
        return "%", last + 3
    return "", last


def _describes(word: str) -> bool:
    """Tell whether a word may stand between a number and its unit."""
    return word[:1].isalpha() and word not in _SMALL and word not in _SINGLE and word not in _UNIT_OF


# ---- times: minutes have ways of their own


def _timed(words: Sequence[Word], at: int) -> Amount | None:
    """Return a time that begins at `at`: "a minute and a half", "half a minute", "two minutes thirty", "1:30"."""
    text = words[at].text
    if ":" in text and isinstance(value := read_clock(text), Fraction):
        last = at + 1 if _UNIT_OF.get(word_at(words, at + 1)) == "min" else at
        return Amount(at, last, value, value, "s", "clock", minutes=True)
    for phrase, share in _PARTS_OF_MINUTE.items():
        begin, _, rest = phrase.partition(" ")
        if text == begin and goes_on(words, at, rest):
            return Amount(at, at + len(rest.split()), Fraction(share), Fraction(share), "s", minutes=True)
    found = _minutes(words, at)
    return _with_seconds(words, at, *found) if found else None


def _minutes(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Return how many minutes are named from `at` on ("a minute", "two minutes") and the index of the last word."""
    text = words[at].text
    if text in _ONE_MINUTE:
        return _one_minute(words, at)
    if text == "minute" and (word_at(words, at + 1) in _AFTER_MINUTE or goes_on(words, at, "and a half")):
        return Fraction(1), at
    if found := _value(words, at):
        unit, last = _unit(words, found[1])
        return (found[0], last) if unit == "min" else None
    return None


def _one_minute(words: Sequence[Word], at: int) -> tuple[Fraction, int] | None:
    """Return "a minute", "that full minute", and "a second" as a part of one; "the minute" alone is no amount."""
    text, one, two = words[at].text, word_at(words, at + 1), word_at(words, at + 2)
    if _UNIT_OF.get(one) == "min":
        return None if text in ("the", "that") and two != "and" else (Fraction(1), at + 1)
    if _UNIT_OF.get(two) == "min" and one.isalpha() and one not in _SMALL and _value(words, at + 1) is None:
        return Fraction(1), at + 2
    if text in ("a", "an") and one in ("second", "sec"):
        return Fraction(1, 60), at + 1
    return None


def _with_seconds(words: Sequence[Word], first: int, minutes: Fraction, last: int) -> Amount:
    """Add "and a half", "thirty", "and ten seconds" to whole minutes."""
    seconds = minutes * 60
    if seconds < 60:
        return Amount(first, last, seconds, seconds, "s")
    if goes_on(words, last, "and a half"):
        return Amount(first, last + 3, seconds + 30, seconds + 30, "s", minutes=True)
    joined = word_at(words, last + 1) == "and"
    after = last + 1 + joined
    if word_at(words, after) and (found := _value(words, after)):
        value, end = found
        unit, stop = _unit(words, end)
        # "a minute ten to twelve of these" is a minute, and a range of its own.
        alone = words[first].text == "minute" or word_at(words, end + 1) not in _RANGE_GOES_ON
        if value < 60 and value % 5 == 0 and (unit == "s" if joined else not unit and alone):
            return Amount(first, stop, seconds + value, seconds + value, "s", minutes=True)
    return Amount(first, last, seconds, seconds, "s", minutes=True)
