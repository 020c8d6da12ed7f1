"""How often a block is done, as headings tell it: "3 rounds", "x 4", "twice through", "rounds: 5", "Superset 3x"."""

from __future__ import annotations

from dataclasses import dataclass

from repslate.model.notes.amounts import Amount, Typed
from repslate.model.notes.dose import Figures, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.notes.works import times_in_words
from repslate.model.tokens import Kind

_CLOSED = frozenset({"", ",", ":", ")", ";", "–", "-"})


@dataclass(frozen=True, slots=True)
class Rounds:
    """Rounds, and the piece behind them; `is_sets`: called sets; `is_firm`: they count before others; `words` left."""

    figures: Figures
    end: int
    is_sets: bool = False
    is_firm: bool = False
    words: str = ""


def rounds(typed: Typed, at: int, *, is_told: bool) -> Rounds | None:
    """Read rounds; `is_told` says that a form, a time or a scheme stands before, so that "x 4" is of the block."""
    step = at + typed[at].is_times
    amount = typed.amount(step)
    if not amount:
        return _named(typed, at) or _in_words(typed, at) or _repeated(typed, at)
    found = _through(typed, amount) or _timed(typed, amount) or _for_time(typed, amount)
    found = found or _called(typed, amount, is_told=is_told)
    return found or (_multiplied(typed, amount, is_joined=step > at) if is_told else None)


def _named(typed: Typed, at: int) -> Rounds | None:
    """Read "rounds: 5" and "rounds to do: 12"."""
    end = typed.sees(at, "round")
    end += 2 * bool(end and typed[end].word == "to" and typed[end + 1].word == "do")
    told = typed.amount(end + 1) if end and typed[end].text in (":", "=") else None
    return Rounds(told.figures, told.end) if told and told.unit in ("", "round", "set") else None


def _in_words(typed: Typed, at: int) -> Rounds | None:
    """Read "twice through" and "three times through the circuit"."""
    word = typed.sees(at, "once")
    end = typed.sees(word, "through") if word else 0
    return Rounds(exactly(times_in_words(typed[at].word)), end) if end else None


def _repeated(typed: Typed, at: int) -> Rounds | None:
    """Read "repeat each round three times" and "repeat x 4"."""
    if typed[at].word not in listed("again"):
        return None
    end = at + 1
    while typed[end].word in listed("what is repeated"):
        end += 1
    if word := typed.sees(end, "once"):
        return Rounds(exactly(times_in_words(typed[end].word)), word)
    amount = typed.amount(end + typed[end].is_times)
    is_count = amount and (amount.unit == "rep" or (typed[end].is_times and not amount.unit))
    return Rounds(amount.figures, amount.end) if amount and is_count else None


def _through(typed: Typed, amount: Amount) -> Rounds | None:
    """Read "2 times through", "3 x through" and "3 rounds through"."""
    end = typed.sees(amount.end + typed[amount.end].is_times, "through")
    return Rounds(amount.figures, end) if end and amount.unit in ("", "rep", "round") else None


def _timed(typed: Typed, amount: Amount) -> Rounds | None:
    """Read "10 3-minute rounds"; the minutes stay words, for they may be of work alone."""
    timed = typed.amount(amount.end) if not amount.unit and amount.is_single else None
    end = typed.sees(timed.end, "round") if timed and timed.unit == "s" else 0
    return Rounds(amount.figures, end, words=typed.typed(amount.end, timed.end)) if timed and end else None


def _for_time(typed: Typed, amount: Amount) -> Rounds | None:
    """Read "4rft", and the figure in front of "rounds for time", "circuits" and "supersets"."""
    end, following = amount.end, typed[amount.end]
    if typed[amount.start].kind is Kind.FIGURE and following.word == "rft" and following.glued:
        return Rounds(amount.figures, end, is_firm=True)
    is_named = amount.unit == "" and amount.is_single and typed.sees(end, "roundsfortime", "circuit", "superset")
    return Rounds(amount.figures, end, is_firm=True) if is_named else None


def _called(typed: Typed, amount: Amount, *, is_told: bool) -> Rounds | None:
    """Read "3 rounds of", "4 sets", and "2 laps" of a circuit."""
    is_lap = amount.unit == "length" and is_told and typed[amount.end - 1].word.startswith("lap")
    if amount.unit != "round" and not is_lap and (amount.unit != "set" or typed[amount.end].is_times):
        return None
    end = amount.end + (typed[amount.end].word == "of")
    end = end if typed[end].text == ":" else typed.sees(end, "quality") or end
    return Rounds(amount.figures, end, is_sets=amount.unit == "set")


def _multiplied(typed: Typed, amount: Amount, *, is_joined: bool) -> Rounds | None:
    """Read "x 4" and "3x" behind a form."""
    end = amount.end
    if amount.unit == "" and typed[end].is_times and typed[end + 1].text in _CLOSED:
        return Rounds(amount.figures, end + 1)
    is_read = is_joined and amount.unit in ("rep", "") and amount.is_single
    return Rounds(amount.figures, end) if is_read else None
