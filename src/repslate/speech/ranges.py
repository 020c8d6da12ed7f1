"""Single amounts to what was meant: "ten to twelve", "10 12", "five, eight, ten pounders", "twelve, sorry, ten".

What words join and take back is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from repslate.speech.numbers import Amount, singles
from repslate.speech.phrases import listed
from repslate.speech.words import Word, word_at


def amounts(words: Sequence[Word]) -> tuple[Amount, ...]:
    """Return every amount said, in order, ranges as one; those that were taken back are marked."""
    ranges = list(_ranges(words, list(singles(words))))
    return tuple(_taken_back(words, list(_restated(words, ranges))))


# ---- two as one

_JOINS = listed("ranges joins")
_BETWEEN = frozenset("between betwixt from".split())
_FILLS = frozenset("about like say".split())  # "ten to about twelve", "ten or like twelve"
_NOUNS = frozenset("sets rounds reps times".split())  # "two times, maybe three"
_NAMES_REPS = frozenset("reps rep sets rounds of each per a on".split())  # "ten eleven reps", not "ten eleven twelve"


def _ranges(words: Sequence[Word], found: list[Amount]) -> Iterator[Amount]:
    at = 0
    while at < len(found):
        if run := _run(words, found, at):
            yield run
            at += 3
            continue
        low, high, third = (*found[at : at + 3], None, None)[:3]
        joined = _joined(words, low, high) if low and high else None
        wider = _joined(words, joined, third) if joined and third and _gap(words, joined, third) == ["or"] else None
        yield wider or joined or found[at]  # "tens or twelves or fourteens"
        at += 3 if wider else 2 if joined else 1


def _gap(words: Sequence[Word], one: Amount, two: Amount) -> list[str] | None:
    """Return the words between two amounts, None where a sentence ends there."""
    if any(word.ends for word in words[one.last : two.first]):
        return None
    return _texts(words, one, two)


def _texts(words: Sequence[Word], one: Amount, two: Amount) -> list[str]:
    return [word.text for word in words[one.last + 1 : two.first]]


def _joined(words: Sequence[Word], low: Amount, high: Amount) -> Amount | None:
    """Return one range of two amounts where they are said as one."""
    gap = _gap(words, low, high)
    if gap is None or not _alike(low, high):
        return None
    if gap == ["and"] and not low.unit and not high.unit and low.low == high.low >= 4:
        return replace(low, last=high.last, form="pair")  # "ten and ten": one for each side
    low_end, high_end, unit = _same_unit(low, high)
    gap = [word for word in gap if word not in _FILLS]
    noun = gap[0] if gap and not low.unit and gap[0] in _NOUNS else ""
    plain = " ".join(gap[1:] if noun else gap)
    side_by_side = not gap and _side_by_side(words, low, high)
    counted_up = noun and plain == "to" and not high.unit  # "three sets to ten" is no range
    linked = (plain in _JOINS and not counted_up) or _ends_between(words, low, plain)
    if low_end >= high_end or not (side_by_side or linked):
        return None
    form = "side by side" if side_by_side else "plural" if "plural" in (low.form, high.form) else ""
    minutes = low.minutes or high.minutes
    return Amount(low.first, high.last, low_end, high_end, unit, form, minutes=minutes, noun=noun)


def _alike(low: Amount, high: Amount) -> bool:
    """Tell whether two amounts can be the ends of one range; the second unit may be left out, but not that of hours."""
    if {low.form, high.form} & {"times", "clock"}:
        return False
    return low.unit == high.unit or not low.unit or (not high.unit and low.unit in ("s", "m", "kg", "lb", "%"))


def _same_unit(low: Amount, high: Amount) -> tuple[Fraction, Fraction, str]:
    """Return both ends in one unit; the end that names none has the other's ("sixty to ninety seconds")."""
    if low.unit == high.unit:
        return low.low, high.high, high.unit
    if not low.unit:
        minutes = high.minutes and low.low * 60 < high.high  # "sixty to two minutes" is sixty seconds
        return low.low * (60 if minutes else 1), high.high, high.unit
    return low.low, high.high * (60 if low.minutes and high.high < 10 else 1), low.unit


def _ends_between(words: Sequence[Word], low: Amount, plain: str) -> bool:
    """Tell whether the "and" after an amount is that of "between ten and twelve"."""
    first, *others = plain.split() or [""]
    before = {word.text for word in words[max(0, low.first - 4) : low.first]}
    return first == "and" and set(others) <= {"a", "pair", "of"} and bool(_BETWEEN & before)


def _side_by_side(words: Sequence[Word], low: Amount, high: Amount) -> bool:
    """Tell whether two numbers in a row are a range ("10 12 reps", "thirty forty seconds") rather than counting aloud.

    Counting goes up by one; a range by one needs a unit or a word for repetitions behind it.
    """
    follows = word_at(words, high.last + 1)
    if words[low.last].breaks and not high.unit and follows not in ("reps", "rep"):
        return False
    if low.unit and (low.unit == high.unit or low.minutes):  # "two minutes, two and a half"
        return True
    low_end, high_end, _ = _same_unit(low, high)
    scale = 60 if high.minutes and low_end >= 60 else 1
    if low.low < 2 or high_end / scale > 3 * low.low + 5 or (high.form == "plural") != (low.form == "plural"):
        return False
    step = (high_end - low_end) / scale
    named = bool(high.unit) or follows in _NAMES_REPS
    if step == 1:
        return named and follows != "and"
    return named or step <= 10


