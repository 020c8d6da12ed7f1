"""`repslate draft` as it is typed: what is written, what is refused, and that nothing is written over."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from typer.testing import CliRunner

from repslate.cli import draft
from repslate.cli.app import app

SUBTITLES = """1
00:00:01,000 --> 00:00:14,000
Hello, I'm Robin, welcome back to the barn, it is a cold one, you can see my breath. Last week went by so fast that I
forgot to say thank you for the letters, so thank you, and today is a short one, nothing fancy, and then it is tea time.

2
00:00:14,250 --> 00:00:18,000
First up, goblet squats, elbows inside your knees.

3
00:00:18,250 --> 00:00:22,000
Three sets, ten to twelve reps, rest ninety seconds.

4
00:01:10,000 --> 00:01:14,000
Next, split squats, chest up, eight reps each side.
"""
NAMES = ["chapters.txt", "subtitles.srt", "workout.md"]


@pytest.fixture
def subtitles(tmp_path: Path) -> Path:
    path = tmp_path / "talk.srt"
    path.write_text(SUBTITLES, "utf-8")
    return path


def run(*words: str | Path) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, list(map(str, words)))
    return result.exit_code, result.stdout, result.stderr


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_draft_is_shown_and_checked_as_any_workout(subtitles: Path, tmp_path: Path) -> None:
    out = tmp_path / "08-short-legs"
    code, told, err = run("draft", subtitles, "--out", out)
    assert (code, err) == (0, "")
    assert names(out) == NAMES
    assert (out / "subtitles.srt").read_bytes() == subtitles.read_bytes()
    shown = json.loads(run("show", out, "--format", "json")[1])
    assert (shown["title"], shown["presenter"]) == ("Short legs", "Robin")
    (block,) = shown["blocks"]
    squat, split = block["exercises"]
    assert (squat["name"], squat["sets"], squat["reps"], squat["rest"]) == ("Goblet squat", [3, 3], [10, 12], [90, 90])
    assert (split["name"], split["sets"], split["reps"], split["per_side"]) == ("Split squat", None, [8, 8], True)
    assert [(one["title"], one["exercise"]) for one in shown["chapters"]][-2:] == [
        ("Goblet squat", "goblet-squat"),
        ("Split squat", "split-squat"),
    ]
    assert "  Split squat  how many sets" in told.splitlines()
    gaps = (out / "workout.md").read_text("utf-8").count("gap: ")
    assert f"{gaps - 1} gaps to fill" in told  # the working title has a remark of its own


def test_nothing_is_written_over(subtitles: Path, tmp_path: Path) -> None:
    out = tmp_path / "here"
    out.mkdir()
    (out / "chapters.txt").write_text("0:00 Mine\n", "utf-8")
    code, _, err = run("draft", subtitles, "--out", out)
    assert code == 2
    assert "chapters.txt is there already" in " ".join(err.split()).replace("│ ", "")
    assert names(out) == ["chapters.txt"]
    (out / "chapters.txt").rename(out / "subtitles.srt")
    assert run("draft", subtitles, "--out", out)[0] == 2
    assert names(out) == ["subtitles.srt"]
    assert (out / "subtitles.srt").read_text("utf-8") == "0:00 Mine\n"


def test_subtitles_may_lie_in_the_folder_already(subtitles: Path, tmp_path: Path) -> None:
    subtitles.rename(tmp_path / "subtitles.srt")
    assert run("draft", tmp_path / "subtitles.srt", "--out", tmp_path)[0] == 0
    assert names(tmp_path) == NAMES
    assert run("draft", tmp_path / "subtitles.srt", "--out", tmp_path)[0] == 2


def test_all_files_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    link = os.link

    def full(source: Path, target: Path) -> None:
        if target.name == "chapters.txt":
            raise FileExistsError(17, "exists", str(source), None, str(target))
        link(source, target)

    monkeypatch.setattr(os, "link", full)
    refusal = draft.write(tmp_path / "x", {"workout.md": b"a", "chapters.txt": b"b"})
    assert refusal is not None
    assert "chapters.txt is there already" in refusal
    assert names(tmp_path / "x") == []


def test_a_file_system_without_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(source: Path, target: Path) -> None:
        raise PermissionError(1, "not permitted")

    monkeypatch.setattr(os, "link", none)
    assert draft.write(tmp_path, {"workout.md": b"a"}) is None
    assert (tmp_path / "workout.md").read_bytes() == b"a"
    assert "is there already" in str(draft.write(tmp_path, {"workout.md": b"b"}))


REFUSED = {
    "no file": ("gone.srt", None, "there is no file"),
    "a film": ("cut.mp4", "x", "is a film; give a plan"),
    "no words": ("talk.srt", "", "nothing is said in"),
}


@pytest.mark.parametrize(("name", "text", "says"), REFUSED.values(), ids=REFUSED)
def test_refusals(tmp_path: Path, name: str, text: str | None, says: str) -> None:
    if text is not None:
        (tmp_path / name).write_text(text, "utf-8")
    code, out, err = run("draft", tmp_path / name, "--out", tmp_path / "new")
    assert code == 2
    assert says in " ".join(err.replace("│", "").split())
    assert not (tmp_path / "new").exists()
    assert out == ""


def test_a_transcript_gives_coarse_chapters(tmp_path: Path) -> None:
    (tmp_path / "talk.txt").write_text("[0:05] Hello.\n[0:20] Goblet squats, three sets of ten reps.\n", "utf-8")
    assert run("draft", tmp_path / "talk.txt", "--out", tmp_path / "x")[0] == 0
    assert names(tmp_path / "x") == ["chapters.txt", "transcript.txt", "workout.md"]
    assert (tmp_path / "x" / "chapters.txt").read_text("utf-8").startswith("# coarse times")


def test_a_folder_s_name_is_a_working_title() -> None:
    titles = {"08-rows-and-carries": "Rows and carries", "leg_day": "Leg day", "12": "12", "Monday": "Monday"}
    assert {name: draft.title(Path(name)) for name in titles} == titles


@pytest.mark.parametrize("command", ["heard", "draft"])
def test_help_has_an_example(command: str) -> None:
    assert f"Example: repslate {command} " in run(command, "--help")[1]
