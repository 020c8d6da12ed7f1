"""Typed lines and what they mean, in a notation made for reading: "Row 3x8 @ 60 kg → Row · sets 3 · reps 8 · kg 60"."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import cast

from repslate.model.notes.as_data import as_json
from repslate.model.notes.plan import read_notes

CASES = Path(__file__).parent / "model" / "notes" / "cases"
_Data = Mapping[str, object]


def cases() -> Iterator[tuple[str, str]]:
    """Yield every line of the files with what it means; "⏎" parts the lines of one text."""
    for file in sorted(CASES.glob("*.txt")):
        for line in file.read_text("utf-8").splitlines():
            typed, arrow, means = line.partition(" → ")
            if arrow:
                yield typed, means


def meaning(typed: str) -> str:
    """Write what a text is read as: blocks parted by " | ", exercises by " & ", what is not read behind "unread"."""
    found = as_json(read_notes(typed.replace(" ⏎ ", "\n")))
    blocks = [_block(block) for block in cast("list[_Data]", found["blocks"])]
    unread = [f"unread {one['text']}" for one in cast("list[_Data]", found["unread"])]
    return " | ".join(filter(None, blocks + unread))


def _block(block: _Data) -> str:
    form = "" if block["form"] == "straight" else f"[{block['form']}]"
    said = {key: value for key, value in block.items() if key not in ("form", "exercises", "letter")}
    exercises = " & ".join(_exercise(one) for one in cast("list[_Data]", block["exercises"]))
    head = " ".join(filter(None, (form, _fields(said))))
    return ": ".join(filter(None, (head, exercises))) if head else exercises


def _exercise(one: _Data) -> str:
    parts = cast("list[_Data]", one.get("parts", []))
    if parts:
        return " · ".join([str(one.get("name", "")), *(f"({_fields(part)})" for part in parts)])
    return _fields(one)


def _fields(said: _Data) -> str:
    return " · ".join(_field(key, value) for key, value in said.items())


def _field(key: str, value: object) -> str:
    if key == "load":
        load = cast("dict[str, object]", value)
        return " ".join(str(load["kind"]) if name == "kind" else _value(one) for name, one in load.items())
    if key in ("name", "as_typed"):
        return str(value) if key == "name" else f"“{_value(value)}”"
    return key.replace("_", " ") if value is True else f"{key.replace('_', ' ')} {_value(value)}"


def _value(value: object) -> str:
    if isinstance(value, list) and len(value) == 2 and not isinstance(value[0], (str, list)):
        return str(value[0]) if value[0] == value[1] else f"{value[0]}-{value[1]}"
    return ", ".join(map(_value, value)) if isinstance(value, list) else str(value)
