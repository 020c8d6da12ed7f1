"""Loads that are words: heavy, band, empty bar, as heavy as possible, add weight, zones and paces."""

from __future__ import annotations

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import Dose, TypedLoad, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.tokens import Kind

Loaded = tuple[TypedLoad, int]
_STOPS = frozenset(",;()·|")
_HARDEST_ZONE = 7
_SLOWEST_RATE = 16  # strokes a minute (common practice, no source)
_MINUTE = 60  # seconds
_IN = frozenset({"in", "at", "en", "em", "på", "a", "à"})  # in front of the time that a length is covered in


def in_words(typed: Typed, at: int) -> Loaded | None:
    """Carry what stands behind "@" up to the next sign as a load in words."""
    end = at
    while end < typed.end and typed[end].text not in _STOPS and not _is_break(typed, end):
        end += 1
    if end == at:
        return None
    kinds = [kind for kind in ("pace", "zone") if any(typed.sees(step, kind) for step in range(at, end))]
    if not kinds and any(typed[step].kind is Kind.FIGURE for step in range(at, end)):
        return None
    return TypedLoad(kinds[0] if kinds else "words", words=typed.typed(at, end)), end


def _is_break(typed: Typed, at: int) -> bool:
    is_dash = typed[at].is_dash and not typed[at].glued and not typed[at + 1].glued
    return is_dash or bool(typed.sees(at, "rest", "tempo", "rpe"))


