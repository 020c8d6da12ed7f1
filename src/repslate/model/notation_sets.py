"""What a set is made of beyond plain repetitions: holds, complexes, 21s, myo-reps, what is added behind a plus.

One family of parts of notation.py.
"""

from __future__ import annotations

from repslate.model.measure import Measure, as_time, read_measure, read_whole, whole
from repslate.model.notation_parts import SIDES, read_sum
from repslate.model.prescription import Complex, MyoReps, Prescription, TwentyOnes
from repslate.model.quantity import Range
from repslate.model.tokens import Reader

_ADDED = ("drop", "drops", "partial", "partials")
_MYO = (("myo", "-", "reps"), ("myo", "-", "rep"), ("myo", "reps"), ("myo", "rep"), ("myoreps",), ("myo",))
_EACH_REP = (
    ("on", "each", "rep"), ("on", "every", "rep"), ("each", "rep"), ("every", "rep"), ("per", "rep"), ("a", "rep"),
)  # fmt: skip
_THREE_SEVENS = ("(", "7", "+", "7", "+", "7", ")")


def adds_part(r: Reader) -> bool:
    """Tell whether "+ 2 drops" or "+ 4–6 partials" comes next, of which the plus says nothing of its own."""
    if not (r.sees("+") and r.ahead().is_number):
        return False
    is_range = (r.ahead(2).is_dash or r.ahead(2).word == "to") and r.ahead(3).is_number
    return r.ahead(4 if is_range else 2).word in _ADDED


def hold(r: Reader, measure: Measure) -> Prescription | None:
    """Read on from the seconds that each repetition is held: "hold each", "hold", "per rep"."""
    r.take_any("hold", "holds")
    if not any(r.take_all(*words) for words in _EACH_REP) and r.ahead().word.removesuffix("s") not in SIDES:
        r.take_any("each")
    seconds = as_time(r, measure, bare=1)
    return Prescription(hold=seconds) if seconds else None


def sees_complex(r: Reader) -> bool:
    """Tell whether "(1 + 2" comes next."""
    return r.here.text == "(" and r.ahead().is_number and r.ahead(2).text == "+" and r.ahead(3).is_number


def complex_parts(r: Reader) -> Prescription | None:
    """Read "(1 + 2)": repetitions of each movement in turn."""
    r.take_any("(")
    measure = read_measure(r, "the reps of each movement, such as (1 + 2)")
    parts = measure and read_sum(r, measure)
    if not parts:
        return None
    if not r.take_any(")"):
        r.unexpected("“)”")
        return None
    r.take_any("rep", "reps")
    return Prescription(work=Complex(parts))


def sees_myo(r: Reader) -> bool:
    """Tell whether "myo-reps" comes next."""
    return r.here.word in ("myo", "myoreps") and any(r.sees(*words) for words in _MYO)


def myo_reps(r: Reader) -> Prescription | None:
    """Read "myo-reps 15 + 4 × 5", or the small sets one by one where they are alike: "15 + 5 + 5"."""
    any(r.take_all(*words) for words in _MYO)
    r.take_any(":", "of")
    first = read_whole(r, "reps of the first set, such as myo-reps 15 + 4 × 5")
    if first is None or not r.take_any("+"):
        if first is not None:
            r.unexpected("“+” and the small sets, such as 15 + 4 × 5")
        return None
    minis = read_measure(r, "the number of small sets, such as 4 × 5")
    if minis is None:
        return None
    if r.here.is_times and r.take():
        count, reps = whole(r, minis, "small sets"), read_whole(r, "reps of a small set")
        return Prescription(work=MyoReps(first, count, reps)) if count and reps else None
    return _one_by_one(r, first, minis)


def _one_by_one(r: Reader, first: Range[int], mini: Measure) -> Prescription | None:
    reps = whole(r, mini, "reps")
    count = 1
    while reps and r.sees("+") and r.ahead().is_number and not adds_part(r):
        plus = r.take()
        following = read_whole(r, "reps of a small set")
        if following is None:
            return None
        if following != reps:
            message = f"found “{r.typed((plus, r.last))}”, expected small sets of the same reps"
            r.error("notation-unclear", (plus, r.last), message, "write them as in “myo-reps 15 + 4 × 5”")
            return None
        count += 1
    return Prescription(work=MyoReps(first, Range(count, count), reps)) if reps else None


def twenty_ones(r: Reader, measure: Measure) -> TwentyOnes | None:
    """Read on from "21s", the trade's 21s; None for any other time, "21 s" and "21 sec" too.

    Nobody who means seconds writes just so many without a blank, but the note tells how. "(7 + 7 + 7)" leaves no doubt.
    """
    is_glued = measure.last.end - measure.first.start <= len("21's")
    if measure.first.text != "21" or measure.last.word != "s" or not (is_glued and measure.last.glued):
        return None
    if not r.take_all(*_THREE_SEVENS):
        message = f"“{r.typed(measure.place)}” is read as 21s: 7 repetitions in the lower half, 7 in the upper, 7 whole"
        fix = r.fixed(measure.place, "21s (7 + 7 + 7)", keeps=False, otherwise="write “21s (7 + 7 + 7)”")
        r.note("notation-assumed", measure.place, message, f"{fix}, or “21 sec” if seconds are meant")
    return TwentyOnes()
