"""`repslate retime` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from repslate.cli.app import app

SPOKEN = Path(__file__).parents[1] / "data" / "spoken" / "01-kettlebell-hips-legs"
OLD, NEW = SPOKEN / "subtitles.srt", SPOKEN / "recut-1.srt"
CHAPTERS = "0:00 Intro\n1:39.624 Glute bridge\n2:10.1 Hip switch\n"


@pytest.fixture
def episode(tmp_path: Path) -> Path:
    (tmp_path / "chapters.txt").write_text(CHAPTERS, "utf-8")
    return tmp_path


def test_json(episode: Path) -> None:
    result = CliRunner().invoke(app, ["retime", str(episode), "--from", str(OLD), "--to", str(NEW), "--format", "json"])
    assert result.exit_code == 0, result.output
    document = json.loads(result.stdout)
    intro, bridge, hips = document["chapters"]
    assert intro == {"title": "Intro", "from": 0.0, "to": 0.0, "reason": "", "offer": None}
    assert (bridge["from"], bridge["to"]) == (99.624, None)
    assert bridge["reason"].startswith("the start was cut out")
    assert bridge["offer"] == pytest.approx(86.6, abs=0.5)
    assert hips["to"] == pytest.approx(106.7, abs=0.5)
    assert (document["findings"], document["kept_as"]) == ([], None)


def test_lines_and_writing(episode: Path) -> None:
    words = ["retime", str(episode), "--from", str(OLD), "--to", str(NEW)]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "0:00 → 0:00  Intro"
    assert lines[1].startswith("1:39.624 → cut out  Glute bridge (the start was cut out: ")
    assert lines[3] == "2 of 3 chapters start in the new cut"
    assert (episode / "chapters.txt").read_text("utf-8") == CHAPTERS
    result = CliRunner().invoke(app, [*words, "--write"])
    assert result.stdout.splitlines()[-1] == "chapters.txt is written, the old one is kept as chapters.before.txt"
    assert (episode / "chapters.before.txt").read_text("utf-8") == CHAPTERS
    assert "# cut out: Glute bridge (was at 1:39.624" in (episode / "chapters.txt").read_text("utf-8")


def test_errors_go_to_standard_error(episode: Path) -> None:
    result = CliRunner().invoke(app, ["retime", str(episode), "--from", str(OLD), "--to", "gone.srt", "--write"])
    assert result.exit_code == 1
    assert "gone.srt" in result.stderr
    assert "[file-missing]" in result.stderr
    assert result.stdout == ""
