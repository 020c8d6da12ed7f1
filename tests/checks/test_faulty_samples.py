"""The faulty samples get exactly the findings that stand marked in them, each on its line."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from repslate.checks import run
from repslate.facts import Facts
from repslate.source.finding import Finding

FAULTY = Path(__file__).parents[2] / "samples" / "faulty"
FOLDERS = sorted(path.parent for path in FAULTY.glob("*/workout.md"))
_MARK = re.compile(r"^\s*(?:<!--|#) expect: ([a-z, -]+?)\s*(?:-->)?$")

Mark = tuple[str, int, str]
Read = Callable[[Path], tuple[Facts | None, tuple[Finding, ...]]]


def marks(folder: Path) -> Iterator[Mark]:
    """Yield (file, line, name) of what the samples expect: a mark speaks of the line below it."""
    for path in sorted(folder.rglob("*.*")):
        for number, line in enumerate(path.read_text("utf-8", errors="replace").splitlines(), 1):
            if mark := _MARK.match(line):
                for name in mark[1].split(","):
                    yield path.relative_to(folder).as_posix(), number + 1, name.strip()


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_found_is_what_is_marked(folder: Path, read: Read) -> None:
    facts, findings = read(folder)
    if facts is not None:
        findings, _ = run(facts, read=findings)
    found = {(finding.span.file, finding.span.line, finding.check) for finding in findings}
    assert sorted(found) == sorted(set(marks(folder)))


def test_enough_is_seeded() -> None:
    seeded = [mark for folder in FOLDERS for mark in marks(folder)]
    assert len(seeded) >= 30
    assert len({name for _, _, name in seeded}) >= 30
