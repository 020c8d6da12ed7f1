"""The loads of a prescription line: kilograms, pounds, bodyweight, band, words. One family of parts of notation.py."""

from __future__ import annotations

from dataclasses import replace

from repslate.model.measure import Measure, Unit, read_measure, single
from repslate.model.notation_share import BODY, body_share, less_than_top, rep_max, sees_less, share
from repslate.model.notation_words import take_words
from repslate.model.prescription import Band, Bodyweight, EmptyBar, Load, TwoLevels, Weight, WordedLoad
from repslate.model.quantity import NUMBER_WORDS, Mass, MassUnit
from repslate.model.tokens import Kind, Reader
from repslate.source.near import nearest

MASS_UNITS: dict[Unit | None, MassUnit] = {Unit.KILOGRAMS: "kg", Unit.POUNDS: "lb"}
_BAND = (("band",), ("bands",), ("resistance", "band"), ("resistance", "bands"), ("a", "band"))
_BARS = tuple(
    words
    for bar in ("bar", "barbell")
    for words in (
        ("the", "empty", bar), ("the", bar), ("an", "empty", bar), ("empty", bar), (bar, "only"), (bar, "alone"),
        ("just", "the", bar), ("just", "the", "empty", bar),
    )
)  # fmt: skip
_FIRST = frozenset(words[0] for words in (*_BAND, *_BARS, *BODY))
_MASS_WORDS = ("kg", "kgs", "kilo", "kilos", "lb", "lbs", "pound", "pounds", "#")
_NAMES = ("bodyweight", "band", "bands", "barbell", "empty", "working", "weight")  # of which a word may be a slip
_OTHER_PARTS = ("body", "max", "amrap", "failure", "to", "until", "till")  # what they end is the set, not the load


def read_load(r: Reader) -> Load | None:
    """Read what stands behind "@"; None after a finding."""
    begin = r.last
    if load := _in_fixed_words(r):
        return load
    if any(r.take_all(*words) for words in BODY):
        return _bodyweight(r)
    if sees_less(r):
        return less_than_top(r)
    expected = "a load such as 24 kg, 75 % 1RM, bodyweight or band"
    if r.here.kind is Kind.WORD and r.here.word not in NUMBER_WORDS:
        is_named = begin.text in ("@", ":", "=") or begin.word in ("load", "weight")
        words = _in_words(r) if is_named else None
        if words is None:
            _refuse_words(r, expected)
        return words
    measure = read_measure(r, expected)
    return measured_load(r, measure) if measure else None


def _refuse_words(r: Reader, expected: str) -> None:
    usual = "write a load as in “@ 24 kg”, an effort as in “RPE 7”, or take the word out"
    r.unexpected(expected, r.beside((r.last, r.end_of_part()), usual))


def _in_fixed_words(r: Reader) -> Load | None:
    """Read a band, whatever it is called, or the empty bar."""
    if any(r.take_all(*words) for words in _BAND):
        return Band()
    if any(r.take_all(*words) for words in _BARS):
        return EmptyBar()
    count = _words_before_band(r)
    if not count:
        return None
    first = r.here
    for _ in range(count):
        last = r.take()
    r.take()
    return Band(r.typed((first, last)).lower())


def _words_before_band(r: Reader) -> int:
    """Return how many words stand before "band", which say what kind it is: "light resistance band"."""
    for count in (1, 2):
        words = [r.ahead(step) for step in range(count)]
        is_kind = all(one.kind is Kind.WORD and one.word not in ("with", "and", "a", "the", "x") for one in words)
        if is_kind and r.ahead(count).word in ("band", "bands"):
            return count
    return 0


def _in_words(r: Reader) -> WordedLoad | None:
    """Read "as heavy as possible"; None where the words may be a slip, another part, or the beginning of a figure."""
    if r.here.word in _OTHER_PARTS or r.sees("as", "many") or nearest(r.here.word, _NAMES):
        return None
    words = take_words(r)
    return WordedLoad(words) if words else None


def sees_load(r: Reader) -> bool:
    """Tell whether a load that needs no "@" comes next, one that begins with a word or a minus."""
    if r.here.kind is not Kind.WORD:
        return r.here.is_dash and sees_less(r)
    is_known = r.here.word in _FIRST and any(r.sees(*words) for words in (*_BAND, *_BARS, *BODY))
    return is_known or sees_less(r) or bool(_words_before_band(r))


