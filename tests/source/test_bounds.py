"""What a file may hold: every bound is told with its place, and what may wait for ever is never waited for."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from repslate import api
from repslate.source import bounds
from repslate.source.finding import Finding, Severity

FRONT = "---\nformat: 1\ntitle: T\n---\n"
BLOCK = FRONT + "## Straight sets\n\n"
EXERCISE = BLOCK + "### Goblet squat\n3 × 8, rest 60 s\n\n"


def cues(text: str, count: int) -> str:
    clocks = [f"{n // 3600:02}:{n // 60 % 60:02}:{n % 60:02}" for n in range(count)]
    return "".join(f"{n}\n{clock},000 --> {clock},900\n{text}\n\n" for n, clock in enumerate(clocks, 1))


#: The file, what it holds, the line that is told, and the words.
TOO_MUCH = [
    ("workout.md", EXERCISE + "word " * 1_001, 10, "5,005 characters in one line, expected at most 5,000"),
    ("workout.md", EXERCISE + "a\n" * 4_000, 4_001, "4,010 lines, expected at most 4,000"),
    ("workout.md", BLOCK + "### Goblet squat\n3 × 8, rest 60 s\n" * 121, 247, "121 exercises, expected at most 120"),
    ("workout.md", BLOCK + "## Straight sets\n" * 130, 126, "131 headings"),
    ("workout.md", BLOCK + "### " + "squat " * 40, 7, "239 characters in a heading, expected at most 200"),
    ("workout.md", EXERCISE + "![A squat](a.png)\n\n" * 201, 410, "201 pictures, expected at most 200"),
    ("chapters.txt", "".join(f"{n}:00 Row\n" for n in range(301)), 301, "301 chapters, expected at most 300"),
    ("subtitles.srt", cues("word " * 2_001, 1), 2, "characters in one subtitle, expected at most 10,000"),
    ("subtitles.srt", cues("and so we move on " * 10, 600), 2002, "30,000 words, expected at most 25,000"),
    ("subtitles.srt", cues("one 2 " * 10, 300), 1002, "6,000 numbers, expected at most 5,000"),
]


def found_in(folder: Path, file: str, text: str) -> Iterator[Finding]:
    folder.mkdir()
    (folder / "workout.md").write_text(EXERCISE, "utf-8")
    (folder / file).write_text(text, "utf-8")
    yield from api.check(folder).findings


@pytest.mark.parametrize(("file", "text", "line", "says"), TOO_MUCH, ids=[one[3] for one in TOO_MUCH])
def test_what_is_too_much_is_an_error_at_its_place(tmp_path: Path, file: str, text: str, line: int, says: str) -> None:
    (found,) = (one for one in found_in(tmp_path / "ep", file, text) if one.check == "too-much")
    assert says in found.message
    assert (found.severity, found.span.file, found.span.line) == (Severity.ERROR, file, line)


@pytest.mark.parametrize(
    ("file", "most"),
    [
        ("workout.md", bounds.WORKOUT),
        ("series.yaml", bounds.SETTINGS),
        ("exercises.yaml", bounds.EXERCISES_FILE),
        ("chapters.txt", bounds.CHAPTERS_FILE),
    ],
)
def test_a_file_of_settings_or_words_has_a_size(tmp_path: Path, file: str, most: int) -> None:
    (found,) = (one for one in found_in(tmp_path / "ep", file, "# a\n" * (most // 4 + 1)) if "bytes" in one.message)
    assert f"expected at most {most:,}" in found.message


PLACES = (
    "workout.md series.yaml exercises.yaml chapters.txt chapters.vtt chapters.ffmeta subtitles.srt subtitles.vtt "
    "transcript.txt cut.edl cut.otio cut.mp4 cut.mkv"
).split()


def run(folder: Path, *line: str | Path) -> str:
    command = [sys.executable, "-m", "repslate", *map(str, line)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, cwd=folder)
    assert done.returncode in (0, 1, 2), done.stderr
    return done.stdout + done.stderr


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no pipes with names")
@pytest.mark.parametrize("name", PLACES)
def test_a_pipe_in_an_episode_is_told(tmp_path: Path, name: str) -> None:
    (tmp_path / "workout.md").write_text(EXERCISE, "utf-8")
    (tmp_path / name).unlink(missing_ok=True)
    os.mkfifo(tmp_path / name)
    assert "no ordinary file" in (told := run(tmp_path, "check", ".").replace("not an", "no")), told


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="has no devices with names")
@pytest.mark.parametrize(
    "line",
    [
        ("audit", ".", "--text", "/dev/zero", "--as", "caption"),
        ("heard", "endless.srt"),
        ("draft", "endless.srt", "--out", "drafted"),
        ("retime", ".", "--from", "endless.srt", "--to", "endless.srt"),
        ("check", "."),
    ],
    ids=lambda line: line[0],
)
def test_a_device_is_told_and_not_read(tmp_path: Path, line: tuple[str, ...]) -> None:
    (tmp_path / "workout.md").write_text(EXERCISE, "utf-8")
    (tmp_path / "chapters.txt").write_text("0:00 Goblet squat\n", "utf-8")
    for name in ("endless.srt", "subtitles.srt"):
        (tmp_path / name).symlink_to("/dev/zero")
    told = run(tmp_path, *line)
    assert "ordinary file" in told or "no file" in told or "no folder" in told, told
