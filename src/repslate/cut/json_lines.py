"""JSON held against what a timeline may hold, and the line on which each object begins.

The timeline's library says neither what is wrong with a figure nor where, and an object in a place meant for another
ends the whole program (opentimelineio 0.18.1); both are settled before it sees the text.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass

JsonPath = tuple[str | int, ...]

_DEEPEST = 100  # brackets within each other; a sequence in a sequence in a sequence has some thirty
_MOST = 10**9  # frames: four months at 100 a second
_SLOWEST, _FASTEST = 1, 1000  # frames a second
_QUICKEST = 1000  # times the speed
_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\],\n]')

_ITEMS = frozenset("Clip Gap Filler Track Sequence Stack Transition".split())
_MEDIA = frozenset(f"{kind}Reference" for kind in ("External", "Missing", "Generator", "ImageSequence"))
_RANGE, _TIME = frozenset(["TimeRange"]), frozenset(["RationalTime"])
_HELD: dict[str, frozenset[str]] = {  # the objects that a field of an object may hold, alone, in a list or by key
    "tracks": frozenset(["Stack"]),
    "children": _ITEMS,
    "markers": frozenset(["Marker"]),
    "effects": frozenset("Effect TimeEffect LinearTimeWarp FreezeFrame".split()),
    "media_reference": _MEDIA,
    "media_references": _MEDIA,
    **dict.fromkeys(("source_range", "available_range", "marked_range"), _RANGE),
    **dict.fromkeys(("start_time", "duration", "in_offset", "out_offset", "global_start_time"), _TIME),
}
_LISTS = ("children", "markers", "effects")
_NEWER = {"Clip.1": "media_references", "Marker.1": "marked_range"}  # fields that these versions did not have yet


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong, on which line."""

    line: int
    message: str


def json_wrong(text: str) -> tuple[object, Wrong | None]:
    """Return the JSON value that a text says, or what keeps it from being read."""
    depth = deepest = 0
    for token in _TOKEN.finditer(text):
        depth += (token[0] in "{[") - (token[0] in "}]")
        deepest = max(deepest, depth)
    if deepest > _DEEPEST:
        return None, Wrong(1, f"found {deepest} brackets within each other, expected at most {_DEEPEST}")
    try:
        return json.loads(text.removeprefix("\ufeff")), None
    except json.JSONDecodeError as error:
        what = f"found text that is not JSON ({error.msg.lower()}), expected a timeline in JSON"
        return None, Wrong(error.lineno, what)
    except ValueError:  # an integer of thousands of digits
        return None, Wrong(1, "found a number of thousands of digits, expected figures of a film")


def lines_of(text: str) -> dict[JsonPath, int]:
    """Return the line on which each object and list of a valid JSON text begins, by its path."""
    lines: dict[JsonPath, int] = {}
    path: list[str | int] = []  # the step that leads to the value that comes next
    key: str | None = None
    number = 1
    for token in _TOKEN.finditer(text):
        match token[0]:
            case "\n":
                number += 1
            case "{" | "[":
                lines[tuple(path)] = number
                path.append("" if token[0] == "{" else 0)
                key = None
            case "}" | "]":
                path.pop()
                key = ""  # a value has ended: strings are keys again only after a comma
            case ",":
                last = path[-1]
                path[-1] = last + 1 if isinstance(last, int) else ""
                key = None
            case word if key is None and path and isinstance(path[-1], str):
                key = path[-1] = json.loads(word)
    return lines


def objects_wrong(data: object, lines: dict[JsonPath, int], path: JsonPath = (), line: int = 1) -> Iterator[Wrong]:
    """Yield every object that stands where another kind belongs, and every time, rate and speed that no film has."""
    line = lines.get(path, line)
    children: list[tuple[str | int, object]] = list(enumerate(data)) if isinstance(data, list) else []
    if isinstance(data, dict):
        if kind := _kind(data):
            yield from _held_wrong(data, line)
            yield from _figures_wrong(data, kind, path, line)
        children = list(data.items())
    for step, child in children:
        yield from objects_wrong(child, lines, (*path, step), line)


def _kind(data: object) -> str:
    """Return the name of an object's schema, "" for anything else."""
    return str(data.get("OTIO_SCHEMA", "")).partition(".")[0] if isinstance(data, dict) else ""


def _held_wrong(data: dict[str, object], line: int) -> Iterator[Wrong]:
    version = str(data["OTIO_SCHEMA"])
    if (
        _kind(data) == "UnknownSchema"
    ):  # OpenTimelineIO makes one of what it does not know, and ends the process over it
        yield Wrong(line, "found an UnknownSchema, expected an object that OpenTimelineIO knows")
    if _NEWER.get(version) in data:
        yield Wrong(line, f"found “{_NEWER[version]}” in {version}, expected none")
    for field, kinds in _HELD.items():
        value = data.get(field)
        held: list[object] = [value]
        if field in _LISTS and isinstance(value, list):
            held = value
        elif field == "media_references" and isinstance(value, dict) and not _kind(value):
            held = list(value.values())
        for one in held:
            if value is not None and _kind(one) not in kinds:
                found = _kind(one) or type(one).__name__
                yield Wrong(line, f"found {found} in “{field}”, expected {' or '.join(sorted(kinds))}")


def _figures_wrong(data: dict[str, object], kind: str, path: JsonPath, line: int) -> Iterator[Wrong]:
    value, rate, scalar = data.get("value", 0), data.get("rate", 1), data.get("time_scalar", 1)
    if kind == "RationalTime":
        if not _within(rate, _SLOWEST, _FASTEST) or not _within(value, -_MOST, _MOST):
            yield Wrong(line, f"found {value!s:.20} at {rate!s:.20} a second, expected a time that a film can have")
        elif path[-1:] == ("duration",) and not _within(value, 0, _MOST):
            yield Wrong(line, f"found a length of {value!s:.20}, expected 0 or more")
    if not _within(scalar, -_QUICKEST, _QUICKEST):
        yield Wrong(line, f"found a speed of {scalar!s:.20} times, expected at most {_QUICKEST}")


def _within(figure: object, least: float, most: float) -> bool:
    return isinstance(figure, int | float) and least <= figure <= most
