"""`repslate heard` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from repslate.cli.app import app

SUBTITLES = """1
00:00:01,000 --> 00:00:20,000
Hello and welcome back to the barn, it is a cold one, you can see my breath. Last week went by so fast that I forgot
to say thank you for all the letters, so thank you, and today is a short one, nothing fancy, and then it is tea time.

2
00:00:20,000 --> 00:00:24,000
Okay, first up, goblet squats, feet wide, elbows in.

3
00:00:24,250 --> 00:00:28,000
Three sets, ten to twelve reps, rest ninety seconds.

4
00:01:10,000 --> 00:01:14,000
Next, split squats, chest up, three sets of eight reps each side.
"""
WORKOUT = """---
format: 1
title: Legs
---
## Straight sets
### Goblet squat
3 × 10–12, rest 90 s

### Split squat
3 × 8 per side, rest 60 s
"""


@pytest.fixture
def episode(tmp_path: Path) -> Path:
    (tmp_path / "subtitles.srt").write_text(SUBTITLES, "utf-8")
    (tmp_path / "workout.md").write_text(WORKOUT, "utf-8")
    return tmp_path


def heard(*words: str | Path) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, ["heard", *map(str, words)])
    return result.exit_code, result.stdout, result.stderr


def test_json(episode: Path) -> None:
    code, out, err = heard(episode, "--format", "json")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert list(document) == ["figures", "coarse", "findings"]
    assert document["figures"][1] == {
        "time": 24.25,
        "field": "reps",
        "low": 10,
        "high": 12,
        "per_side": False,
        "exercise": "Goblet squat",
        "block": "Straight sets",
        "quote": "ten to twelve reps",
        "confidence": 0.9,
    }
    assert [(one["exercise"], one["per_side"]) for one in document["figures"][-1:]] == [("Split squat", True)]
    assert (document["coarse"], document["findings"]) == (False, [])


@pytest.mark.parametrize("place", [".", "subtitles.srt"], ids=["a folder without workout.md", "a file of subtitles"])
def test_subtitles_alone_are_heard(episode: Path, place: str) -> None:
    (episode / "workout.md").unlink()
    figures = json.loads(heard(episode / place, "--format", "json")[1])["figures"]
    assert [(one["exercise"], one["field"], one["low"], one["high"]) for one in figures] == [
        ("Goblet squat", "sets", 3, 3),
        ("Goblet squat", "reps", 10, 12),
        ("Goblet squat", "rest_s", 90, 90),
        ("Split squat", "sets", 3, 3),
        ("Split squat", "reps", 8, 8),
    ]


def test_lines(episode: Path) -> None:
    code, out, err = heard(episode)
    assert (code, err) == (0, "")
    assert out.splitlines() == [
        "0:24  Goblet squat  3 sets           “Three sets”",
        "0:24  Goblet squat  10–12 reps       “ten to twelve reps”",
        "0:24  Goblet squat  rest 90 s        “ninety seconds”",
        "1:10  Split squat   3 sets           “three sets”",
        "1:10  Split squat   8 reps per side  “eight reps”",
    ]


def test_a_transcript_is_told_as_coarse(episode: Path) -> None:
    transcript = episode / "talk.txt"
    transcript.write_text("[0:05] Goblet squats, three sets of ten reps.\n[0:30] Well done.\n", "utf-8")
    code, out, err = heard(transcript)
    assert code == 0
    assert out.splitlines()[-1] == "the times are those of a transcript's paragraphs, so they are coarse"
    assert "talk.txt:1:1: note: " in err
    assert json.loads(heard(transcript, "--format", "json")[1])["coarse"] is True


def test_nothing_to_hear(episode: Path) -> None:
    (episode / "subtitles.srt").write_text("1\n00:00:01,000 --> 00:00:02,000\nHello there.\n", "utf-8")
    assert heard(episode)[:2] == (0, "no figure was heard\n")
    (episode / "subtitles.srt").write_text("1\n00:01,000 --> 00:02,000\nHello there.\n", "utf-8")
    code, _, err = heard(episode)
    assert code == 1
    assert "[subtitle-unreadable]" in err
    (episode / "subtitles.srt").unlink()
    code, _, err = heard(episode)
    assert code == 2
    assert "has no subtitles" in err
    assert heard(episode / "nowhere")[0] == 2
