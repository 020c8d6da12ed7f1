"""`import repslate` as a library: what it offers, that it is light, and episodes that lie in no folder."""

from __future__ import annotations

import ast
import doctest
import importlib
import json
import pkgutil
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import repslate

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "samples" / "school-hall-circuit"
WORKOUT = """\
---
format: 1
title: Squat and push
---
## Superset A · 3 rounds · rest 60 s
### Goblet squat
10 reps @ 16 kg
Caution (knees): Stop above any depth that hurts.
Caution (back): Keep your back flat.
### Push-up
1 × 8
"""
TALK = "[0:00] Hello and welcome.\n[0:10] Three rounds of goblet squats, ten reps each.\n"


def test_all_is_what_the_package_gives() -> None:
    assert sorted(repslate.__all__) == list(repslate.__all__)
    assert all(getattr(repslate, name).__doc__ for name in repslate.__all__)
    tree = ast.parse(Path(str(repslate.__file__)).read_text("utf-8"))
    typed = {
        alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("repslate")
        for alias in node.names
    }
    assert typed == set(repslate.__all__), "type checkers see what is there, and no more"
    with pytest.raises(AttributeError, match="repslate has no cook"):
        repslate.cook  # noqa: B018


def test_the_door_stays_open_after_every_stage_is_loaded() -> None:
    """A stage of the same name as a step would take its place once it is imported."""
    for info in pkgutil.walk_packages(repslate.__path__, "repslate."):
        if not info.name.endswith("__main__"):
            importlib.import_module(info.name)
    assert all(callable(getattr(repslate, name)) for name in repslate.__all__ if name.islower())


def test_importing_it_loads_no_stage() -> None:
    loaded = "import sys, repslate; print([name for name in sys.modules if name.startswith('repslate.')])"
    assert subprocess.check_output([sys.executable, "-c", loaded], text=True) == "[]\n"


def test_its_examples_run() -> None:
    assert doctest.testmod(repslate).failed == 0


def test_readme_s_notebook_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    cell = re.search(
        r"^```python notebook\n(.*?)^```", (ROOT / "README.md").read_text("utf-8"), re.MULTILINE | re.DOTALL
    )
    assert cell
    monkeypatch.chdir(tmp_path)
    exec(compile(cell[1], "README.md", "exec"), {})  # noqa: S102 - our own README
    shown = [line.removeprefix("# ") for line in cell[1].splitlines() if line.startswith("# ")]
    assert capsys.readouterr().out.splitlines() == shown


def test_a_folder_its_workout_and_both_kinds_of_path_are_one() -> None:
    folders: list[str | Path] = [SAMPLE, str(SAMPLE), SAMPLE / "workout.md"]
    first, *others = (repslate.read(folder) for folder in folders)
    assert first.value is not None
    assert first.value.chapters
    assert all(other == first for other in others)


def test_a_text_is_an_episode_without_a_folder(tmp_path: Path) -> None:
    checked = repslate.check(WORKOUT.replace("\n", "\r\n"))
    assert checked.value is not None
    assert [one.name for _, one in checked.value.episode.exercises()] == ["Goblet squat", "Push-up"]
    assert {row.muscle: row.total.low for row in checked.value.numbers.muscles}["pectoralis major"] == 3
    built = repslate.build(WORKOUT, tmp_path)
    assert built.value is not None
    assert "article.html" in built.value.written
    assert repslate.audit(WORKOUT, tmp_path).findings == ()
    changed = repslate.audit(WORKOUT.replace("16 kg", "20 kg"), tmp_path)
    assert {one.check for one in changed.findings} >= {"audit-figure"}


@pytest.mark.parametrize("text", ["\n", "\x00\n", "no workout\nat all\n", "---\ntitle: [\n---\n"])
def test_a_text_that_is_no_episode_gives_findings(text: str, tmp_path: Path) -> None:
    result = repslate.build(text, tmp_path)
    assert result.value is None
    assert result.failed
    assert list(tmp_path.iterdir()) == []


def test_talk_may_be_a_text() -> None:
    heard = repslate.hear(TALK).value
    assert heard is not None
    assert [one.quote for one in heard.figures] == ["Three rounds", "ten reps"]
    drafted = repslate.draft(TALK, "Squats").value
    assert drafted is not None and drafted.draft is not None
    assert set(drafted.files) == {"workout.md", "chapters.txt", "transcript.txt"}
    assert "### Goblet squat" in drafted.draft.workout


def test_a_prescription_is_read_by_itself() -> None:
    assert (
        repslate.parse_prescription("3 x 8-10 each side @ 16 kg").value
        == repslate.parse_prescription("3 × 8–10 per side @ 16 kg").value
    )
    refused = repslate.parse_prescription("3 × ten-ish")
    assert refused.value is None
    assert refused.findings[0].span.column == 5


def test_every_value_is_a_document(tmp_path: Path) -> None:
    results: dict[str, repslate.Result[Any]] = {
        "blocks": repslate.check(WORKOUT),
        "written": repslate.build(WORKOUT, tmp_path),
        "files": repslate.audit(WORKOUT, tmp_path),
        "figures": repslate.hear(TALK),
        "workout": repslate.draft(TALK),
    }
    for key, result in results.items():
        document = json.loads(repslate.to_json(result))
        assert key in document
        assert "findings" in document
    finding = results["blocks"].findings[0]
    assert json.loads(repslate.to_json(finding))["check"] == finding.check