def load_words(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read a load in words, in view of what is said before: "easy" behind work is a load, elsewhere part of a name."""
    for reader in (_springs, _rate, _zone, _told_pace, _threshold, _build_to, _word, _heavy, _effort, _pace, _plates):
        if found := reader(typed, at, given):
            return found
    return None


def _springs(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "3 springs" and "2 heavy springs" of a machine as a load."""
    amount = None if given.load else typed.amount(at)
    if not amount or amount.unit:
        return None
    end = typed.sees(amount.end, "springs") or typed.sees(amount.end + 1, "springs")
    return (TypedLoad("words", words=typed.typed(at, end)), end) if end else None


def _rate(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "rate 28+", "rating 20" and "@ r18-20" behind work as a stroke rate."""
    is_short = typed[at].word == "r" and typed[at - 1].text == "@" and typed[at + 1].glued
    if not given.has_work or not (is_short or typed[at].word in ("rate", "rating")):
        return None
    rate = typed.amount(at + 1)
    if rate is None or rate.unit not in ("", "spm") or not rate.low >= _SLOWEST_RATE:
        return None
    return TypedLoad("rate_spm", rate.figures, words=typed.typed(at, rate.end)), rate.end


def _zone(typed: Typed, at: int, given: Dose) -> Loaded | None:
    if typed[at].word == "ut" and typed[at + 1].glued and typed[at + 1].text in ("1", "2") and given.has_work:
        return TypedLoad("zone", words=typed.typed(at, at + 2)), at + 2  # utilisation, as rowers call it
    end = typed.sees(at + (typed[at].word in ("in", "at")), "zone")
    zone = typed.amount(end) if end else None
    return (
        (TypedLoad("zone", zone.figures), zone.end) if zone and zone.high <= _HARDEST_ZONE and not zone.unit else None
    )


def _told_pace(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "400 m in 1:30", "10 x 300 en 1'05", and "al ritmo di 4'05" whatever stands before."""
    named = typed.sees(at, "pace")
    is_way = given.metres or (given.sets and not given.has_work and any("×" in word for word in given.words))
    amount = typed.amount(named or at + 1) if named or (typed[at].word in _IN and is_way) else None
    is_time = amount and amount.unit == "s" and (amount.is_clock or (amount.high < _MINUTE and not typed[at].glued))
    is_rest = amount and typed[amount.end].word in ("rest", "off", "easy", "jog")
    if amount is None or not is_time or is_rest or (typed[at].word in ("a", "à") and not amount.is_clock):
        return None
    end = behind_pace(typed, amount.end)
    return TypedLoad("pace", words=typed.typed(named or at + 1, end)), end


def behind_pace(typed: Typed, at: int) -> int:
    """Return the piece behind "/500 m" or "/km"."""
    if not typed.is_mark(at, "/"):
        return at
    end = at + 1
    while typed[end].kind in (Kind.FIGURE, Kind.WORD) and end < at + 4:
        end += 1
    return end


def _threshold(typed: Typed, at: int, _given: Dose) -> Loaded | None:
    end = typed.sees(at + 1, "ftp") if typed[at].word == "at" else 0
    return (TypedLoad("percent_ftp", exactly(100)), end) if end else None


def _word(typed: Typed, at: int, given: Dose) -> Loaded | None:
    for meaning in ("ahap", "adding"):
        if end := typed.sees(at, meaning):
            return TypedLoad("words", words=typed.typed(at, end)), end
    end = typed.sees(at, "emptybar")
    is_alone = end > at + 1 and typed[at - 1].text == "," and typed[end].text in (",", "")
    is_bar = (
        is_alone
        or typed[end].is_times
        or typed[at - 1].text == "@"
        or (given.has_work and typed[at].word != "bar" and not _is_joined(typed, at - 1))
    )
    if end and is_bar and not (typed[at].word == "bar" and given.has_work):
        return TypedLoad("words", words="empty bar"), end
    end = typed.sees(at, "band")
    is_apart = typed[at - 1].text == "," and typed[end].text in (",", "")
    is_with = typed[at - 1].word in listed("goes before a load") or (
        typed[at - 1].text in ("/", ".") and typed[at - 2].word == "w"
    )
    is_closed = typed[end].text in (",", "", ";") or typed[end].is_number
    is_of_name = typed[at - 1].is_number and typed[end].kind is Kind.WORD  # "10 band pull aparts"
    is_load = end and not is_of_name and (given.has_work or given.sets or is_apart or (is_with and is_closed))
    return (TypedLoad("band", words=typed.typed(at, end)), end) if is_load else None


def _is_joined(typed: Typed, at: int) -> bool:
    """Tell whether a word stands there that joins what follows to a name: "burpees over the bar"."""
    is_unit = bool(typed.unit(at)[0]) or bool(typed.sees(at, "rep", "set", "eachside"))
    return typed[at].kind is Kind.WORD and typed[at].word not in listed("goes before a load") and not is_unit


def _build_to(typed: Typed, at: int, _given: Dose) -> Loaded | None:
    end = typed.sees(at, "buildto")
    if not end:
        return None
    while end < typed.end and typed[end].text not in (",", ";", "(", ")"):
        end += 1
    return TypedLoad("words", words=typed.typed(at, end)), end


def _heavy(typed: Typed, at: int, given: Dose) -> Loaded | None:
    end = typed.sees(at, "heavy")
    is_load = end and (typed.amount(end) or given.has_work or given.sets)
    return (TypedLoad("words", words=typed.typed(at, end)), end) if is_load else None


def _effort(typed: Typed, at: int, given: Dose) -> Loaded | None:
    end = typed.sees(at, "effortwords") if given.has_work and not given.load else 0
    is_load = end and typed[end].text in ("", ",", ")", "(", ";", ".")
    return (TypedLoad("words", words=typed.typed(at, end)), end) if is_load else None


def _pace(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "marathon pace" and "5k effort" behind work."""
    if given.load or not given.has_work:
        return None
    amount = typed.amount(at)
    end = typed.sees(at, "pace") or (typed.sees(amount.end, "pace") if amount and amount.unit in ("m", "") else 0)
    return (TypedLoad("pace", words=typed.typed(at, end)), end) if end else None


def _plates(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "2 plates per side"."""
    amount = typed.amount(at) if given.has_work else None
    end = typed.sees(amount.end, "plates") if amount and amount.unit == "" else 0
    if not end:
        return None
    stop = typed.sees(end, "eachside")
    return TypedLoad("words", words=typed.typed(at, end) + (" per side" if stop else "")), stop or end
