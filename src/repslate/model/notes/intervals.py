"""Work and rest by the clock: "40 s on / 20 s off", "20/10 x 8", "30 seconds of effort then 15 seconds of rest"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import Figures, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.tokens import Kind

_BEFORE_REST = frozenset({"/", ",", ":", "+", "-", "–", "|", "×"})
_BEFORE_COUNT = frozenset({",", "(", "–", "-", "×", "*"})
_SHORTEST = 10  # seconds of equal work and rest without a unit: "8/8" is of both sides


@dataclass(frozen=True, slots=True)
class WorkAndRest:
    """Work and rest in seconds, with the piece behind both; `count` stands in front of them, `times` behind.

    `rest` is None where only the work is told: "30 s on intervals". `is_named`: "on" stands behind the work.
    """

    work: Figures
    rest: Figures | None
    count: Figures | None
    times: Figures | None
    is_named: bool
    end: int


def work_and_rest(typed: Typed, at: int) -> WorkAndRest | None:
    """Read work and rest with how often they are done, in front or behind; None for anything else."""
    first, count = typed.amount(at), None
    if first and not first.unit and typed[first.end].is_times:
        count, first = first.figures, typed.amount(first.end + 1)
    if first is None or first.unit not in ("", "s"):
        return None
    on = typed.sees(first.end, "on")
    second = _off(typed, on or first.end)
    if second is None or (on and not first.unit and not _is_in_seconds(first, *second)):
        is_told = on and first.unit and typed.sees(first.end, "intervals")
        return WorkAndRest(first.figures, None, count, None, True, on) if is_told else None
    rest, behind, says_off = second
    is_bare = first.unit == "" and not on and typed[first.end].text in ("/", ":")
    is_sure = bool(on) and first.unit == ""
    if not is_sure and not _is_pair(typed, first, rest, is_bare=is_bare, is_called=says_off or bool(on)):
        return None
    return _counted(typed, WorkAndRest(first.figures, rest.figures, count, None, bool(on), behind), is_bare=is_bare)


def _counted(typed: Typed, found: WorkAndRest, *, is_bare: bool) -> WorkAndRest | None:
    """Read on behind work and rest: how many times; bare figures are none without it."""
    counted = _count(typed, found.end)
    if is_bare and not (found.count or counted):
        return None
    if found.count or counted is None:
        return replace(found, is_named=found.is_named and found.count is None)
    return replace(found, times=counted.figures, end=typed.sees(counted.end, "round", "set") or counted.end)


def clocked(typed: Typed, at: int) -> tuple[Figures, Figures] | None:
    """Read "40:20" as seconds of work and of rest; None where it may be a time."""
    first, colon, second = typed[at].text.partition(":")
    if typed[at].kind is not Kind.CLOCK or not colon or len(first) != 2 or len(second) != 2:
        return None
    work, rest = int(first), int(second)
    if not _SHORTEST <= rest <= work or work % 5 or rest % 5:
        return None
    return exactly(work), exactly(rest)


def _is_in_seconds(work: Amount, rest: Amount, _end: int, says_off: bool) -> bool:
    """Tell whether "40 on / 20 off" is of seconds, which nobody wrote: both are called, and neither is short."""
    return says_off and work.is_single and min(work.low, rest.low) >= _SHORTEST


def _is_pair(typed: Typed, work: Amount, rest: Amount, *, is_bare: bool, is_called: bool) -> bool:
    """Tell whether two amounts are of work and rest: called so, joined by a slash, or both in seconds."""
    if work.unit == "" and (not is_bare or (work.figures == rest.figures and rest.high < _SHORTEST)):
        return False
    is_crossed = typed[work.end].is_times and rest.unit == "s"  # 40" x 20"
    is_joined = work.unit == "s" and (typed.is_mark(work.end, "/×") or is_crossed)
    return is_called or is_joined or (is_bare and work.is_single)


def _off(typed: Typed, at: int) -> tuple[Amount, int, bool] | None:
    """Return the rest behind the work, the piece behind it, and whether it is called one."""
    while typed[at].text in _BEFORE_REST or typed[at].word in listed("then a rest") or typed[at].is_times:
        at += 1
    word = typed.sees(at, "off")
    amount = typed.amount(word or at)
    if amount is None or amount.unit not in ("s", ""):
        return None
    end = 0 if word else typed.sees(amount.end, "off")
    return amount, end or amount.end, bool(word or end)


def _count(typed: Typed, at: int) -> Amount | None:
    """Read "x 8", ", repeated 5 times", "for six rounds"."""
    while typed[at].text in _BEFORE_COUNT or typed[at].word in listed("then a count"):
        at += 1
    amount = typed.amount(at)
    is_count = amount and (amount.unit in ("round", "set", "rep") or (not amount.unit and typed[at - 1].is_times))
    return amount if is_count else None
