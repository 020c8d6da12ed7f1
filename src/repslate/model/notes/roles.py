"""The parts of a typed exercise by their names, and what is said of all of it: top sets, back-offs, heavy doubles."""

from __future__ import annotations

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import LONGEST_HOLD, ONE, Dose, Fields, Figures, Found, TypedLoad, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.tokens import Kind

_ROLES = (("topset", "top"), ("backoff", "back-off"), ("warmupset", "warm-up"), ("rampset", "ramp"),
          ("worksets", "work"))  # fmt: skip
_COUNTS = {"s": 1, "d": 2, "t": 3}  # singles, doubles, triples


def part_name(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "top set", "back-offs" or "WU" in front of the figures of a part."""
    for meaning, role in _ROLES:
        if (end := typed.sees(at, meaning)) and (found := _named(typed, at, end, role, given)):
            return found
    return None


def _named(typed: Typed, at: int, end: int, role: str, given: Dose) -> Found | None:
    if not _is_role(typed, at, end, role, given):
        return None
    step = typed.sees(end, "set") or end
    step += typed[step].text in (":", "-", "–", "=", ",")
    if role == "top" and (single := typed.sees(step, "singles")):
        return Found(single, {"part": True, "role": role, "sets": ONE, "reps": (counted(typed[step].word),)})
    amount = typed.amount(step)
    if not amount and not typed.is_mark(step, "@") and not typed.sees(step, "emptybar"):
        return None
    fields: Fields = {"part": True, "role": role}
    if role == "top" and not (amount and typed[amount.end].is_times):
        fields["sets"] = ONE
    return Found(step, fields)


def _is_role(typed: Typed, at: int, end: int, role: str, given: Dose) -> bool:
    """Tell whether the name of a part is one here: "work" before a colon only, no warm-up behind a bare name."""
    if role in ("warm-up", "ramp"):
        is_first = typed[at - 1].text in (":", "-", "–") and typed.amount(end) is not None  # "Squat: w/u 20x10"
        return not at or given.has_work or typed[end].text == ":" or is_first
    if role == "top":
        return typed[at - 1].word not in ("the", "at", "of")
    return role != "work" or ((at == 0 or given.has_work) and typed[end].text == ":")


def one_set(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "single @ RPE 8" and "double @ 80 kg": one set of one, of two, of three."""
    end = typed.sees(at, "singles")
    if not end or typed[end - 1].word.endswith("s") or typed[at - 1].is_number:
        return None
    if not typed.is_mark(end, "@") and not typed.sees(end, "rpe"):
        return None
    fields: Fields = {"sets": ONE, "reps": (counted(typed[at].word),)}
    return Found(end, {"part": True, **fields} if given.has_work else fields, may_begin=True)


def heavy_singles(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "4-6 heavy doubles": so many sets of two."""
    amount = typed.amount(at)
    if not amount or amount.unit:
        return None
    heavy = typed.sees(amount.end, "heavy")
    end = typed.sees(heavy or amount.end, "singles")
    if not end or not typed[end - 1].word.endswith("s") or typed[end].kind is Kind.WORD:
        return None
    fields: Fields = {"sets": amount.figures, "reps": (counted(typed[end - 1].word),)}
    if heavy:
        fields["load"] = TypedLoad("words", words=typed.typed(amount.end, heavy))
    return Found(end, fields)


def counted(word: str) -> Figures:
    """Return the repetitions of a "single", "double" or "triple"."""
    return exactly(_COUNTS[word[0]])


def repeat(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "repeat 3 times" behind a hold: so many of it; and a way of doing it that names no figure."""
    if found := _repeated(typed, at, given):
        return found
    if end := typed.sees(at, "manner"):
        return Found(end, {"words": [typed.typed(at, end)]}) if at else None
    amount = typed.amount(at + (typed[at].text == "/"))
    if amount and amount.unit == "s":
        end = typed.sees(amount.end, "relax")
    else:
        end = typed.sees(amount.end, "between") if amount and amount.unit == "breath" and given.has_work else 0
    if end:
        return Found(end, {"words": [typed.typed(at, end)]})
    end = typed.sees(at, "tm") if given.load else 0
    return Found(end, {"tm": True}) if end else None


def _repeated(typed: Typed, at: int, given: Dose) -> Found | None:
    if typed[at].word not in listed("again") or not (given.seconds or given.breaths or given.hold) or given.reps:
        return None
    amount = typed.amount(at + 1 + (typed[at + 1].word in ("for", "this")))
    if amount is None or amount.unit != "rep":
        return None
    fields: Fields = {"reps": (amount.figures,), "adds": True}
    if given.seconds and given.hold is None and given.seconds.high <= 3 * LONGEST_HOLD:
        fields["is_hold"] = True
    return Found(amount.end, fields)
