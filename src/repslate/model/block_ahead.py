"""What stands ahead in the heading of a block: the beginning of a part, a separator, the end of a name."""

from __future__ import annotations

from repslate.model.block_parts import sees_named, sees_scheme, sees_worded
from repslate.model.quantity import NUMBER_WORDS
from repslate.model.tokens import Kind, Reader

SEPARATORS = ("·", "•", "|", ",", ";")
COUNTED = ("round", "rounds", "set", "sets")
TIME_WORDS = ("min", "mins", "minute", "minutes", "s", "sec", "secs", "second", "seconds")


def begins_part(r: Reader, step: int, *, inside: bool) -> bool:
    """Tell whether rounds, a rest or a clock begin there; `inside` a title only where nothing else can be meant."""
    token, following = r.ahead(step), r.ahead(step + 1)
    if token.word == "rest":
        return following.is_number
    if token.word == "cap" and not inside and (following.is_number or following.word in NUMBER_WORDS):
        return True
    if sees_named(r, step) or (not inside and sees_worded(r, step)):
        return True
    if following.is_dash and r.ahead(step + 2).is_number:  # "2–3 rounds"
        following = r.ahead(step + 3)
    if following.word in ("round", "rounds"):
        return token.is_number or token.word in NUMBER_WORDS
    if is_times(r, step):
        return True
    return not inside and (token.is_number or (token.word in ("for", "in") and following.is_number))


def is_times(r: Reader, step: int) -> bool:
    """Tell whether "x 3" or "3x" stands there, with nothing behind it that it could be times of."""
    pair = (r.ahead(step), r.ahead(step + 1))
    after = r.ahead(step + 2)
    is_pair = any(one.is_times and other.kind is Kind.FIGURE for one, other in (pair, pair[::-1]))
    ends = after.kind is Kind.END or after.is_dash or after.text in (*SEPARATORS, ")", ":")
    return is_pair and (ends or after.word in COUNTED)


def is_separator(r: Reader, steps: int) -> bool:
    """Tell whether "·", a comma or the like, a dash between blanks, or a bracket round a part stands `steps` on."""
    token, following = r.ahead(steps), r.ahead(steps + 1)
    if token.text == "(":
        return begins_part(r, steps + 1, inside=True) or _is_bracketed(r, steps + 1)
    return token.text in SEPARATORS or (token.is_dash and not token.glued and not following.glued)


def _is_bracketed(r: Reader, step: int) -> bool:
    """Tell whether nothing but a part stands up to the closing bracket: "12 min", "10 sets", "in pairs"."""
    if r.ahead(step).is_number and r.ahead(step + 1).word in (*TIME_WORDS, *COUNTED):
        return r.ahead(step + 2).text == ")"
    steps = sees_worded(r, step)
    return steps > 0 and r.ahead(step + steps).text == ")"


def is_whole_part(r: Reader, step: int) -> bool:
    """Tell whether a part stands there that no title could be: as inside one, or up to the next separator."""
    if begins_part(r, step, inside=True) or is_scheme(r, step):
        return True
    steps = sees_worded(r, step) or (2 if r.ahead(step).is_number and r.ahead(step + 1).word in TIME_WORDS else 0)
    after = r.ahead(step + steps)
    return steps > 0 and (after.kind is Kind.END or after.text == ")" or is_separator(r, step + steps))


def is_scheme(r: Reader, step: int) -> bool:
    """Tell whether a scheme of repetitions stands there, with nothing behind it that would make it a title."""
    steps = sees_scheme(r, step)
    after = r.ahead(step + steps)
    return steps > 0 and (after.kind is Kind.END or after.text == ")" or is_separator(r, step + steps))


def ends_name(r: Reader, step: int) -> bool:
    """Tell whether no further word of a name stands there, but the end, a colon, a part or a letter before those."""
    token = r.ahead(step)
    if token.kind is Kind.END or token.text in (":", "(") or is_separator(r, step) or token.is_number:
        return True
    if begins_part(r, step, inside=False) or token.word == "other":
        return True
    is_letter = len(token.text) == 1 or token.word in NUMBER_WORDS
    return token.kind is Kind.WORD and is_letter and ends_name(r, step + 1)
