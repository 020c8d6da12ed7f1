"""README against the code: what it lists is what there is, and what it shows is what happens.

After a wanted change, REPSLATE_GOLDEN=write pytest tests/test_readme.py rewrites the generated parts: read the diff.
"""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from repslate import checks
from repslate.cli.app import app
from repslate.model.block_heading import parse_heading, write_heading
from repslate.model.episode import FrontMatter
from repslate.model.prescription import parse, write
from repslate.model.schemas import MODELS
from repslate.model.series import SeriesFile
from repslate.publish import OUTPUTS
from repslate.source.mapping import read_mapping
from repslate.source.models import keys, read_model
from repslate.source.span import Span

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
ROW = re.compile(r"^\| (.*) \|$", re.MULTILINE)


def text() -> str:
    return README.read_text("utf-8")


def rows(after: str, columns: int) -> list[list[str]]:
    """Return the cells of the first table behind the words `after`."""
    table = re.search(r"(?:^\|.*\|\n)+", text()[text().index(after) :], re.MULTILINE)
    assert table
    cells = [re.split(r"(?<!\\) \| ", row) for row in ROW.findall(table[0])[2:]]
    assert all(len(row) == columns for row in cells), cells
    return cells


def names(cell: str) -> list[str]:
    return re.findall(r"`([^`]+)`", cell)


def put(pattern: str, wanted: str) -> None:
    """Demand that the part of README that `pattern` finds reads as `wanted`."""
    if os.environ.get("REPSLATE_GOLDEN") == "write":
        README.write_text(re.sub(pattern, lambda _: wanted, text(), count=1, flags=re.DOTALL), "utf-8")
    found = re.search(pattern, text(), flags=re.DOTALL)
    assert found
    assert found[0] == wanted


def first(printed: str, lines: int) -> str:
    return "".join([*printed.splitlines(keepends=True)[:lines], "…\n"])


def fields(document: Any) -> list[str]:
    """Name the fields of a JSON document in the order they come: blocks[].exercises[].name."""

    def walk(value: Any, path: str) -> list[str]:
        if isinstance(value, dict):
            return [name for key, inner in value.items() for name in walk(inner, f"{path}.{key}" if path else key)]
        if isinstance(value, list) and value and isinstance(value[0], dict):
            merged: dict[str, Any] = {}
            for item in value:
                merged |= {key: inner for key, inner in item.items() if merged.get(key) in (None, [])}
            return walk(merged, f"{path}[]")
        return [path]

    return walk(document, "")


@pytest.mark.parametrize("typed", rows("### The notation", 2), ids=lambda row: row[0])
def test_notation_reads_as_shown(typed: list[str]) -> None:
    given, shown = (names(cell)[0] for cell in typed)
    prescription, findings = parse(given, Span("workout.md"))
    assert prescription is not None, findings
    assert write(prescription) == shown


@pytest.mark.parametrize("typed", rows("Tempo is lowering", 2), ids=lambda row: row[0])
def test_block_headings_read_as_shown(typed: list[str]) -> None:
    given, shown = (names(cell)[0].replace("\\|", "|") for cell in typed)
    heading, findings = parse_heading(given, Span("workout.md"))
    assert heading is not None, findings
    assert write_heading(heading) == shown


def test_every_command_is_listed() -> None:
    listed = {names(row[0])[0].split()[1] for row in rows("## Commands", 2)}
    assert listed == {
        command.name or command.callback.__name__ for command in app.registered_commands if command.callback
    }


@pytest.mark.parametrize("name", MODELS)
def test_every_key_is_listed(name: str) -> None:
    listed = CliRunner().invoke(app, ["explain", name]).stdout
    assert {
        key for key in keys(MODELS[name][1]) if not re.search(rf"^(?:.*, )?{key}(?:, .*)?:", listed, re.MULTILINE)
    } == set()
    assert f"`repslate explain {name}`" in text()


@pytest.mark.parametrize(
    ("before", "model"), [("every key.\n\n```yaml\n", FrontMatter), ("lists them.\n\n```yaml\n", SeriesFile)]
)
def test_the_settings_shown_are_read_without_a_finding(before: str, model: type) -> None:
    shown = text().split(before)[1].split("```")[0]
    mapping, findings = read_mapping(shown, "x.yaml")
    assert mapping is not None
    assert (*findings, *read_model(model, mapping, "x", model())[1]) == ()


def test_every_output_is_listed() -> None:
    listed = {name for row in rows("## What is written", 2) for name in names(row[0])}
    assert listed == {output.name.replace("{slug}", "<slug>") for output in OUTPUTS} | {"build.json"}


def test_every_check_is_listed() -> None:
    listed = CliRunner().invoke(app, ["explain", "checks"]).stdout.splitlines()
    assert [re.split(r"  +", line) for line in listed] == [list(row) for row in checks.table()]


def test_check_output_is_the_real_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    episode = "samples/faulty/bar-basics"
    result = CliRunner().invoke(app, ["check", episode, "--format", "text"])
    assert result.exit_code == 1
    put(rf"```text check {episode}\n.*?```", f"```text check {episode}\n{first(result.stdout, 4)}```")


def test_the_audit_after_three_edits_is_the_real_one(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "samples/boathouse-kettlebells", tmp_path / "monday")
    shutil.copy(ROOT / "samples/series.yaml", tmp_path)
    monkeypatch.chdir(tmp_path)
    assert CliRunner().invoke(app, ["build", "monday"]).exit_code == 0
    built = tmp_path / "output/12-boathouse-kettlebells"
    for name, old, new in (
        ("article.md", "Lower slowly.", "Come down slowly and with control."),  # says the same
        ("article.html", "8–10 reps per side", "8–12 reps per side"),
        ("article.md", " A smaller squat still counts.", ""),
        ("caption.txt", "Advertisement: Velloway Chalk paid for this episode. The training plan is our own.", ""),
    ):
        text = (built / name).read_text("utf-8")
        assert old in text
        (built / name).write_text(text.replace(old, new, 1), "utf-8")
    result = CliRunner().invoke(app, ["audit", "monday", "--format", "text"])
    assert result.exit_code == 1
    put(r"```text audit\n.*?```", f"```text audit\n{first(result.stdout, 3)}```")


@pytest.mark.parametrize(
    ("command", "episode"),
    [("check", "faulty/leg-day-draft"), ("show", "boathouse-kettlebells"), ("heard", "harbour-cut")],
)
def test_json_fields_are_listed(command: str, episode: str) -> None:
    document = json.loads(
        CliRunner().invoke(app, [command, str(ROOT / "samples" / episode), "--format", "json"]).stdout
    )
    if command != "check":
        document["findings"] = []
    listed = re.search(
        rf"^{command}:\n((?:    .*\n)+)", CliRunner().invoke(app, ["explain", "json"]).stdout, re.MULTILINE
    )
    assert listed
    assert listed[1].split() == fields(document)


@pytest.mark.parametrize("name", ["build", "test"])
def test_a_command_is_one_line(name: str) -> None:
    block = re.search(rf"^```sh {name}\n(.*?)^```", text(), re.MULTILINE | re.DOTALL)
    assert block
    assert block[1].count("\n") == 1
