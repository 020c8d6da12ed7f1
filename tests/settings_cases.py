"""Readable cases for the readers of settings: a text, what is read of it and what is found, as one file shows it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from repslate.source.finding import Finding
from repslate.source.mapping import Item, Mapping

FOLDER = Path(__file__).parent / "cases" / "settings"


@dataclass(frozen=True)
class Case:
    name: str
    text: str
    expected: str


def cases(file: str) -> list[Case]:
    """Split a file into "#### name", the text to read, and after "----" what is expected of it."""
    found = []
    for part in re.split(r"^#### ", (FOLDER / file).read_text("utf-8"), flags=re.M)[1:]:
        name, _, body = part.partition("\n")
        text, _, expected = body.partition("\n----\n")
        found.append(Case(name, text + "\n", expected.strip("\n")))
    return found


def outcome(read: Iterable[str], findings: Iterable[Finding]) -> str:
    """Return what was read, then the findings, as the case files have them."""
    lines = list(read)
    for finding in findings:
        place = f"{finding.span.line}:{finding.span.column}+{finding.span.length}"
        lines += [f"! {place} {finding.severity.value} {finding.check}: {finding.message}", f"    {finding.help}"]
        lines += [f"    ({finding.because})"] if finding.because else []
    return "\n".join(lines)


def written(value: Any) -> str:
    """Return a value of a mapping in Python's notation, without the places."""
    if isinstance(value, Item):
        return written(value.value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key!r}: {written(item)}" for key, item in value.items()) + "}"
    if isinstance(value, tuple):
        return "[" + ", ".join(written(item) for item in value) + "]"
    return repr(value)


def changed(record: Any, default: Any) -> list[str]:
    """Return "field = value" for each field of a model that is not the default's; its place is left out."""
    told = []
    for field in fields(record):
        value, usual = getattr(record, field.name), getattr(default, field.name)
        if hasattr(value, "__pydantic_config__"):
            told += [f"{field.name}.{each}" for each in changed(value, usual)]
        elif value != usual and field.name != "span":
            told.append(f"{field.name} = {_plain(value)}")
    return told


def _plain(value: Any) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(_plain(item) for item in value) + "]"
    if hasattr(value, "text") and hasattr(value, "span"):
        return f"{value.text!r} at {value.span.line}:{value.span.column}+{value.span.length}"
    return str(value) if not isinstance(value, str) else repr(str(value))
