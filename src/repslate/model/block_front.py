"""What trainers put in front of the kind of a block, and kinds of blocks that repslate has no clock for."""

from __future__ import annotations

import re
from dataclasses import dataclass

from repslate.model.quantity import NUMBER_WORDS
from repslate.model.tokens import Kind, Reader

_BLOCK = ("block", "part")
_MINUTES = ("min", "mins", "minute", "minutes", "s", "sec", "secs", "second", "seconds")
_EVERY = re.compile(r"(?i)\be(\d+)mom\b|\bevery\s+(?:\d+\s*(?:min|s\b|sec)|other\s+minute|minute\s+and)")
_INTERVALS = re.compile(
    r"(?i)tabata\b[\s:–-]*(?:(?P<work>\d{1,3})\s*(?:s|sec)?\s*/\s*(?P<rest>\d{1,3})\s*(?:s|sec)?"
    r"(?:\s*[x×*]\s*(?P<rounds>\d{1,2}))?)?"
)
_FOR_TIME = re.compile(r"(?i)\s*(?:(?:(?P<rounds>\d{1,3})\s+)?rounds?\s+)?for\s+time\b")
_IN_TURN = "write the rounds and a rest that fills each turn, as in “Circuit · 5 rounds · rest 60 s”"


@dataclass(frozen=True, slots=True)
class Front:
    """How far a front goes: the place of a letter, of a number of rounds or of a time, each in steps from the reader.

    `steps` is where the kind begins; the other fields say which of the three stands before it.
    """

    steps: int = 0
    letter: int | None = None
    rounds: bool = False
    clock: bool = False


def fronts(r: Reader) -> list[Front]:
    """Return what can stand in front of a kind here, the longest first; nothing in front is always the last."""
    found = [Front()]
    named = int(r.here.word in _BLOCK)
    sign, following = r.ahead(named), r.ahead(named + 1)
    is_sign = (sign.kind is Kind.WORD and len(sign.text) == 1) or (sign.kind is Kind.FIGURE and sign.text.isdigit())
    if is_sign and len(sign.text) <= 6:
        if following.text in (":", ".", ")") or following.is_dash:
            found.append(Front(named + 2, letter=named))
        elif r.text[sign.end : sign.end + 1] == ".":  # "A. Superset": the reader drops a dot behind a word
            found.append(Front(named + 1, letter=named))
    if r.here.is_number:
        dash = int(r.ahead().is_dash and r.ahead().glued)
        if r.ahead(1 + dash).word in _MINUTES:
            found.append(Front(2 + dash, clock=True))
        elif r.here.kind is Kind.CLOCK or r.ahead().kind is Kind.WORD:
            found.append(Front(1, clock=True))
    if r.here.kind is Kind.FIGURE or r.here.word in NUMBER_WORDS:
        if r.ahead().word in ("round", "rounds"):
            found.append(Front(2 + (r.ahead(2).word == "of"), rounds=True))
        elif r.ahead().word in ("x", "×"):
            found.append(Front(2, rounds=True))
    return sorted(found, key=lambda front: -front.steps)


def unread_format(text: str) -> tuple[str, str]:
    """Return what a heading of a kind that repslate has no block for is, and the advice what to write; "" if none.

    Its figures are kept: they go into a circuit's rounds and the lines under its exercises.
    """
    if found := _FOR_TIME.match(text):
        number = found["rounds"]
        rounds = f"write “Circuit · {number} rounds”" if number else "write the rounds, as in “Circuit · 5 rounds”"
        return "rounds for time", f"{rounds}, and in a line below that the clock is stopped at the end"
    if found := _INTERVALS.match(text):
        work, rest, rounds = found["work"], found["rest"], found["rounds"]
        if work and rounds:
            fix = f"write “Circuit · {rounds} rounds”, and “{work} s, rest {rest} s” under each exercise"
        else:
            fix = "write the rounds as in “Circuit · 8 rounds”, and as in “20 s, rest 10 s” under each exercise"
        return "timed intervals", fix
    if _EVERY.search(text):
        return "clocks that do not turn every minute", _IN_TURN
    return "", ""
