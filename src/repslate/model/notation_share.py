"""The loads that are shares: of a maximum, of the top set, of the body, of another lift. One family of parts."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.measure import LARGEST, Measure, Unit, read_measure, whole
from repslate.model.notation_words import take_words
from repslate.model.prescription import (
    BodyweightShare,
    Load,
    OneRepMaxShare,
    RepMaxShare,
    TopSetShare,
    TrainingMaxShare,
    WordedShare,
    WorkingShare,
)
from repslate.model.quantity import Range, write_range
from repslate.model.tokens import Kind, Place, Reader
from repslate.source.near import nearest

BODY = (("bodyweight",), ("bw",), ("body", "weight"), ("body", "-", "weight"))
_ONE_REP_MAX = (
    ("1", "rm"), ("1", "-", "rm"), ("rm",), ("1", "rep", "max"), ("1", "-", "rep", "max"), ("one", "rep", "max"),
    ("one", "-", "rep", "max"), ("max",),
)  # fmt: skip
_TRAINING_MAX = (
    ("tm",), ("training", "max"), ("training", "maximum"), ("training", "-", "max"), ("training", "-", "maximum"),
)  # fmt: skip
#: How the note ends on a share that names no whole.
SHARE_ASSUMED = "is read as a share of the one-repetition maximum"
_WORKING = (("working", "load"), ("working", "weight"))
_TOP_SET = (("top", "set"), ("top", "-", "set"), ("topset",))
_LESS = (("less",), ("lighter",), ("lower",), ("off",), ("down",))
_NAMES = ("working", "training", "bodyweight", "maximum", "top")  # of which a word may be a slip
_HUNDRED = Decimal(100)


def share(r: Reader, measure: Measure) -> Load | None:
    """Read on from a figure in per cent: what it is a share of; None after a finding."""
    percent = measure.decimals()
    names_whole = r.take_any("of")
    r.take_any("the", "your")
    if any(r.take_all(*words) for words in _ONE_REP_MAX):
        return OneRepMaxShare(percent)
    if load := _of_known(r, percent):
        return load
    if not names_whole and any(r.take_all(*words) for words in _LESS):
        named = _than_top(r)
        return _noted(r, (measure.first, r.last), _less(r, measure), named=named)
    if names_whole:
        return _of_words(r, percent)
    typed = r.typed(measure.place)
    message = f"{write_range(percent, '%')} {SHARE_ASSUMED}"
    r.note("notation-assumed", measure.place, message, r.fixed(measure.place, f"{typed} 1RM"))
    return OneRepMaxShare(percent, named=False)


def _of_known(r: Reader, percent: Range[Decimal]) -> Load | None:
    for wholes, kind in (
        (_WORKING, WorkingShare), (_TRAINING_MAX, TrainingMaxShare), (_TOP_SET, TopSetShare), (BODY, BodyweightShare),
    ):  # fmt: skip
        if any(r.take_all(*words) for words in wholes):
            return kind(percent)
    is_range = r.ahead().is_dash and r.ahead(2).is_number
    if not (r.here.is_number and r.ahead(3 if is_range else 1).word == "rm"):
        return None
    measure = read_measure(r)
    return rep_max(r, measure, percent) if measure else None


def _of_words(r: Reader, percent: Range[Decimal]) -> WordedShare | None:
    slip = nearest(r.here.word, _NAMES) if r.here.kind is Kind.WORD else None
    of = "" if slip else take_words(r)
    if of:
        return WordedShare(percent, of)
    r.unexpected("“1RM”, “TM”, “working load” or what else it is a share of")
    return None


def rep_max(r: Reader, measure: Measure, percent: Range[Decimal] | None = None) -> Load | None:
    """Read on from the figure of "8RM"; a share of 1RM is one of the one-repetition maximum."""
    r.take_any("rm")
    reps = whole(r, measure, "reps")
    percent = percent or Range(_HUNDRED, _HUNDRED)
    if reps is None:
        return None
    if reps.low < 1 or (reps.low == 1 and reps.high > 1):
        message = f"found “{r.typed((measure.first, r.last))}”, expected the repetitions of one maximum, such as 8RM"
        r.error("notation-figure", (measure.first, r.last), message, "write the load as in “@ 8RM” or “@ 90 % 1RM”")
        return None
    return OneRepMaxShare(percent) if reps.high == 1 else RepMaxShare(reps, percent)


def body_share(r: Reader, measure: Measure) -> BodyweightShare | None:
    """Read on from the figure of "1.5 × bodyweight"."""
    if r.here.is_times:
        r.take()
    any(r.take_all(*words) for words in BODY)
    if measure.high * 100 <= LARGEST:
        return BodyweightShare(Range(measure.low * 100, measure.high * 100))
    message = f"found “{r.typed(measure.place)}” times the body's weight, expected less than 10,000"
    r.error("notation-figure", measure.place, message, "write it as in “@ 1.5 × bodyweight”")
    return None


def sees_less(r: Reader) -> bool:
    """Tell whether "−12 %" or "top set − 12 %" comes next."""
    steps = 0
    if r.here.word in ("top", "topset"):
        steps = next((len(words) for words in _TOP_SET if r.sees(*words)), 0)
    if not (r.ahead(steps).is_dash and r.ahead(steps + 1).is_number):
        return False
    is_range = r.ahead(steps + 2).is_dash and r.ahead(steps + 3).is_number
    return r.ahead(steps + (4 if is_range else 2)).word in ("%", "percent", "per")


def less_than_top(r: Reader) -> TopSetShare | None:
    """Read "−12 %", with a note where nothing says of what."""
    named = any(r.take_all(*words) for words in _TOP_SET)
    minus = r.take()
    measure = read_measure(r)
    if measure is None or measure.unit is not Unit.PERCENT:
        return None
    named |= _than_top(r)
    return _noted(r, (minus, measure.last), _less(r, measure), named=named)


def _noted(r: Reader, place: Place, load: TopSetShare | None, *, named: bool) -> TopSetShare | None:
    """Add a note where nothing says what a load is less than."""
    if load and not named:
        message = f"“{r.typed(place)}” is read as so much less than the top set"
        shown = f"@ {write_range(load.percent, '%')} of the top set"
        r.note("notation-assumed", place, message, f"name what it is less than, as in “{shown}”")
    return load


def _than_top(r: Reader) -> bool:
    """Read "than the top set", "from the top set" and the like; tell whether it stood there."""
    steps = 1 if r.here.word in ("than", "from", "off", "of") else 0
    steps += r.ahead(steps).word in ("the", "your")
    words = next((one for one in _TOP_SET if all(r.ahead(steps + at).word == w for at, w in enumerate(one))), None)
    for _ in range(steps + len(words) if words else 0):
        r.take()
    return words is not None


def _less(r: Reader, measure: Measure) -> TopSetShare | None:
    if measure.high < _HUNDRED:
        return TopSetShare(Range(_HUNDRED - measure.high, _HUNDRED - measure.low))
    message = f"found “{r.typed(measure.place)}” less, expected less than 100 %"
    r.error("notation-figure", measure.place, message, "write the share that is left, as in “@ 90 % of the top set”")
    return None
