"""Names that hold what steers a terminal, or no text at all: shown, published, never sent on and never in the way."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from repslate import cli
from repslate.cli.report import visible

SAMPLES = Path(__file__).parents[2] / "samples"
STEERING = "a\x1b]0;b\x07\x9bc\u202ed\u2066e\nf\x7f"
SHOWN = r"a\x1b]0;b\x07\x9bc\u202ed\u2066e\x0af\x7f"
WORKOUT = """---
format: 1
title: "\U0001d7d9"
---
## Straight sets
### Goblet squat
3 × 10 @ 24 kg, rest 90 s
"""

Run = Callable[..., tuple[int, str]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run one command line in an empty folder; give its exit code and all that it printed."""
    monkeypatch.chdir(tmp_path)

    def run(*typed: str | Path) -> tuple[int, str]:
        monkeypatch.setattr(sys, "argv", ["repslate", *map(str, typed)])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        code = ended.value.code
        return code if isinstance(code, int) else 0, "".join(capsys.readouterr())

    return run


@pytest.mark.parametrize(
    "typed",
    [
        ("new", STEERING),
        ("new", "taken", STEERING),
        ("check", STEERING),
        ("check", "episode", f"file{STEERING}"),
        ("check", f"--{STEERING}"),
        ("check", "episode", "--format", STEERING),
        ("explain", STEERING),
        (STEERING,),
        ("build", "episode", "--out", f"file{STEERING}"),
        ("audit", "episode", "--out", STEERING),
        ("heard", STEERING),
        ("draft", STEERING, "--out", "drafted"),
        ("chapters", "film", "--into", f"{STEERING}.mp4"),
        ("retime", "episode", "--from", STEERING, "--to", STEERING),
    ],
    ids=lambda typed: " ".join(typed[:2]).replace(STEERING, "NAME"),
)
def test_no_name_steers_the_terminal(run: Run, tmp_path: Path, typed: tuple[str, ...]) -> None:
    (tmp_path / "episode").mkdir()
    (tmp_path / "episode" / "workout.md").write_text(WORKOUT, "utf-8")
    (tmp_path / f"file{STEERING}").touch()
    if typed[0] == "chapters":
        shutil.copytree(SAMPLES / "harbour-cut", tmp_path / "film")
    code, said = run(*typed)
    assert code != cli.OWN_FAULT, said
    assert said
    assert not set(said) & set("\x1b\x07\x9b\u202e\u2066\x7f")
    assert "e\nf" not in said


def test_one_letter_stands_for_what_it_is() -> None:
    assert visible(STEERING) == SHOWN
    assert visible("caf\udce9") == r"caf\xe9"
    assert visible("שלום \u200f עולם, 3 × 10 – 🏋️ Übung") == "שלום \u200f עולם, 3 × 10 – 🏋️ Übung"


def test_json_holds_no_control_character(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / STEERING
    folder.mkdir()
    (folder / "workout.md").write_text(WORKOUT.replace("Goblet", "Gob\x7flet"), "utf-8")
    _, said = run("check", folder, "--format", "json")
    assert all(" " <= c <= "~" or c == "\n" for c in said)
    assert STEERING in json.loads(said)["findings"][0]["file"]


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the system takes no such name")
def test_folder_whose_name_is_no_text_is_like_any_other(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / os.fsdecode(b"caf\xe9")
    shutil.copytree(SAMPLES / "harbour-cut", folder)
    out = tmp_path / os.fsdecode(b"out\xe9")
    for typed in (
        ("check", folder),
        ("check", folder, "--format", "json"),
        ("build", folder, "--out", out),
        ("build", folder, "--out", out),
        ("audit", folder, "--out", out),
        ("show", folder, "--page", tmp_path / "page.html"),
        ("draft", folder / "subtitles.srt", "--out", tmp_path / os.fsdecode(b"draft\xe9")),
    ):
        code, said = run(*typed)
        assert code == 0, said
    record = json.loads(next(out.glob("*/build.json")).read_text("utf-8"))
    assert record["episode"] == r"caf\xe9"
