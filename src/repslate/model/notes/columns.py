"""A line in columns, as pasted from a sheet: gaps, bars and tabs as the commas that a coach would type."""

from __future__ import annotations

import re

_GAP = re.compile(r"(?<=[^\s,;:–—-])\s{3,}(?=\S)")
_WEEK = re.compile(r"(?i)^\s*(?:wk|week)\s*\d+\s*:?\s*")
_WORDS_APART = re.compile(r"(?<=[^\W\d_])\s{2}(?=[^\W\d_])")
_SEPARATOR = re.compile(r"\s{3,}|\s*[\t|]\s*|\s*;\s*(?=[^;]*;)|(?<=;)\s*")
_DOSE = re.compile(r"\d+\s*[x×]\s*\d")
_ENDS_IN_DOSE = re.compile(r"\d+\s*[x×]\s*\d+\S*\s*$")
_DOSES = re.compile(r"\d\s*[x×]\s*\d+\S*(?:\s+(?:s|sec|min|m))?(?=\s+\d+\s*[x×]|\s*$)")
_SETS = re.compile(r"(\d+)\s*[x×]\s*\d+(?:\s*[x×]\s*\d+\s*%|\s*(?:s|sec|min)\b)")
_NAME = re.compile(r"[^\d]*")


def first_column(text: str) -> tuple[str, list[str]]:
    """Return a line without the columns of later weeks, and these, which are kept as words."""
    if name := _before_doses(text):
        return name, [text[len(name) :].strip()]
    columns = [_WEEK.sub("", column) for column in _SEPARATOR.split(text)]
    doses = [column for column in columns[1:] if _DOSE.match(column.strip())]
    if len(doses) < 2 or len(doses) < len(columns) - 1:
        return _one_line(text, columns), []
    stripped = [column.strip() for column in columns]
    if _ENDS_IN_DOSE.search(columns[0]):
        return columns[0], stripped[1:]
    return f"{columns[0]} {columns[1]}", stripped[2:]


def _before_doses(text: str) -> str:
    """Return the name in front of three doses in a row, which are sets of one day or of three weeks; "" for none."""
    if re.search(r"[,;+]", text) or len(_DOSES.findall(text)) < 3 or len(_SETS.findall(text)) < 3:
        return ""
    name = _NAME.match(text)
    return name[0] if name and name[0].strip() else ""


def _one_line(text: str, columns: list[str]) -> str:
    if not re.search(r"[\t|]|;.*;", text):
        return _WORDS_APART.sub(", ", _GAP.sub(", ", text))
    return _row(columns) if len(columns) > 2 else text


def _row(columns: list[str]) -> str:
    """Write a row of a table as a line: a count of sets stands before "×" and the repetitions."""
    row: list[str] = []
    for cell in (column.strip() for column in columns):
        if row and row[-1].isdigit() and len(row[-1]) < 3 and re.match(r"\d", cell):
            row[-1] = f"{row[-1]} x {cell}"
        elif cell:
            row.append(cell)
    return ", ".join(row)
