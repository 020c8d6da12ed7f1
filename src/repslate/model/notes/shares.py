"""Shares as typed: "75 % 1RM", "of training max", "85 % of front squat", "3/4 BW", and the body itself."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Typed
from repslate.model.notes.dose import TypedLoad, exactly
from repslate.model.quantity import Range

_LARGEST_SHARE = 5  # times the body
_SHARES = {"half": Decimal("0.5"), "quarter": Decimal("0.25"), "third": Decimal(1) / 3}
_LONGEST_LIFT = 3  # words in the name of a lift
_OF = (
    ("onerm", "percent_1rm"), ("tm", "percent_tm"), ("hrmax", "percent_hrmax"), ("ftp", "percent_ftp"),
    ("topset", "percent_of_top"),
)  # fmt: skip


def percent_of(typed: Typed, at: int, load: TypedLoad) -> tuple[TypedLoad, int]:
    """Read on behind a share: of what. Without a word it is taken of the one-repetition maximum."""
    has_of = typed.sees(at, "of")
    step = has_of or at
    step += typed[step].word in ("your", "my", "the")
    if (found := _rep_max(typed, step)) or (found := _known(typed, step, has_of=bool(has_of))):
        return _of(load, found[0]), found[1]
    if end := typed.sees(step, "bodyweight"):
        share = load.value and Range(load.value.low / 100, load.value.high / 100)
        return TypedLoad("fraction_bodyweight", share, words=load.words), end
    if typed[step].word in ("effort", "intensity"):
        return _of(load, "words", typed.typed(at - 2, step + 1)), step + 1
    return _other_lift(typed, step, load) if has_of else (_of(load, "percent_1rm"), at)


def _of(load: TypedLoad, kind: str, words: str = "") -> TypedLoad:
    return TypedLoad(kind, load.value, load.by_set, load.two_levels, words or load.words)


def _rep_max(typed: Typed, at: int) -> tuple[str, int] | None:
    """Read "5RM" and "5-RM"."""
    number = typed.number(at)
    if number is None or number[0] == 1:
        return None
    end = typed.sees(number[1], "repmax") if typed[number[1]].glued else 0
    end = end or typed.sees(number[1] + typed[number[1]].is_dash, "repmax")
    return (f"percent_of_{int(number[0])}rm", end) if end else None


def _known(typed: Typed, at: int, *, has_of: bool) -> tuple[str, int] | None:
    for meaning, kind in _OF:
        if (end := typed.sees(at, meaning)) and (has_of or meaning != "topset"):
            return kind, end
    return None


def _other_lift(typed: Typed, at: int, load: TypedLoad) -> tuple[TypedLoad, int]:
    """Carry what a share is of in its words: the name of another lift, or more than a name."""
    end = at
    while end < typed.end and typed[end].text not in (",", ";", ")", "(", ".") and not typed[end].is_number:
        end += 1
    name = typed.typed(at, end)
    is_lift = 0 < len(name.split()) <= _LONGEST_LIFT and "'" not in name and "work" not in name
    return _of(load, "percent_of_other_lift" if is_lift else "words", f"{load.words}, of {name}".strip(", ")), end


def of_the_body(typed: Typed, at: int) -> tuple[TypedLoad, int] | None:
    """Read "bodyweight", "3/4 BW", "0.85 x bodyweight", "1.5xBW"."""
    if end := typed.sees(at, "bodyweight"):
        return TypedLoad("bodyweight"), end
    if (share := _SHARES.get(typed[at].word)) and (
        end := typed.sees(at + 1 + (typed[at + 1].word == "of"), "bodyweight")
    ):
        return TypedLoad("fraction_bodyweight", exactly(share)), end
    number = typed.number(at)
    if number is None or number[2]:
        return None
    value, step, _ = number
    has_slash = typed.is_mark(step, "/")
    if typed[at - 1].text != "@" and "." not in typed[at].text and not typed[step].is_times and not has_slash:
        return None  # "5 x 5 BW"
    if has_slash and (other := typed.number(step + 1)) and other[0]:
        value, step = value / other[0], other[1]
    end = typed.sees(step + typed[step].is_times, "bodyweight")
    return (TypedLoad("fraction_bodyweight", exactly(value)), end) if end and value <= _LARGEST_SHARE else None