# ---- three as one

_LOOSE = frozenset("of whichever whatever anywhere reps each a per depending depends somewhere pulls on".split())
_BEFORE_LAST = {"kg": ("", "or", "and"), "lb": ("", "or", "and"), "s": ("", "or", "maybe"), "": ("or",)}  # by its unit


def _run(words: Sequence[Word], found: list[Amount], at: int) -> Amount | None:
    """Return "the five, eight, ten pounders" and "eight nine ten, whatever you have" as one range."""
    if len(found) < at + 3:
        return None
    one, two, last = found[at : at + 3]
    if _is_loose_run(words, found, at):
        return Amount(one.first, last.last, one.low, last.high)
    if one.unit or two.unit or not one.low < two.low < last.low or last.form not in ("", "plural"):
        return None
    gap = _gap(words, two, last)
    if gap is None or " ".join(gap) not in _BEFORE_LAST.get(last.unit, ()) or _gap(words, one, two) != []:
        return None
    return Amount(one.first, last.last, one.low, last.high, last.unit, last.form or ("list" if last.unit else ""))


def _is_loose_run(words: Sequence[Word], found: list[Amount], at: int) -> bool:
    """Tell whether three numbers in a row leave the choice to the viewer; counting aloud goes on before or after."""
    three, around = found[at : at + 3], (*found[max(0, at - 1) : at], *found[at + 3 : at + 4])
    one, two, last = three
    if any(each.unit or each.form for each in three) or last.first - one.first != 2:
        return False
    if [each.low - one.low for each in three] != [0, 1, 2] or one.low < 4:
        return False
    if any(each.low in (one.low - 1, last.low + 1) and abs(each.first - two.first) < 12 for each in around):
        return False
    return word_at(words, last.last + 1) in _LOOSE


def _restated(words: Sequence[Word], found: list[Amount]) -> Iterator[Amount]:
    """Yield "three minutes, at least three, up to four" as one range: the same figure, then its upper end."""
    at = 0
    while at < len(found):
        amount = found[at]
        wider = _widened(words, amount, found[at + 1]) if at + 1 < len(found) else None
        yield wider or amount
        at += 2 if wider else 1


def _widened(words: Sequence[Word], amount: Amount, after: Amount) -> Amount | None:
    scale = 60 if amount.minutes else 1
    if not amount.unit or after.unit or not after.low * scale == amount.high < after.high * scale:
        return None
    gap = _gap(words, amount, after)
    return replace(amount, last=after.last, high=after.high * scale) if gap is not None and len(gap) <= 3 else None


# ---- taken back at once

_TAKES_BACK = listed("ranges takes back")
# "twelve reps, sorry, ten" and "twelve, sorry, we're doing ten"
_COUNTED = frozenset("reps rep sets set rounds round seconds minutes of each a side".split())
_LEADS_ON = frozenset("it's that's the a we're doing want i to do".split())
_REGRETS = listed("ranges regrets")
_REGRET_BEGINS = frozenset("no sorry nope wait scratch ignore i oh oops hang hold actually well what".split())


def _taken_back(words: Sequence[Word], found: list[Amount]) -> Iterator[Amount]:
    """Yield the amounts, those marked that were taken back; "three by fifteen, scratch that" takes back both."""
    void = {index for index in range(len(found) - 1) if _is_taken_back(words, found[index], found[index + 1])}
    void |= {k - 1 for k in void if k and _texts(words, found[k - 1], found[k]) in (["by"], ["x"])}
    for index, amount in enumerate(found):
        yield replace(amount, void=True) if index in void else amount


def _is_taken_back(words: Sequence[Word], amount: Amount, after: Amount) -> bool:
    """Tell whether what stands between two amounts takes the first back; a noun of the first may come before it."""
    between = _texts(words, amount, after)
    if not between and not amount.unit and amount.low == amount.high == after.low < after.high:
        return True  # "thirty, thirty to forty five seconds"
    if amount.unit and after.unit and amount.unit != after.unit:
        return False
    for skip in range(min(3, len(between))):
        if skip and between[skip - 1] not in _COUNTED:
            return False
        if _takes_back(between[skip:]):
            return True
    return False


_LONGEST_REGRET = 14  # words


def _takes_back(said: Sequence[str]) -> bool:
    """Tell whether words between two figures take the first one back."""
    end = len(said)
    while end and said[end - 1] in _LEADS_ON and " ".join(said[:end]) not in _TAKES_BACK:
        end -= 1
    if " ".join(said[:end]) in _TAKES_BACK:
        return True
    if len(said) > _LONGEST_REGRET or said[0] not in _REGRET_BEGINS:
        return False
    return not _REGRETS.isdisjoint(said) or tuple(said[-2:]) in (("make", "that"), ("make", "it"))
