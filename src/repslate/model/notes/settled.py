"""What only the whole exercise tells: units said once for all, a complex or a cluster, seconds nobody wrote."""

from __future__ import annotations

import re
from dataclasses import replace

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.dose import ONE, Dose, exactly
from repslate.model.notes.roles import counted
from repslate.model.quantity import write_number

_BY_THE_CLOCK = frozenset({"percent_ftp", "percent_hrmax", "pace", "zone", "rate_spm", "rate_rpm"})
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
    plural = _SINGLES.search(name)
    is_told = plural and parts[-1].reps == (counted(plural[1].lower()),)
    return name, name[: plural.start()] if plural and is_told else name


def settle(part: Dose, name: str) -> None:
    """Decide what a part says in view of the name: figures joined by + are of several movements, or one cluster."""
    if _is_timed(part, name):  # minutes, metres or seconds, which nobody wrote
        part.words.insert(0, f"× {write_number(part.reps[0].low)}")
        part.reps = ()
    if part.complex and name and _is_sum(part, name):
        part.cluster, part.complex = part.complex, ()
        part.reps = part.reps or (exactly(sum(part.cluster)),)
        part.sets = part.sets or (ONE if part.myo or part.rest_pause else None)
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
