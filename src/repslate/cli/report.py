"""Prints findings for a person at a terminal, or one a line for editors and scripts."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from repslate.source.places import shown_path

if TYPE_CHECKING:  # `--help` shows no finding
    from rich.console import Console
    from rich.text import Text

    from repslate.source.finding import Finding

COLOURS = {"error": "bold red", "warning": "bold yellow", "note": "bold blue"}
_INVISIBLE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})  # what steers a terminal, and what no encoding has
_KEPT = "\u200c\u200d\u200e\u200f\u061c"  # joiners of emoji and some scripts, marks of texts from right to left
_MARGIN = 4  # blanks before a source line


def visible(text: str) -> str:
    r"""Return the text with "\x1b" for what would steer a terminal, turn its writing round or break its line.

    A byte of a file's name that is no UTF-8 comes out as "\xff".
    """
    row = text.replace("\t", " ")
    return row if row.isprintable() else "".join(_escaped(c) if _is_hidden(c) else c for c in row)


def _is_hidden(c: str) -> bool:
    return not c.isprintable() and unicodedata.category(c) in _INVISIBLE and c not in _KEPT


def _escaped(c: str) -> str:
    code = ord(c)
    if 0xDC80 <= code <= 0xDCFF:  # as Python holds the bytes 0x80 to 0xFF of such a name
        code -= 0xDC00
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _cells(row: str) -> str:
    """Do what `visible` does to a source line, one character for one, so that its columns hold."""
    return "".join("\ufffd" if _is_hidden(c) else c for c in row.replace("\t", " "))


def line(finding: Finding, folder: Path) -> str:
    """Return the finding as "file:line:column: severity: message [check] fix: help"."""
    span = finding.span
    place = f"{shown_path(folder, span.file)}:{span.line}:{span.column}"
    fix = f" fix: {finding.help}" if finding.help else ""
    return visible(f"{place}: {finding.severity}: {finding.message} [{finding.check}]{fix}")


def full(finding: Finding, folder: Path, console: Console) -> None:
    """Print the finding with its source line and a run of carets under the very characters it is about."""
    from rich.padding import Padding
    from rich.text import Text

    span = finding.span
    console.print(
        Text(visible(f"{shown_path(folder, span.file)}:{span.line}:{span.column}"), style="dim"), soft_wrap=True
    )
    for row in _source(finding, folder, console.width):
        console.print(row, soft_wrap=True)
    said = Text.assemble((finding.severity.value, COLOURS[finding.severity]), ": ", visible(finding.message))
    console.print(Padding(said + Text(f" [{finding.check}]", style="dim"), (0, 0, 0, 2)))
    for word, text in (("fix", finding.help), ("why", finding.because)):
        if text:
            console.print(Padding(Text.assemble((f"{word}: ", "bold"), visible(text)), (0, 0, 0, 2)))
    console.print()


def _source(finding: Finding, folder: Path, width: int) -> Iterable[Text]:
    """Yield the source line and the carets; nothing if the line is not there."""
    from rich.text import Text

    from repslate.source.text import read_text

    span = finding.span
    text, _ = read_text(folder / span.file, span.file)
    lines = text.split("\n") if text is not None else []
    if not (0 < span.line <= len(lines)) or not lines[span.line - 1].strip():
        return
    row, before, under = _window(_cells(lines[span.line - 1]), span.column - 1, span.length, width - _MARGIN)
    yield Text(" " * _MARGIN + row)
    yield Text(" " * (_MARGIN + before) + "^" * under, style=COLOURS[finding.severity])


def _window(row: str, start: int, length: int, width: int) -> tuple[str, int, int]:
    """Return the part of a source line that fits `width` cells, the cells before the span in it, and the span's cells.

    A wide character takes two cells, a combining one none.
    """
    from rich.cells import cell_len

    first = 0
    while first < start and cell_len(row[first : start + min(length, 8)]) > width * 2 // 3:
        first += 1
    last = len(row)
    mark = "…" if first else ""
    while last > start + 1 and cell_len(mark + row[first:last]) > width - (last < len(row)):
        last -= 1
    before = cell_len(mark + row[first:start])
    under = max(1, cell_len(row[start : min(start + length, last)]))
    return mark + row[first:last] + ("…" if last < len(row) else ""), before, under


def counted(findings: Collection[Finding], quieted: int = 0) -> str:
    """Return "2 errors, 1 warning", or "nothing to say" where there is nothing."""
    parts = []
    for severity in COLOURS:  # the worst first
        count = sum(finding.severity == severity for finding in findings)
        if count:
            parts.append(f"{count} {severity}{'' if count == 1 else 's'}")
    if quieted:
        parts.append(f"{quieted} quieted")
    return ", ".join(parts) or "nothing to fix"
