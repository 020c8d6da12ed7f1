"""Rows of a table in notes, by tabs, pipes or commas, as the lines that a coach would type of them."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass

_COLUMNS = {
    "name": ("exercise", "exercises", "movement", "what", "pose", "drill", "lift", "name"),
    "block": ("block", "part", "section", "order", "group", "#"),
    "sets": ("sets", "set"),
    "reps": ("reps", "rep", "work", "time", "dose", "reps/time", "duration", "volume", "distance", "sets x reps"),
    "load": ("load", "weight", "kg", "intensity", "rate", "%", "lb", "lbs"),
    "tempo": ("tempo",),
    "effort": ("rpe", "rir", "effort"),
    "rest": ("rest", "recovery", "rec", "break"),
    "notes": ("notes", "note", "comments", "comment", "cues", "cue", "remarks"),
}
_ROLES = {word: role for role, words in _COLUMNS.items() for word in words}
_RULE = re.compile(r"[\s|:+=-]+")
_NOTHING = frozenset({"", "-", "–", "—", "none", "n/a", "/"})


@dataclass(frozen=True, slots=True)
class Table:
    """The head of a table: what parts its cells, and what each column holds ("" where nobody knows)."""

    sign: str
    roles: tuple[str, ...]


def cells(text: str, sign: str) -> list[str]:
    """Return the cells of a row."""
    if sign == "|":
        text = text.strip().removeprefix("|").removesuffix("|")
    if sign in ",;":
        return [cell.strip() for cell in next(csv.reader([text], delimiter=sign, skipinitialspace=True), [])]
    return [cell.strip() for cell in text.split(sign)]


def table_head(text: str) -> Table | None:
    """Read a line as the head of a table: two columns or more, of which most are called as columns are."""
    for sign in filter(text.__contains__, ("\t", "|", ",", ";")):
        row = cells(text, sign)
        roles = tuple(_ROLES.get(cell.casefold().strip("*_ "), "") for cell in row)
        if len(row) > 1 and "name" in roles and sum(map(bool, roles)) >= max(2, len(row) - 2):
            return Table(sign, roles)
    return None


def is_rule(text: str) -> bool:
    """Tell whether a line is the rule below the head of a table."""
    return bool(_RULE.fullmatch(text)) and ("-" in text or "=" in text)


def table_row(text: str, table: Table) -> tuple[str, str] | None:
    """Return the block that a row belongs to, "" for none, and the row as a line; None where it is no row."""
    row = cells(text, table.sign)
    if len(row) < 2 or is_rule(text):
        return None
    found: dict[str, str] = {}
    for role, cell in zip(table.roles, row, strict=False):
        if cell.casefold() not in _NOTHING and role:
            found[role] = f"{found[role]}, {cell}" if role in found else cell
    extra = [cell for cell in row[len(table.roles) :] if cell.casefold() not in _NOTHING]
    if "name" not in found:
        return None
    sets, reps = found.get("sets", ""), found.get("reps", "")
    dose = (
        f"{sets} x {reps}" if sets and reps and re.fullmatch(r"\d{1,2}(?:\s*[-–]\s*\d{1,2})?", sets) else reps or sets
    )
    if sets and not reps:
        dose = f"{sets} sets" if sets.isdigit() else sets
    load, rest, tempo = found.get("load", ""), found.get("rest", ""), found.get("tempo", "")
    pieces = [
        found["name"],
        dose,
        f"@ {load}" if load else "",
        f"tempo {tempo}" if tempo else "",
        found.get("effort", ""),
        f"rest {rest}" if rest else "",
        found.get("notes", ""),
        *extra,
    ]
    return found.get("block", ""), ", ".join(filter(None, pieces))
