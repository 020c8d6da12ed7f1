"""What only the whole exercise tells: units said once for all, a complex or a cluster, seconds nobody wrote."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.dose import LONGEST_HOLD, ONE, Dose, Figures, TypedLoad, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.notes.measured import figure
from repslate.model.notes.roles import counted
from repslate.model.quantity import write_number

_BY_THE_CLOCK = frozenset({"percent_ftp", "percent_hrmax", "pace", "zone", "rate_spm", "rate_rpm"})
_SHORTEST_RUN = 100  # metres
_LONGER_THAN_IN_A_POOL = 150  # metres; a shorter length alone is as often of a pool, in yards or metres
_FASTEST_SWIM = 2  # metres a second (common practice, no source)
_FASTEST_RUN = 10
_LEAST_EFFORT = 5  # RPE below it is no working set (common practice, no source)
_FEWEST_SECONDS = 15  # of a hold: "plank 3 x 45" is of seconds, "plank 3 x 8" may be of anything
_LONGEST_INSIDE = 30  # seconds of a rest inside a set
_SINGLES = re.compile(r"(?i)\s+(single|double|triple)s$")
_JOINTS = re.compile(r"\s*(?:\+|&|,|\band\b)\s*")


def settle_all(name: str, parts: list[Dose]) -> tuple[str, str]:
    """Settle what all parts share, and return the name with and without the words that were read as figures."""
    if any(part.tempo for part in parts):
        name = re.sub(r"(?i)^tempo\s+", "", name)
    units = {part.load.kind for part in parts if part.load and part.load.kind in ("kg", "lb")}
    for part in parts:
        if part.load and part.load.kind == "mass" and len(units) == 1:
            part.load = replace(part.load, kind=next(iter(units)))
    *before, last = parts
    if last.load and (last.is_max or last.open_last) and not any(part.load or part.role for part in before):
        for part in before:  # "2x10 + 1xAMRAP @ 26s": the last set is one more of the same weight
            part.load = last.load
    plural = _SINGLES.search(name)
    is_told = plural and parts[-1].reps == (counted(plural[1].lower()),)
    return name, name[: plural.start()] if plural and is_told else name


def settle(part: Dose, name: str, text: str) -> None:
    """Decide what a part says in view of the name and of all that was typed: of several movements, or one cluster."""
    if _is_timed(part, name):  # minutes, metres or seconds, which nobody wrote
        part.words.insert(0, f"× {write_number(part.reps[0].low)}")
        part.reps = ()
    if part.seconds and part.seconds.high <= LONGEST_HOLD and _is_place(name):
        part.hold, part.seconds = part.seconds, None
    if (metres := _run(part, name, text)) is not None:
        part.metres = metres
    if part.complex and name and _is_sum(part, name):
        part.cluster, part.complex = part.complex, ()
        part.reps = part.reps or (exactly(sum(part.cluster)),)
        part.sets = part.sets or (ONE if part.myo or part.rest_pause else None)
    if part.load and part.load.kind == "rpe_or_mass":
        _settle_bare(part, part.load, name)
    if part.cluster == (-1,):
        part.cluster = ()
        part.words.append("clusters")
    if (
        part.rest
        and part.intra_rest is None
        and (part.cluster or part.myo or part.mini_sets)
        and part.rest.high <= _LONGEST_INSIDE
    ):
        part.intra_rest, part.rest = part.rest, None


def _settle_bare(part: Dose, load: TypedLoad, name: str) -> None:
    """Take "@8" as an effort where nobody lifts 8 kg or lb: a lift with the barbell; elsewhere it stays words."""
    part.load = None
    if part.effort is None and load.value and load.value.low >= _LEAST_EFFORT and _is_barbell_lift(name):
        part.effort = TypedLoad("rpe", load.value)
    elif load.value:
        part.words.append(f"@ {write_number(load.value.low)}")


def _is_barbell_lift(name: str) -> bool:
    typed = typed_line(name)
    is_light = any(typed[at].word in listed("light kit") for at in range(typed.end))
    return not is_light and any(typed.sees(at, "barbelllift") for at in range(typed.end))


def _is_place(name: str) -> bool:
    """Tell whether a name is only where in the movement it is: "bottom position"."""
    words = name.casefold().split()
    return bool(words) and all(
        word in listed("ends of the range") or word in ("position", "the", "at", "in") for word in words
    )


def _run(part: Dose, name: str, text: str) -> Figures | None:
    """Take "6 x 800" as metres where only running fits: a jog between, a pace no swimmer has, nothing else said."""
    words = {word.casefold() for word in re.findall(r"[^\W\d_]+", text)}
    bare = next((word for word in part.words if word.startswith("× ")), "")
    length = figure(bare[2:]) if bare else None
    if length is None or part.has_work or length < _SHORTEST_RUN or length % 50 or words & listed("strokes"):
        return None
    is_alone = not name and not words - {"x", "by"} and length >= _LONGER_THAN_IN_A_POOL
    if part.every is None and (is_alone or words & listed("of a run") or _is_running(part.load, length)):
        part.words.remove(bare)
        return exactly(length)
    return None


def _is_running(load: TypedLoad | None, length: Decimal) -> bool:
    """Tell whether a length in the time of a pace is faster than people swim, and not faster than they run."""
    clock = re.fullmatch(r"(\d{1,2}):(\d\d)", load.words) if load and load.kind == "pace" else None
    seconds = int(clock[1]) * 60 + int(clock[2]) if clock else 0
    return bool(seconds) and _FASTEST_SWIM < length / seconds < _FASTEST_RUN


def _is_timed(part: Dose, name: str) -> bool:
    """Tell whether a bare figure behind "×" is no count: the load is one by the clock, or the exercise a hold."""
    if len(part.reps) != 1 or part.reps[0].low != part.reps[0].high or part.sets is None or part.per_side:
        return False
    if part.load and part.load.kind in _BY_THE_CLOCK:
        return True
    typed = typed_line(name)
    return part.reps[0].low >= _FEWEST_SECONDS and any(typed.sees(at, "timed") for at in range(typed.end))


def _is_sum(part: Dose, name: str) -> bool:
    is_one = len(_JOINTS.split(name.strip("()"))) == 1 and "complex" not in name
    return part.rest_pause or part.myo or part.cluster == (-1,) or is_one


def tidy(text: str) -> str:
    """Return words without the signs around them and without empty brackets."""
    text = re.sub(r"\(\s*\)", "", text).strip(" \t,;:·•|/=–—*-")
    if text.count("(") > text.count(")"):
        text = text.replace("(", "") if text.startswith("(") else text + ")"
    return text.strip()
