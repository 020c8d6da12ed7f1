"""Plain transcripts: which paragraphs are read at which times, and what is said of lines that cannot be placed."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate import api
from repslate.cut.subtitles import is_coarse, read_subtitles
from repslate.source.finding import Finding, Severity

# What stands in the file, and the cues as (start, end, text). The last one ends after its words, 5 in 2 s.
READ = {
    "square brackets": (
        "[0:00] Hello and welcome.\n\n[0:14] Goblet squats, ten of them.\n",
        [(0, 14, "Hello and welcome."), (14, 16, "Goblet squats, ten of them.")],
    ),
    "no brackets": ("0:05 One two\n1:02:03 three", [(5, 3723, "One two"), (3723, "3723.4", "three")]),
    "round brackets and hours": (
        "(0:59:58) a b c d e\n(1:00:05.5) f",
        [(3598, "3605.5", "a b c d e"), ("3605.5", "3605.9", "f")],
    ),
    "the time on a line of its own": ("0:00\nHello\nthere\n0:09\nBye", [(0, 9, "Hello\nthere"), (9, "9.4", "Bye")]),
    "with an end": ("[0:10 - 0:12] Ten swings\n[0:30] Rest", [(10, 12, "Ten swings"), (30, "30.4", "Rest")]),
    "an arrow": ("00:10 --> 00:12 Ten swings", [(10, 12, "Ten swings")]),
    "a colon and a dash behind the time": (
        "0:10: Ten swings\n0:20 - rest",
        [(10, 20, "Ten swings"), (20, "20.4", "rest")],
    ),
    "wrapped lines, one of them with a figure first": (
        "[0:10] Do\n3 sets\n10:30 is when we start\n[0:20] x",
        [(10, 20, "Do\n3 sets\n10:30 is when we start"), (20, "20.4", "x")],
    ),
    "more minutes than an hour has": ("[75:00] x", [(4500, "4500.4", "x")]),
    "the line ends of another system": ("\ufeff[0:01] x\r\n[0:03] y", [(1, 3, "x"), (3, "3.4", "y")]),
}


@pytest.mark.parametrize(("text", "cues"), READ.values(), ids=READ)
def test_paragraphs_become_cues(text: str, cues: list[tuple[str | int, str | int, str]]) -> None:
    read, findings = read_subtitles(text, "transcript.txt")
    assert [(one.start, one.end, one.text) for one in read] == [
        (Fraction(start), Fraction(end), said) for start, end, said in cues
    ]
    assert [one.check for one in findings] == ["transcript-coarse"]


# What stands in the file, and each finding as (line, severity, a part of its message); the coarse note aside.
TOLD = {
    "a title": (
        "Leg day\n[0:01] x",
        [(1, Severity.WARNING, "found “Leg day”, expected a time before the first words; it is left out")],
    ),
    "a title of two lines": ("Leg day\nby Robin\n[0:01] x", [(1, Severity.WARNING, "and 1 more lines")]),
    "no time": ("[0:01] x\n[1:75] lost words\n[2:00] y", [(2, Severity.ERROR, "its words are left out")]),
    "no end": ("[0:01-0:99] lost words\n[2:00] y", [(1, Severity.ERROR, "“0:99” is not a time")]),
    "no words": ("[0:01]\n[2:00] y", [(1, Severity.WARNING, "found no words after 0:01, expected some")]),
    "back in time": ("[0:05] x\n[0:02] y", [(2, Severity.WARNING, "found 0:02, expected a time after 0:05, as above")]),
    "an end before its start": ("[0:05-0:02] x", [(1, Severity.WARNING, "found 0:02, expected an end after 0:05")]),
    "many of a kind": ("[0:05] x\n[0:02] y\n[0:01] z", [(2, Severity.WARNING, "(and 1 more in this file)")]),
    "no times at all": (
        "Hello\nyou",
        [(1, Severity.ERROR, "found “Hello”, expected paragraphs that begin with a time such as [1:05]")],
    ),
    "nothing": ("\n \n", [(1, Severity.WARNING, "found nothing in this file")]),
}


@pytest.mark.parametrize(("text", "told"), TOLD.values(), ids=TOLD)
def test_what_cannot_be_placed_is_told(text: str, told: list[tuple[int, Severity, str]]) -> None:
    _, findings = read_subtitles(text, "transcript.txt")
    said = [one for one in findings if one.check != "transcript-coarse"]
    assert [(one.span.line, one.severity) for one in said] == [row[:2] for row in told]
    for one, (_, _, part) in zip(said, told, strict=True):
        assert part in one.message
        assert one.help


def test_a_transcript_is_told_as_coarse_at_its_longest_paragraph() -> None:
    _, (note,) = read_subtitles("[0:00] a\n[0:10] b\n[1:20] c", "transcript.txt")
    assert (note.check, note.severity, note.span.line) == ("transcript-coarse", Severity.NOTE, 2)
    assert "the longest of 70 s" in note.message
    assert [is_coarse(name) for name in ("transcript.txt", "subtitles.srt", "")] == [True, False, False]


@given(st.text("[]()0123456789:.-> ab\n", max_size=60))
def test_every_line_is_read_or_told(text: str) -> None:
    cues, findings = read_subtitles(text, "transcript.txt")
    assert all(0 <= one.start < one.end for one in cues)
    spoken = "".join(one.text for one in cues)
    if any(letter in "ab" for letter in text) and not spoken:
        assert any(one.check != "transcript-coarse" for one in findings)
    assert all(isinstance(one, Finding) and one.help for one in findings)


def test_an_episode_may_have_a_transcript_in_place_of_subtitles(tmp_path: Path) -> None:
    (tmp_path / "workout.md").write_text("## Straight sets\n### Goblet squat\n3 × 10, rest 90 s\n", "utf-8")
    (tmp_path / "transcript.txt").write_text("[0:02] Goblet squats, twelve reps, three sets.\n", "utf-8")
    reading = api.read(tmp_path)
    assert reading.value is not None
    assert reading.value.heard is not None
    assert reading.value.heard.coarse
    assert "transcript.txt" in reading.value.inputs
    (tmp_path / "subtitles.srt").write_text("1\n00:00:02,000 --> 00:00:04,000\nGoblet squats.\n", "utf-8")
    reading = api.read(tmp_path)
    assert reading.value is not None
    assert reading.value.heard is not None
    assert not reading.value.heard.coarse
    assert "cut-file-unread" in {one.check for one in reading.findings}


def test_chapters_move_by_a_transcript(tmp_path: Path) -> None:
    words = [f"word{number} of the talk goes on" for number in range(40)]
    for name, cut in (("old.txt", 0), ("new.txt", 10)):
        lines = [f"[{at * 5 // 60}:{at * 5 % 60:02}] {said}" for at, said in enumerate(words[cut:])]
        (tmp_path / name).write_text("\n".join(lines), "utf-8")
    (tmp_path / "chapters.txt").write_text("1:40 Goblet squat\n", "utf-8")
    moved = api.retime(tmp_path, tmp_path / "old.txt", tmp_path / "new.txt")
    assert moved.value is not None
    starts = [float(one.to or 0) for one in moved.value.chapters]
    assert starts == pytest.approx([50], abs=1), json.dumps(str(moved.findings))
    assert "transcript-coarse" in {one.check for one in moved.findings}
