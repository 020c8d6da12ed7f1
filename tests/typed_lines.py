"""How far a reading of a typed line agrees with its label: right, unread (what is missing stands as typed) or wrong.

A label of tests/cases/notes/lines.jsonl says all that its line means, so a figure more is as wrong as another figure.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

LINES = Path(__file__).parent / "cases" / "notes" / "lines.jsonl"
Plain = dict[str, Any]
Verdict = Literal["right", "unread", "wrong"]

#: Made up where the label lacks them.
_FIGURES = frozenset(
    "sets reps seconds metres calories breaths rest_s drops every_s for_minutes tempo".split()
)  # fmt: skip
_OF_EXERCISE = (*sorted(_FIGURES), "hold_s", "per_side", "max", "reps_open_last", "complex", "cluster", "rest_pause")
_OF_BLOCK = ("rounds", "minutes", "work_s", "rest_s", "every_s", "cap_minutes", "scheme", "people")
_FREE = frozenset({"rounds", "minutes", "people"})  # of a block; they follow from what its exercises say


def labelled() -> Iterator[Plain]:
    """Yield the lines with their labels."""
    for line in LINES.read_text("utf-8").splitlines():
        yield json.loads(line)


def verdict(item: Plain, answer: Plain) -> Verdict:
    """Judge what was read of one item; `answer` is the plan as plain data."""
    blocks = answer["blocks"]
    traced = bool(answer["unread"]) or any(key in json.dumps(answer) for key in ('"as_typed"', '"words"'))
    if not blocks:
        return "unread" if traced else "wrong"
    if item["kind"] == "block":
        return _summed(_block(item["means"], blocks[0]), traced=traced)
    found = [one for block in blocks for one in block["exercises"]]
    if not found:
        return "unread" if traced else "wrong"
    got = dict(found[0])
    if len(found) == 1:  # said of the block, and so of its only exercise
        for key in ("every_s", "rest_s"):
            got[key] = got.get(key) or blocks[0].get(key)
        got["sets"] = got.get("sets") or blocks[0].get("rounds")
        if item["means"].get("for_minutes"):
            got["for_minutes"] = got.get("for_minutes") or blocks[0].get("minutes")
    return _summed(_exercise(item["means"], got), traced=traced)


def _summed(said: list[Verdict], *, traced: bool) -> Verdict:
    if "wrong" in said:
        return "wrong"
    return ("unread" if traced else "wrong") if "unread" in said else "right"


def _words(text: str | None) -> list[str]:
    return [word.removesuffix("s") for word in re.findall(r"[a-z0-9]+", (text or "").lower())]


def _flat(value: Any) -> Any:
    """Return every figure as a list, so that 5, [5, 5] and [[5, 5]] compare as people read them."""
    if value in (None, False, []):
        return None
    if isinstance(value, bool | str):
        return value
    if isinstance(value, int | float):
        return [float(value)] * 2
    if all(isinstance(one, int | float) for one in value):
        return [float(one) for one in (value * 2 if len(value) == 1 else value)]
    return [_flat(one) for one in value]


def _agree(want: Any, got: Any) -> bool:
    want, got = _flat(want), _flat(got)
    if isinstance(want, str) and isinstance(got, str):  # a tempo; "?" is a phase that is not said
        pairs = zip(want.upper().split("-"), got.upper().split("-"), strict=False)
        return all(one == other or "?" in (one, other) for one, other in pairs)
    return bool(want == got)


def _compared(want: Any, got: Any) -> Verdict:
    if not _flat(got):
        return "unread"
    return "right" if _agree(want, got) else "wrong"


def _by_set(one: Plain) -> list[Any] | None:
    """Return the repetitions of each set in turn, however they are laid out."""
    parts = [part for part in one.get("parts", ()) if part.get("role") != "warm-up"]
    if parts:
        listed = [_by_set({"sets": [1, 1], **part}) for part in parts]
        return None if None in listed else [reps for some in listed if some for reps in some]
    if one.get("reps_by_set"):
        return [_flat(reps) for reps in one["reps_by_set"]]
    sets, reps = _flat(one.get("sets")), _flat(one.get("reps"))
    return [reps] * (int(sets[0]) if sets and sets[0] == sets[1] else 1) if reps else None


def _exercise(want: Plain, got: Plain) -> list[Verdict]:
    said: list[Verdict] = []
    if want.get("name") and _words(want["name"]) != _words(got.get("name")):
        lost = set(_words(want["name"])) - set(_words(json.dumps(got)))
        said.append("wrong" if lost else "unread")
    same = _by_set(want) is not None and _by_set(want) == _by_set(got)
    listed = bool(want.get("reps_by_set") or want.get("parts"))
    for key in _OF_EXERCISE:
        label, read = want.get(key), got.get(key)
        if (key in ("sets", "reps") and (same or (listed and key == "reps"))) or (not label and _is_one_set(key, read)):
            continue
        if key == "metres" and want.get("unit_implied") and not read:
            said.append("unread")
        elif label:
            said.append(_compared(label, read))
        elif key in _FIGURES and _flat(read) and not listed and not got.get("parts"):
            said.append("wrong")
    parts, read_parts = want.get("parts"), got.get("parts")
    if parts and read_parts and len(parts) == len(read_parts):
        return said + [one for a, b in zip(parts, read_parts, strict=True) for one in _exercise({**a, "name": None}, b)]
    if parts and not same:
        said.append("unread")
    return [*said, _load(want.get("load"), got.get("load"))]


def _is_one_set(key: str, read: Any) -> bool:
    return key == "sets" and _flat(read) == [1.0, 1.0]  # none is named


def _load(want: Plain | None, got: Plain | None) -> Verdict:
    figures = ("value", "by_set", "two_levels")
    if not want:
        return "wrong" if got and any(got.get(key) for key in figures) else "right"
    if not got:
        return "unread"
    if want.get("kind") == "words":
        return "unread" if set(_words(want.get("words"))) - set(_words(json.dumps(got))) else "right"
    kinds = {"kg", "lb", "mass"} if want.get("unit_written") is False else {want.get("kind"), want.get("or_kind")}
    if got.get("kind") not in kinds:
        return "wrong"
    return "right" if all(_agree(want[key], got.get(key)) for key in figures if want.get(key)) else "wrong"


def _block(want: Plain, got: Plain) -> list[Verdict]:
    also = want.get("also_form", [])
    said: list[Verdict] = []
    if got["form"] not in (want.get("form"), *([also] if isinstance(also, str) else also)):
        said.append("unread" if got["form"] == "straight" else "wrong")
    for key in _OF_BLOCK:
        if want.get(key):
            said.append(_compared(want[key], got.get(key)))
        elif got.get(key) and key not in _FREE and not also:
            said.append("wrong")
    for label, read in zip(want.get("lines", ()), got["exercises"], strict=False):
        said += _exercise(label, read)
    if len(got["exercises"]) < len(want.get("lines", ())):
        said.append("unread")
    return said
