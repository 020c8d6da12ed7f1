"""Lists of a typed line: loads and repetitions in turn, repetitions set by set, and movements joined to a complex."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import LIGHTEST, Dose, Found, TypedLoad, exactly, work_fields
from repslate.model.notes.dose import Figures as Count
from repslate.model.notes.lexicon import listed
from repslate.model.notes.loads import massive
from repslate.model.notes.shares import percent_of
from repslate.model.notes.techniques import each_of, whole
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

_MOST_SETS = 12  # more than that behind a pair is no number of sets
_MOST_BOUTS = 40
_LONGEST_BOUT = 4  # words of its name
_FEWEST_LOADS = 59  # figures all above it that slashes join are loads or shares, no repetitions
_MOST_OF_A_SIDE = 30  # "5/5" is of both sides; of more than that, nobody knows


def pairs(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read two or more pairs such as "70x3 75x2 80x1" and "5 x 135, 5 x 155": a load and its repetitions in turn."""
    some, end, step = _pairs(typed, at)
    if len(some) < 2:
        return None
    following = typed.number(step)
    if given.complex or (following and not typed.unit(following[1])[0]):
        stop = following[1] if following else end
        return Found(stop, {"words": [typed.typed(at, stop)]})
    if all(second.low > 2 * LIGHTEST and second.is_single and first.high <= LIGHTEST for first, second, _ in some):
        some = [(second, first, sets) for first, second, sets in some]
    elif not all(first.low > LIGHTEST - 1 and second.high <= LIGHTEST for first, second, _ in some):
        return None
    parts = [Dose(sets=sets, reps=(reps.figures,), load=TypedLoad("mass", load.figures)) for load, reps, sets in some]
    return Found(end, {"parts": parts})


def _pairs(typed: Typed, at: int) -> tuple[list[tuple[Amount, Amount, Count]], int, int]:
    """Return the pairs, the piece behind them, and the one behind the sign that follows; none where one is no pair."""
    some: list[tuple[Amount, Amount, Count]] = []
    step = end = at
    while True:
        first = typed.amount(step)
        if not first or first.unit or not first.is_single:
            break
        if not typed[first.end].is_times and not (typed.is_mark(first.end, "/") and typed[first.end].glued):
            break
        second = typed.amount(first.end + 1)
        sets, end = _sets_behind(typed, second.end) if second and some else (exactly(1), second.end if second else end)
        if not second or second.unit or typed[end].is_times or typed[end].text in ("/", "%"):
            return [], end, step
        some.append((first, second, sets))
        step = end + (typed[end].text in (",", ";", "/"))
    return some, end, step


