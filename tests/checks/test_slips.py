"""Slips that other people planted in right episodes of theirs are told; the right ones get no error.

Two people who had seen neither the checks nor the samples wrote eighteen episodes and changed each in some places, as
a tired coach would: one entry of slips.jsonl a change, with the lines before and after. Those that nothing tells yet
say so; one that is told from now on has to.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from repslate import api
from repslate.source.finding import Finding, Severity

FOLDER = Path(__file__).parents[1] / "cases" / "slips"
SLIPS = [json.loads(line) for line in (FOLDER / "slips.jsonl").read_text("utf-8").splitlines()]
EPISODES = sorted({slip["episode"] for slip in SLIPS})


def key(finding: Finding) -> tuple[str, str]:
    """Return what tells two findings apart wherever they stand."""
    return finding.check, re.sub(r"line \d+", "line", finding.message)


@cache
def findings_of(episode: str) -> tuple[Finding, ...]:
    return api.check(FOLDER / episode).findings


@pytest.mark.parametrize("episode", EPISODES)
def test_a_right_episode_has_no_error(episode: str) -> None:
    assert [found for found in findings_of(episode) if found.severity is Severity.ERROR] == []


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: f"{slip['episode']}: {slip['what'][:60]}")
def test_a_slip_is_told(slip: dict[str, Any], tmp_path: Path) -> None:
    for path in (FOLDER / slip["episode"]).iterdir():
        (tmp_path / path.name).write_text(path.read_text("utf-8"), "utf-8")
    lines = (tmp_path / slip["file"]).read_text("utf-8").splitlines(keepends=True)
    for at, old, new in reversed(slip["edits"]):
        count = len(old.splitlines())
        assert "".join(lines[at - 1 : at - 1 + count]) == old
        lines[at - 1 : at - 1 + count] = [new]
    (tmp_path / slip["file"]).write_text("".join(lines), "utf-8")
    before = Counter(map(key, findings_of(slip["episode"])))
    told = Counter(map(key, api.check(tmp_path).findings)) - before
    assert bool(told) == slip["found"], told
