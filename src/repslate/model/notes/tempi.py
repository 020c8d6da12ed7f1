"""The tempo of a typed line, in signs and in words: "3-0-X-1", "4010", "3 s down, 1 s pause, up fast"."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import Dose, Found
from repslate.model.quantity import Range
from repslate.model.tokens import Kind


def tempo(typed: Typed, at: int, given: Dose) -> Found | None:
    begin = at
    named = typed.sees(at, "tempo")
    if named:
        at = named + typed.is_mark(named, ":")
    if typed.is_mark(at, "@"):
        at += 1
    phases, end = _phases(typed, at)
    if not phases:
        return _tempo_in_words(typed, begin, given)
    behind = typed.sees(end, "tempo")
    has_x = "X" in phases
    if has_x and end - at > 1 and typed[at + 1].text == "x" and (typed[end].is_number or not given.has_work):
        return None  # "60x2 65x2" are loads and repetitions
    is_sure = bool(named or behind or has_x or len(phases) == 4)
    if not is_sure and not (given.has_work and given.sets is not None):
        return None
    if typed.unit(end)[0] or typed[end].is_times or (typed[end].is_dash and typed[end].glued):
        return None
    compact = end - at == 1 and not has_x
    if compact and not (named or behind or given.reps or typed.is_mark(at - 1, "@")):
        return None
    return Found(behind or end, {"tempo": phases})


def _phases(typed: Typed, at: int) -> tuple[tuple[str, ...], int]:
    """Return the phases of a tempo in signs: "3-0-X-1", "3010", "31X0", "3/1/1"."""
    token = typed[at]
    if token.kind is Kind.FIGURE and len(token.text) == 4 and token.text.isdigit() and max(token.text) <= "8":
        if not (typed[at + 1].glued and typed[at + 1].kind is Kind.WORD and not typed[at + 1].is_times):
            return tuple(token.text), at + 1
    text, step = "", at
    while step < typed.end and len(text) < 5 and (step == at or typed[step].glued):
        if not (typed[step].text.isdigit() or typed[step].word == "x"):
            break
        text += typed[step].text.upper()
        step += 1
    if len(text) == 4 and text.count("X") == 1 and "X" in (text[0], text[2]) and max(text.replace("X", "")) <= "8":
        return tuple(text), step
    phases: list[str] = []
    step = at
    while typed[step].word == "x" or (typed[step].text.isdigit() and len(typed[step].text) <= 2):
        phases.append(typed[step].text.upper())
        step += 1
        if not typed[step].is_dash or len(phases) == 4:
            break
        step += 1
    is_long = any(phase != "X" and int(phase) > 10 for phase in phases)
    if len(phases) in (3, 4) and not is_long and not typed[step - 1].is_dash:
        return tuple(phases), step
    return (), at


def _tempo_in_words(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 s down", "1 s pause at the bottom", "2 s squeeze at the top", "up fast", phase by phase."""
    phases = list(given.tempo or ("?",) * 4)
    step, end, told = at, 0, 0
    while step < typed.end:
        found = _phase(typed, step)
        if not found:
            break
        place, value, end = found
        if phases[place] not in ("?", value):
            return None
        phases[place] = value
        told += 1
        step = end
        while typed[step].text in (",", "/", "•", "-", "–", "*", ";") or typed[step].word == "and":
            step += 1
    if not end:
        return None
    if told == 1 and (phases[1] != "?" or phases[3] != "?") and not given.tempo:  # a pause alone is a hold in each
        held = Decimal(phases[1] if phases[1] != "?" else phases[3])
        return Found(end, {"hold": Range(held, held), "adds": True})
    return Found(end, {"tempo": tuple(phases)})


def _phase(typed: Typed, at: int) -> tuple[int, str, int] | None:
    places = {"down": 0, "bottom": 1, "up": 2, "top": 3}
    if fast := typed.sees(at, "fast"):
        if typed[at].word == "x":
            return None
        return (2, "X", fast) if fast - at > 1 or typed[at].word.startswith("explo") else None
    if (up := typed.sees(at, "up")) and (fast := typed.sees(up, "fast")):
        return 2, "X", fast
    if (down := typed.sees(at, "down")) and typed.is_mark(down, "(") and (inside := typed.amount(down + 1)):
        if inside.unit == "s" and inside.is_single and typed.is_mark(inside.end, ")"):
            return 0, str(inside.low.normalize()), inside.end + 1
    amount = typed.amount(at)
    if not amount or amount.unit != "s" or not amount.is_single or amount.high > 15:
        return None
    for meaning, place in places.items():
        step = amount.end + (typed[amount.end].word in ("pause", "hold", "stop"))
        step += typed[step].text == "@" and typed[step + 1].word in ("bottom", "top")
        if typed[step - 1].text == "@" and typed[step].word == (
            "bottom" if place == 1 else "top" if place == 3 else ""
        ):
            return place, str(amount.low.normalize()), step + 1
        if end := typed.sees(amount.end, meaning):
            return place, str(amount.low.normalize()), end
    if (end := typed.sees(amount.end, "hold")) and typed[amount.end].word in ("pause", "paused"):
        for meaning in ("bottom", "top"):
            if behind := typed.sees(end, meaning):
                return places[meaning], str(amount.low.normalize()), behind
        if typed[at - 1].text == "/":  # "3 s down / 1 s pause"
            return 1, str(amount.low.normalize()), end
    return None