def at_pairs(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "12 @ 40, 10 @ 45, 8 @ 50 kg" and "5 @ 65 %, 5 @ 75 %, 5+ @ 85 %": repetitions and a load in turn."""
    parts: list[Dose] = []
    step = end = at
    while found := _share_and_reps(typed, step) or _reps_at(typed, step):
        part, end = found
        parts.append(part)
        step = end + typed.is_mark(end, ",;/")
    if len(parts) < 2:
        return None
    units = {part.load.kind for part in parts if part.load} - {"mass"}
    for part in parts:
        if part.load and len(units) == 1:
            part.load = TypedLoad(next(iter(units)), part.load.value)
    return Found(end, {"parts": parts})


def _share_and_reps(typed: Typed, at: int) -> tuple[Dose, int] | None:
    """Read one "75 %/2"."""
    share = typed.amount(at)
    if not share or share.unit != "percent" or not typed.is_mark(share.end, "/"):
        return None
    reps = typed.amount(share.end + 1)
    if not reps or reps.unit or reps.high > LIGHTEST:
        return None
    sets, end = _sets_behind(typed, reps.end)
    return Dose(sets=sets, reps=(reps.figures,), load=TypedLoad("percent_1rm", share.figures)), end


def _sets_behind(typed: Typed, at: int) -> tuple[Count, int]:
    """Read "x3" behind a pair as its sets; one set, and `at`, where none stands there."""
    sets = typed.amount(at + 1) if typed[at].is_times else None
    if sets and sets.unit in ("", "set") and sets.is_single and sets.high <= _MOST_SETS:
        return sets.figures, sets.end
    return exactly(1), at


def _reps_at(typed: Typed, at: int) -> tuple[Dose, int] | None:
    """Read one "5 @ 65 %"."""
    reps = typed.amount(at)
    if not reps or reps.unit not in ("", "rep") or not typed.is_mark(reps.end, "@"):
        return None
    load = typed.amount(reps.end + 1)
    known = massive(load, bare=True) if load else None
    if load is None or known is None:
        return None
    end = load.end
    if known.kind == "percent_1rm":
        known, end = percent_of(typed, end, known)
    sets, end = _sets_behind(typed, end)
    return Dose(sets=sets, reps=(reps.figures,), load=known, open_last=reps.is_open), end


def listed_sets(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "12/10/8 reps", "5/5/5+", "12, 10, 8 reps", "1+1+1" where no "×" joins them."""
    found = typed.figures(at, "/") or _comma_list(typed, at, given)
    if found and found.unit == "" and min(found.values) > _FEWEST_LOADS:
        return None  # "80/85/90, 82/87/92 %"
    if found and found.unit in ("", "rep") and len(found.ranges) >= 3:
        end = typed.sees(found.end, "rep") or found.end
        return None if given.reps else Found(end, {**each_of(found), "adds": True})
    return None if given.reps else _complex_or_sides(typed, at)


def _complex_or_sides(typed: Typed, at: int) -> Found | None:
    found = typed.figures(at, "+") or dotted(typed, at)
    if found and found.unit == "":
        return Found(typed.sees(found.end, "rep") or found.end, {"complex": whole(found), "adds": True})
    equal = typed.figures(at, "/")
    if not equal or len(equal.ranges) != 2 or equal.values[0] != equal.values[1] or equal.unit not in ("", "rep"):
        return None
    if typed.sees(equal.end, "bodyweight") or equal.values[0] > _MOST_OF_A_SIDE:
        return None
    return Found(equal.end, {"reps": equal.ranges[:1], "per_side": True})


def _comma_list(typed: Typed, at: int, given: Dose) -> Figures | None:
    """Read a list with commas, which says what it counts, or has as many figures as there are sets."""
    found = typed.figures(at, ",")
    if found is None:
        return None
    is_named = found.unit == "rep" or typed.sees(found.end, "rep")
    is_counted = given.sets and given.sets.low == len(found.ranges)
    return found if is_named or is_counted or _is_set_by_set(typed, at, found) else None


def _is_set_by_set(typed: Typed, at: int, found: Figures) -> bool:
    """Tell whether bare figures with commas behind a name are of set after set: "Hack squat 12, 10, 8"."""
    values = found.values
    is_numbering = values == tuple(range(1, len(values) + 1))
    is_whole = all(value == int(value) for value in values) and max(values) <= _MOST_OF_A_SIDE
    is_behind = at > 0 and (typed[at - 1].kind is Kind.WORD or typed[at - 1].text in (":", "-", "–", "—"))
    is_closed = typed[found.end].kind is not Kind.WORD and typed[found.end].text not in ("/", "%", "×", "*")
    return len(values) > 2 and is_whole and is_behind and is_closed and not is_numbering and not found.unit


def dotted(typed: Typed, at: int) -> Figures | None:
    """Read "1.1.1" as figures joined by points."""
    first, second = typed[at], typed[at + 2]
    if first.kind is not Kind.FIGURE or "." not in first.text or not typed.is_mark(at + 1, "."):
        return None
    if not second.glued or second.kind is not Kind.FIGURE or not second.text.replace(".", "").isdigit():
        return None
    figures = [Decimal(one) for token in (first, second) for one in token.text.split(".")]
    return Figures(tuple(Range(one, one) for one in figures), "+", "", at, at + 3)


# ---- bouts


def bouts(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "4 strides of 20 s" and "10 subidas de 150 m": so many sets of a length or time, the words are the name."""
    number = typed.number(at) if at == 0 else None
    if number is None or number[2] or number[0] > _MOST_BOUTS:
        return None
    step = begin = number[1]
    while typed[step].kind is Kind.WORD and step - begin < _LONGEST_BOUT and not _joins_length(typed, step):
        if typed[step].is_times or typed.unit(step)[0] not in ("", "step"):
            return None
        step += 1
    work = typed.amount(step + 1) if step > begin and _joins_length(typed, step) else None
    fields = work_fields(work) if work else None
    if work is None or fields is None:
        return None
    return Found(work.end, {"name": typed.typed(begin, step), "sets": exactly(number[0]), **fields})


def _joins_length(typed: Typed, at: int) -> bool:
    work = typed.amount(at + 1) if typed[at].word in listed("joins a length") else None
    return work is not None and work.unit in ("s", "m", "cal")


# ---- movements


@dataclass(slots=True)
class _Joined:
    """The movements of a complex while they are gathered."""

    names: list[str] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    counted: int = 0
    commas: int = 0


def joined_movements(typed: Typed) -> Found | None:
    """Read "3 hang cleans + 1 split jerk", "Hang snatch + 3 overhead squats", "1 snatch, 1 hang snatch, and a jerk"."""
    joined = _Joined()
    step = 0
    while step < typed.end:
        end = _movement(typed, step, joined)
        if not end:
            break
        step = end
        sign = _behind_signs(typed, step)
        if sign == step or not _goes_on(typed, step, sign):
            break
        joined.commas += typed[step].text != "+"
        step = sign
    is_sure = joined.counted and (not joined.commas or joined.counted >= len(joined.names) - 1)
    if len(joined.names) < 2 or not is_sure or (typed.number(0) is None and joined.commas):
        return None
    return Found(step, {"name": " + ".join(joined.names), "complex": tuple(joined.counts)})


def _movement(typed: Typed, at: int, joined: _Joined) -> int:
    """Take one movement with its count, and return the piece behind it; 0 where none stands there."""
    number = typed.number(at)
    if number and number[2]:
        number = None
    begin = number[1] if number else at + (typed[at].word in ("a", "an") and bool(joined.names))
    if (number and typed.unit(begin)[0]) or typed.sees(begin, "max"):
        return 0
    end = begin
    while typed[end].kind is Kind.WORD or typed[end].text in ("-", "&"):
        if typed[end].word in ("and", "at", "then") or typed[end].is_times:
            break
        end += 1
    if end == begin or (typed[begin].glued and begin > at):
        return 0
    joined.names.append(typed.typed(begin, end))
    joined.counts.append(int(number[0]) if number else 1)
    joined.counted += number is not None
    return end


def _behind_signs(typed: Typed, at: int) -> int:
    while typed[at].text in ("+", ",") or typed[at].word in ("and", "then"):
        at += 1
    return at


def _goes_on(typed: Typed, at: int, behind: int) -> bool:
    """Tell whether another movement stands behind the signs at `at`, no amount and no sets."""
    following = typed.number(behind)
    if following and (typed.unit(following[1])[0] or typed[following[1]].is_times):
        return False
    return typed[at].text == "+" or bool(following) or typed[behind].word in ("a", "an")
