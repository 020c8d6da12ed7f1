"""The page behind each finding: what it asks, why, whose figure it is, a wrong and a right example, how to fix it.

A check's page is its docstring, so that it stands beside the code it explains. The pages of all other findings, those
of readers, of publishing and of the audit, are Markdown files of the same parts in the folder findings; the folder
numbers tells how the computed numbers are worked out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from inspect import cleandoc
from pathlib import Path

from repslate.source.finding import Severity

FINDINGS = Path(__file__).parents[1] / "findings"
NUMBERS = FINDINGS.parent / "numbers"
PARTS = ("Why", "Source", "Wrong", "Right", "Fix")
#: The source of a page that names none.
TRADE = "common practice, no source."
_PART = re.compile(rf"^({'|'.join(PARTS)}):[ ]?(.*)$", re.MULTILINE)
_HEAD = re.compile(rf"# (?P<name>[a-z-]+)(?: \((?P<severity>{'|'.join(Severity)})\))?\n")
_PARAGRAPH = re.compile(r"\n\s*\n|\n(?=- )")


@dataclass(frozen=True, slots=True)
class Page:
    """What `explain` says of one finding; `wrong` and `right` are source texts that the tests run.

    `severity` is the worst that is given. `safety` checks cannot be quieted without a reason. Findings that need more
    than source texts to come up, those of publishing and of the audit, have no examples.
    """

    name: str
    severity: Severity
    asks: str
    why: str
    source: str
    wrong: str
    right: str
    fix: str
    safety: bool = False


def read_page(name: str, severity: Severity, text: str, *, safety: bool = False) -> Page:
    """Return the page written in `text`, a docstring with five parts; one that is missing is "" (tests forbid it)."""
    text = cleandoc(text)
    marks = list(_PART.finditer(text))
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    parts = {mark[1]: text[mark.start(2) : end] for mark, end in zip(marks, ends, strict=True)}
    asks = text[: marks[0].start()] if marks else text
    why, source, wrong, right, fix = (parts.get(part, "") for part in PARTS)
    return Page(
        name,
        severity,
        _joined(asks),
        _joined(why),
        _joined(source) or TRADE,
        cleandoc(wrong),
        cleandoc(right),
        _joined(fix),
        safety,
    )


def read_pages() -> Iterator[Page]:
    """Yield the pages of the folder findings by name; ValueError names a file whose first line is not its heading."""
    for path in sorted(FINDINGS.glob("*.md")):
        severity, text = _headed(path)
        if severity is None:
            raise ValueError(f"{path} must begin with “# {path.stem} (error)”, or the severity it has")
        yield read_page(path.stem, severity, text)


def read_numbers() -> dict[str, tuple[str, ...]]:
    """Return by name how each number is worked out, a paragraph or row of a table each; the first says which it is."""
    pages = {path.stem: _headed(path)[1] for path in sorted(NUMBERS.glob("*.md"))}
    return {name: tuple(map(_joined, _PARAGRAPH.split(text.strip()))) for name, text in pages.items()}


def _headed(path: Path) -> tuple[Severity | None, str]:
    """Return the severity in a page's heading, None where it has none, and what stands below."""
    text = path.read_text("utf-8")
    head = _HEAD.match(text)
    if head is None or head["name"] != path.stem:
        raise ValueError(f"{path} must begin with its name, “# {path.stem}”")
    return Severity(head["severity"]) if head["severity"] else None, text[head.end() :]


def _joined(text: str) -> str:
    """Return a wrapped paragraph as one line."""
    return " ".join(text.split())
