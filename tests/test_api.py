"""The recipe: what the folder of an episode holds becomes facts, and nothing in it is passed over in silence."""

from __future__ import annotations

from pathlib import Path

import pytest

from repslate import api
from repslate.source.finding import Severity

WORKOUT = """---
format: 1
title: Tiny
slug: tiny
---
## Straight sets
### Goblet squat
3 × 8, rest 90 s
### Goblet squat
3 × 8, rest 90 s
![A squat](pictures/used.jpg)
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    episode = tmp_path / "tiny"
    (episode / "pictures").mkdir(parents=True)
    (episode / "workout.md").write_text(WORKOUT, "utf-8")
    return episode


def shown(folder: Path) -> list[list[str]]:
    facts = api.read(folder).value
    assert facts is not None
    return [[picture.path for picture in exercise.pictures] for _, exercise in facts.episode.exercises()]


def test_a_picture_named_after_an_exercise_is_its_picture_unless_one_is_named(folder: Path) -> None:
    for name in ("goblet-squat.png", "goblet-squat.jpg", "goblet-squat-2.jpg", "used.jpg", "goblet-squat.txt"):
        (folder / "pictures" / name).touch()
    (folder / "goblet-squat.jpg").touch()
    assert shown(folder) == [["pictures/goblet-squat.jpg"], ["pictures/used.jpg"]]


def test_files_that_only_seem_to_lie_in_the_folder_do_not_count(folder: Path) -> None:
    (folder.parent / "outside.jpg").touch()
    (folder / "pictures" / "goblet-squat.jpg").symlink_to(folder.parent / "outside.jpg")
    facts = api.read(folder).value
    assert facts is not None
    assert facts.files == {"workout.md"}
    assert shown(folder) == [[], ["pictures/used.jpg"]]


@pytest.mark.parametrize("name", ["chapters.txt", "chapters.vtt"])
def test_a_file_of_markers_that_cannot_be_read_is_an_error_and_counts_as_there(folder: Path, name: str) -> None:
    (folder / name).write_bytes(b"\xff\xff")
    reading = api.read(folder)
    assert reading.value is not None
    assert reading.value.has_markers
    assert [finding.span.file for finding in reading.findings if finding.severity is Severity.ERROR] == [name]


def test_two_files_of_markers_are_an_error(folder: Path) -> None:
    (folder / "chapters.txt").write_text("0:00 Welcome\n")
    (folder / "chapters.vtt").write_text("WEBVTT\n")
    assert "markers-twice" in [finding.check for finding in api.read(folder).findings]


def test_settings_of_the_series_are_an_input(folder: Path) -> None:
    (folder.parent / "series.yaml").write_text("brand: Example\n")
    facts = api.read(folder).value
    assert facts is not None
    assert facts.inputs == ("../series.yaml", "pictures/used.jpg", "workout.md")


PICTURE = "![A squat](pictures/none.jpg)\n\n"
FRONT, BLOCK, EXERCISE = (
    "---\nformat: 1\ntitle: T\n---\n",
    "## Straight sets\n",
    "### Goblet squat\n3 × 8, rest 90 s\n\n",
)


@pytest.mark.parametrize("as_text", [True, False])
@pytest.mark.parametrize(
    ("workout", "found"),
    [
        (f"{FRONT}{PICTURE}{BLOCK}{EXERCISE}", "picture-misplaced"),
        (f"{FRONT}{BLOCK}{PICTURE}{EXERCISE}", "picture-misplaced"),
        (f"{FRONT}{BLOCK}{EXERCISE}## Safety\nClear the floor.\n\n{PICTURE}", "picture-misplaced"),
        (f"{FRONT}{BLOCK}{EXERCISE}## Notes\nSome.\n\n{PICTURE}", "picture-misplaced"),
        (f"{FRONT}{BLOCK}{EXERCISE}{PICTURE}", "picture-missing"),
        (f"{FRONT}{BLOCK}{EXERCISE}Cues:\n- see {PICTURE}", "picture-missing"),
    ],
)
def test_no_picture_is_lost_without_a_word(tmp_path: Path, workout: str, found: str, *, as_text: bool) -> None:
    (tmp_path / "workout.md").write_text(workout, "utf-8")
    findings = api.check(workout if as_text else tmp_path).findings
    assert [one.check for one in findings if one.check.startswith("picture-")] == [found]
