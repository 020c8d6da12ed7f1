"""Rows of a table in notes, by tabs, pipes or commas, as the lines that a coach would type of them."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from itertools import zip_longest

from repslate.model.notes.lexicon import listed

_COLUMNS = ("name", "block", "sets", "reps", "load", "tempo", "effort", "rest", "notes")
_ROLES = {word: role for role in _COLUMNS for word in listed(f"column of {role}")}
_RULE = re.compile(r"[\s|:+=-]+")
_SETS = re.compile(r"\d{1,2}(?:\s*[-–]\s*\d{1,2})?")
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
    for role, cell in zip_longest(table.roles, row, fillvalue=""):
        if cell.casefold() not in _NOTHING:
            kind = role or "notes"  # a column that nobody knows is carried as words
            found[kind] = f"{found[kind]}, {cell}" if kind in found else cell
    if "name" not in found:
        return None
    pieces = [found["name"], _dose(found.get("sets", ""), found.get("reps", ""))]
    for role, before in (("load", "@ "), ("tempo", "tempo "), ("effort", ""), ("rest", "rest "), ("notes", "")):
        pieces += [f"{before}{found[role]}"] if role in found else []
    return found.get("block", ""), ", ".join(filter(None, pieces))


def _dose(sets: str, reps: str) -> str:
    """Write the cells of sets and repetitions as a dose."""
    if not reps:
        return f"{sets} sets" if sets.isdigit() else sets
    return f"{sets} x {reps}" if _SETS.fullmatch(sets) else reps
