"""What once ended as a fault of ours: names that are too long, endless numbers and words, damaged records."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from repslate import api
from repslate.cli.app import app
from repslate.speech.numbers import singles

LONG = "x" * 300
WORKOUT = """\
---
format: 1
title: Tiny
slug: tiny
---
## Straight sets
### Goblet squat
3 × 8 @ 12 kg, rest 90 s
Caution (knees): Stop above any depth that hurts.
Caution (back): Keep your back flat.
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    episode = tmp_path / "tiny"
    episode.mkdir()
    (episode / "workout.md").write_text(WORKOUT, "utf-8")
    return episode


@pytest.mark.parametrize(
    "words",
    [
        ("check", LONG),
        ("check", "EPISODE", LONG),
        ("new", f"{LONG}/{LONG}"),
        ("heard", LONG),
        ("draft", f"{LONG}.srt", "--out", "drafted"),
        ("audit", "EPISODE", "--out", LONG),
        ("build", "EPISODE", "--out", "x" * 250 + "/" + LONG),
        ("show", LONG),
        ("retime", "EPISODE", "--from", LONG, "--to", f"{LONG}.srt"),
    ],
    ids=" ".join,
)
def test_a_name_that_is_too_long_is_no_fault(
    folder: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    result = CliRunner().invoke(app, [str(folder) if word == "EPISODE" else word for word in words])
    assert isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code in (1, 2)


@pytest.mark.parametrize("talk", ["two hundred " * 3000, "x" * 3000 + " squats", "one " * 3000, "Squat. " * 2000])
def test_endless_words_are_heard_to_their_end(talk: str) -> None:
    lines = [f"[0:{at // 60:02}:{at % 60:02}] {talk[at * 100 : at * 100 + 100]}" for at in range(len(talk) // 100 + 1)]
    assert api.hear("[0:00:00] Hello.\n" + "\n".join(lines[1:]) + "\n").value is not None


@pytest.mark.parametrize(("said", "values"), [("two hundred two hundred", [200, 200]), ("a hundred and fifty", [150])])
def test_hundreds_in_a_row_are_each_their_own(said: str, values: list[int]) -> None:
    heard = api.hear(f"[0:00] {said} metres.\n").value
    assert heard is not None
    assert [amount.low for amount in singles(heard.words)] == values


def test_talk_beside_a_workout_without_blocks_says_nothing_of_them(folder: Path) -> None:
    (folder / "workout.md").write_text("---\nformat: 1\ntitle: Tiny\n---\nNothing yet.\n", "utf-8")
    (folder / "transcript.txt").write_text("[0:00] Three rounds of goblet squats, ten reps each.\n", "utf-8")
    checked = api.check(folder)
    assert checked.failed
    assert checked.value is not None


def test_a_record_of_other_things_than_digests_is_none(folder: Path) -> None:
    out = folder.parent / "out"
    built = api.build(folder, out).value
    assert built is not None
    record = json.loads((built.folder / "build.json").read_bytes())
    record["outputs"] = {name: [digest] for name, digest in record["outputs"].items()}
    (built.folder / "build.json").write_text(json.dumps(record), "utf-8")
    assert api.build(folder, out).value is not None


def test_a_timeline_over_which_its_library_ends_the_process_is_a_finding(folder: Path) -> None:
    clip = {"OTIO_SCHEMA": "UnknownSchema.1", "name": "a"}
    stack = {"OTIO_SCHEMA": "Stack.1", "name": "s", "markers": [], "children": [], "metadata": {"x": clip}}
    (folder / "cut.otio").write_text(json.dumps({"OTIO_SCHEMA": "Timeline.1", "name": "t", "tracks": stack}), "utf-8")
    command = [sys.executable, "-m", "repslate", "check", str(folder)]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 1, run.stderr
    assert "UnknownSchema" in run.stdout