def measured_load(r: Reader, measure: Measure) -> Load | None:
    """Read on from a figure: a share names what it is a share of; None after a finding."""
    if measure.unit is Unit.PERCENT:
        return share(r, measure)
    if measure.unit is None and r.here.word == "rm":
        return rep_max(r, measure)
    if measure.unit is None and sees_bodies(r):
        return body_share(r, measure)
    if measure.unit is None and r.here.is_times:
        r.take()
        return _pieces(r, measure)
    return _levels_or_weight(r, measure)


def sees_bodies(r: Reader) -> bool:
    """Tell whether "bodyweight" or "× bodyweight" comes next, of which the figure before it is a share."""
    step = 1 if r.here.is_times else 0
    return any(all(r.ahead(step + at).word == word for at, word in enumerate(words)) for words in BODY)


def _levels_or_weight(r: Reader, measure: Measure) -> Weight | TwoLevels | None:
    """Read a weight, or "24/16 kg": a load for each of two levels."""
    is_single = measure.low == measure.high and measure.unit in (None, *MASS_UNITS)
    if not (is_single and sees_levels(r)):
        return weight(r, measure)
    r.take()
    other = read_measure(r)
    second = other and weight(r, other)
    if not isinstance(second, Weight) or second.mass.amount.low != second.mass.amount.high:
        if second:
            message = f"found “{r.typed((measure.first, r.last))}”, expected one load for each of two levels"
            r.error("notation-unclear", (measure.first, r.last), message, "write them as in “@ 24/16 kg”")
        return None
    return TwoLevels(measure.low, second.mass.amount.low, second.mass.unit)


def sees_levels(r: Reader) -> bool:
    """Tell whether "/16 kg" comes next, the second of two loads, with no third behind it."""
    unit = r.ahead(2).word
    is_second = r.here.text == "/" and r.ahead().is_number
    return (
        is_second
        and unit in ("kg", "kgs", "kilo", "kilos", "lb", "lbs", "pound", "pounds", "#")
        and r.ahead(3).text != "/"
    )


def weight(r: Reader, measure: Measure, *, is_whole: bool = True) -> Weight | None:
    """Return a measure in kg or lb as a load, or as a piece of one, which is no share; None after a finding."""
    unit = MASS_UNITS.get(measure.unit)
    if unit:
        return Weight(Mass(measure.decimals(), unit))
    fix, typed = "write a load as in “@ 24 kg”", r.typed(measure.place)
    if measure.unit is None and r.here.text == "/":
        fix = (
            "write two levels as in “@ 24/16 kg”, the loads of all sets as one range, such as “@ 60–80 % 1RM”, or each "
            "set as an exercise of its own"
        )
    elif measure.unit is None and r.here.kind is Kind.WORD and _has_figure(r):  # "2 kettlebells of 24 kg"
        fix = "write several pieces as in “@ 2 × 24 kg”"
    elif measure.unit is None:
        is_behind_at = r.text[: measure.place[0].start].rstrip().endswith("@")  # "Load: 3" is a load and no effort
        is_effort = measure.high <= 10 and is_behind_at
        others = f"{typed} lb, {typed} % 1RM or RPE {typed}" if is_effort else f"{typed} lb or {typed} % 1RM"
        others = others if is_whole else f"{typed} lb"
        fix = r.fixed(measure.place, f"{typed} kg") + f", or {others} if that is meant"
    r.error("notation-unit", measure.place, f"found “{typed}”, expected a load in kg, lb or %", fix)
    return None


def _pieces(r: Reader, count: Measure) -> Weight | TwoLevels | None:
    pieces = single(r, count, "pieces")
    measure = read_measure(r, "the load of one piece, such as 24 kg")
    if measure is None:
        return None
    each = _levels_or_weight(r, measure) if r.here.text == "/" else weight(r, measure, is_whole=False)
    return replace(each, pieces=pieces) if each and pieces is not None else None


def _has_figure(r: Reader) -> bool:
    """Tell whether a figure stands in the next three words of this part."""
    words = [r.ahead(step) for step in range(4)]
    ends = next((step for step, token in enumerate(words) if token.word in (",", ";", "·", "rest", "tempo")), 4)
    return any(token.is_number for token in words[:ends])


def _bodyweight(r: Reader) -> Bodyweight | None:
    if not r.take_any("+", "plus"):
        return Bodyweight()
    measure = read_measure(r, "the added load, such as 10 kg")
    added = measure and weight(r, measure, is_whole=False)
    return Bodyweight(added.mass) if added else None
