"""The tempo of a typed line, in signs and in words: "3-0-X-1", "4010", "3 s down, 1 s pause, up fast"."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import Dose, Found, exactly
from repslate.model.notes.pieces import Piece
from repslate.model.tokens import Kind

_LONGEST_PHASE = 10  # seconds of a phase in signs
_LONGEST_UNNAMED = 5  # … where nothing calls it a tempo
_LONGEST_SHORT = 3  # … where it may be a list of repetitions
_LONGEST_IN_WORDS = 15  # … in words
_PLACES = {"down": 0, "bottom": 1, "up": 2, "top": 3}
_UNSAID = "?"


def tempo(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read a tempo with or without the word, and with the share of seconds that only words tell."""
    named = typed.sees(at, "tempo")
    begin = named + typed.is_mark(named, ":") if named else at
    begin += typed.is_mark(begin, "@")
    phases, end = _phases(typed, begin)
    if not phases:
        return _tempo_in_words(typed, at, given)
    behind = typed.sees(end, "tempo")
    is_sure = bool(named or behind or "X" in phases or len(phases) == 4)
    if not is_sure and not (given.has_work and given.sets is not None):
        return None
    if not (named or behind) and _is_list(typed, begin, phases, given):
        return None
    if _is_dose(typed, begin, end, given, is_named=bool(named or behind)):
        return None
    return Found(behind or end, {"tempo": phases})


def _is_list(typed: Typed, at: int, phases: tuple[str, ...], given: Dose) -> bool:
    """Tell whether four figures that nothing calls a tempo are a list: 10-8-6-4, and 5-4-3-2 with nothing before."""
    if len(phases) != 4 or not typed[at + 1].is_dash or "X" in phases:
        return False
    figures = [int(phase) for phase in phases]
    is_ordered = sorted(set(figures)) in (figures, figures[::-1])
    return max(figures) > _LONGEST_UNNAMED or (is_ordered and not given.reps and max(figures) > _LONGEST_SHORT)


def _is_dose(typed: Typed, begin: int, end: int, given: Dose, *, is_named: bool) -> bool:
    """Tell whether what looks like a tempo is of loads and repetitions, or a figure with a unit."""
    is_joined = typed[begin + 1].text == "x" and end - begin > 1
    if is_joined and (typed[end].is_number or not given.has_work):
        return True  # "60x2 65x2"
    if typed.unit(end)[0] or typed[end].is_times or (typed[end].is_dash and typed[end].glued):
        return True
    is_compact = end - begin == 1 and typed[begin].is_number
    return is_compact and not (is_named or given.reps or typed.is_mark(begin - 1, "@"))


def _is_digits(piece: Piece) -> bool:
    return piece.kind is Kind.FIGURE and piece.text.isdigit()


def _phases(typed: Typed, at: int) -> tuple[tuple[str, ...], int]:
    """Return the phases of a tempo in signs: "3-0-X-1", "3010", "31X0", "3/1/1"."""
    piece, following = typed[at], typed[at + 1]
    is_word = following.glued and following.kind is Kind.WORD and not following.is_times
    if len(piece.text) == 4 and _is_digits(piece) and max(piece.text) <= "8" and not is_word:
        return tuple(piece.text), at + 1
    text, step = "", at
    while len(text) < 5 and (step == at or typed[step].glued) and (_is_digits(typed[step]) or typed[step].word == "x"):
        text += typed[step].text.upper()
        step += 1
    if len(text) == 4 and text.count("X") == 1 and "X" in (text[0], text[2]) and max(text.replace("X", "")) <= "8":
        return tuple(text), step
    return _dashed(typed, at)


def _dashed(typed: Typed, at: int) -> tuple[tuple[str, ...], int]:
    phases: list[str] = []
    step = at
    while typed[step].word == "x" or (_is_digits(typed[step]) and len(typed[step].text) <= 2):
        phases.append(typed[step].text.upper())
        step += 1
        if not typed[step].is_dash or len(phases) == 4:
            break
        step += 1
    is_long = any(phase != "X" and int(phase) > _LONGEST_PHASE for phase in phases)
    is_read = len(phases) in (3, 4) and not is_long and not typed[step - 1].is_dash
    return (tuple(phases), step) if is_read else ((), at)


def _tempo_in_words(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "3 s down", "1 s pause at the bottom", "2 s squeeze at the top", "up fast", phase by phase."""
    phases = list(given.tempo or (_UNSAID,) * 4)
    step, end, told = at, 0, 0
    while found := _phase(typed, step):
        place, value, end = found
        if phases[place] not in (_UNSAID, value):
            return None
        phases[place] = value
        told += 1
        step = end
        while typed[step].text in (",", "/", "•", "-", "–", "*", ";") or typed[step].word == "and":
            step += 1
    if not end:
        return None
    pauses = [phases[place] for place in (1, 3) if phases[place] != _UNSAID]
    if told == 1 and pauses and not given.tempo:  # a pause alone is a hold in each
        return Found(end, {"hold": exactly(Decimal(pauses[0])), "adds": True})
    return Found(end, {"tempo": tuple(phases)})


def _phase(typed: Typed, at: int) -> tuple[int, str, int] | None:
    """Return the place of a phase, its seconds or "X", and the piece behind it."""
    if fast := typed.sees(at, "fast"):
        is_read = typed[at].word != "x" and (fast - at > 1 or typed[at].word.startswith("explo"))
        return (2, "X", fast) if is_read else None
    if (up := typed.sees(at, "up")) and (fast := typed.sees(up, "fast")):
        return 2, "X", fast
    down = typed.sees(at, "down")
    inside = typed.amount(down + 1) if down and typed.is_mark(down, "(") else None
    if inside and inside.unit == "s" and inside.is_single and typed.is_mark(inside.end, ")"):
        return 0, _seconds(inside), inside.end + 1
    amount = typed.amount(at)
    if not amount or amount.unit != "s" or not amount.is_single or amount.high > _LONGEST_IN_WORDS:
        return None
    return _behind_seconds(typed, amount) or _paused(typed, amount)


def _seconds(amount: Amount) -> str:
    return f"{amount.low.normalize():f}"


def _behind_seconds(typed: Typed, amount: Amount) -> tuple[int, str, int] | None:
    """Read "3 s down", "1 s at the bottom", "2 s pause @ top"."""
    step = amount.end + (typed[amount.end].word in ("pause", "hold", "stop"))
    if typed[step].text == "@" and typed[step + 1].word in ("bottom", "top"):
        return _PLACES[typed[step + 1].word], _seconds(amount), step + 2
    for meaning, place in _PLACES.items():
        if end := typed.sees(amount.end, meaning):
            return place, _seconds(amount), end
    return None


def _paused(typed: Typed, amount: Amount) -> tuple[int, str, int] | None:
    """Read "1 s pause at the bottom", and "3 s down / 1 s pause"."""
    end = typed.sees(amount.end, "hold") if typed[amount.end].word in ("pause", "paused") else 0
    if not end:
        return None
    for meaning in ("bottom", "top"):
        if behind := typed.sees(end, meaning):
            return _PLACES[meaning], _seconds(amount), behind
    return (1, _seconds(amount), end) if typed[amount.start - 1].text == "/" else None
