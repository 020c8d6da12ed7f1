"""Subtitles of both formats. The cases say themselves what they hold; the WebVTT files are the web platform's own."""

from __future__ import annotations

import json
import re
from datetime import timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import srt
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.cue import Cue
from repslate.cut.formats.subtitles_srt import write as write_srt
from repslate.cut.subtitles import read_subtitles
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.source.text import read_text

TESTS = Path(__file__).parents[1]
WPT = TESTS / "data/wpt-webvtt"
ASSERTED: dict[str, dict[str, Any]] = json.loads((WPT / "asserted.json").read_text("utf-8"))


def cases() -> list[Any]:
    found = []
    for kind in ("srt", "vtt"):
        _, *parts = (TESTS / f"cases/subtitles/{kind}.txt").read_text("utf-8").split("\n=== ")
        for part in parts:
            name, rest = part.split("\n", 1)
            source, expected = rest.split("---\n", 1)
            found.append(pytest.param(kind, _signs(source), _signs(expected).splitlines(), id=f"{kind}: {name}"))
    return found


def _signs(text: str) -> str:
    return text.replace("⟨BOM⟩", "\ufeff").replace("⟨CR⟩\n", "\r\n").replace("⟨CR⟩", "\r")


def _rows(expected: list[str], *words: str) -> list[list[str]]:
    return [
        [word, *rest.split(" | ")] for word, _, rest in (line.partition(": ") for line in expected) if word in words
    ]


@pytest.mark.parametrize(("kind", "source", "expected"), cases())
def test_case(kind: str, source: str, expected: list[str]) -> None:
    cues, findings = read_subtitles(source, f"subtitles.{kind}")
    read = [["cue", str(c.start), str(c.end), c.id, c.text.replace("\n", "/")] for c in cues]
    assert read == _rows(expected, "cue")
    said = [[str(f.severity), str(f.span.line), f.message] for f in findings]
    wanted = _rows(expected, "error", "warning")
    by_line = sorted(wanted, key=lambda row: int(row[1]))
    assert [row[:2] for row in said] == [row[:2] for row in by_line], said
    assert [row for row, (*_, part) in zip(said, by_line, strict=True) if part not in row[2]] == []
    assert all(f.help for f in findings)


@pytest.mark.parametrize("name", ASSERTED)
def test_web_platform_file(name: str) -> None:
    """Check values 21 and 22 among them: web-platform-tests/wpt, webvtt/parsing/file-parsing."""
    cues, _ = read_subtitles((WPT / f"{name}.vtt").read_bytes().decode(), f"{name}.vtt")
    asserted = ASSERTED[name]
    assert len(cues) == asserted.get("cues", len(cues))
    assert [cue.text for cue in cues] == asserted.get("texts", [cue.text for cue in cues])
    assert [cue.id for cue in cues] == asserted.get("ids", [cue.id for cue in cues])
    for one, every in (("start", "starts"), ("end", "ends")):
        times = [getattr(cue, one) for cue in cues]
        assert times == [Fraction(time) for time in asserted.get(every, times)]


@pytest.mark.parametrize("text", ["\ufeffWEBVTT\n", "WEBVTT \n", "WEBVTT\t\n", "WEBVTT ", "WEBVTT \ttext"])
def test_a_signature_alone_is_a_file_without_cues(text: str) -> None:  # W3C WebVTT §4.1, file structure
    cues, findings = read_subtitles(text, "a.vtt")
    assert not cues
    assert [f.severity for f in findings] == [Severity.WARNING]


def test_another_encoding_is_refused(tmp_path: Path) -> None:
    """Check value 20: cp1252 is no UTF-8, and is not guessed."""
    (tmp_path / "a.srt").write_bytes("1\n00:00:01,000 --> 00:00:02,000\nÜben\n".encode("cp1252"))
    text, findings = read_text(tmp_path / "a.srt", "a.srt")
    assert text is None
    assert [(f.check, f.span.line) for f in findings] == [("encoding", 3)]


def test_any_other_file_is_refused() -> None:
    cues, findings = read_subtitles("1\n00:00:01,000 --> 00:00:02,000\nA\n", "subtitles.ass")
    assert not cues
    assert "ending in “.ass”" in findings[0].message


def test_spans_point_at_the_times() -> None:
    assert read_subtitles("1\n00:00:01,000 --> 00:00:02,000\nA", "a.srt")[0][0].span == Span("a.srt", 2, 1, 29)
    assert read_subtitles("WEBVTT\n\nx\n00:01.000 --> 00:02.000\nA", "a.vtt")[0][0].span == Span("a.vtt", 4, 1, 23)


# ---- writing

TEXTS = st.lists(
    st.text(st.characters(exclude_categories=("C", "Z"), exclude_characters="<{"), min_size=1).filter(
        lambda line: "-->" not in line
    ),
    max_size=3,
).map("\n".join)


@st.composite
def cue_lists(draw: st.DrawFn) -> list[Cue]:
    """Cues one after the other, at times that no millisecond hits."""
    times = sorted(draw(st.lists(st.fractions(0, 10**6, max_denominator=90_000), max_size=8)))
    return [
        Cue(start, end, draw(TEXTS), Span("a.srt"), str(number))
        for number, (start, end) in enumerate(zip(times[::2], times[1::2], strict=False), 1)
    ]


@given(cue_lists())
def test_what_is_written_reads_the_same_to_the_millisecond(cues: list[Cue]) -> None:
    read, findings = read_subtitles(write_srt(cues), "a.srt")
    assert [(c.text, c.id) for c in read] == [(c.text, c.id) for c in cues]
    for one, two in zip(read, cues, strict=True):
        assert abs(one.start - two.start) <= Fraction(1, 2000)
        assert abs(one.end - two.end) <= Fraction(1, 2000)
    assert not [f for f in findings if f.severity is Severity.ERROR]
    assert write_srt(read) == write_srt(cues)


@given(cue_lists())
def test_another_reader_reads_what_is_written(cues: list[Cue]) -> None:
    """The srt library 3.5.3, which looks out for empty lines and numbers in its own way."""
    read = list(srt.parse(write_srt(cues)))
    assert [(str(one.index), one.content) for one in read] == [(cue.id, cue.text) for cue in cues]
    assert [one.start // timedelta(milliseconds=1) for one in read] == [round(cue.start * 1000) for cue in cues]
    assert [one.end // timedelta(milliseconds=1) for one in read] == [round(cue.end * 1000) for cue in cues]


def test_writing_rounds_and_refuses() -> None:
    assert write_srt([Cue(Fraction("1.9999"), Fraction(360_000), "a --> b", Span("a.vtt"))]) == (
        "1\n00:00:02,000 --> 100:00:00,000\na → b\n\n"
    )
    with pytest.raises(ValueError, match="before the start of the film"):
        write_srt([Cue(Fraction(-1), Fraction(1), "A", Span("a.vtt"))])


# ---- nothing crashes, nothing is lost

WORDS = "WEBVTT NOTE STYLE REGION --> 00:01.000 00:00:01,000 00:00:02,000 9:60 12 &amp; &# < <i> {\\an8} X1:1 - é"
PIECES = st.sampled_from([*WORDS.split(), "\n", "\n\n", "\r", "\0", " ", " --> ", "00:00:01,000 --> 00:00:02,000\n"])


@given(st.text() | st.lists(PIECES, max_size=40).map("".join), st.sampled_from(["a.srt", "a.vtt", "a"]), st.booleans())
def test_nothing_crashes_and_everything_has_its_place(text: str, file: str, signed: bool) -> None:
    text = f"WEBVTT\n\n{text}" if signed else text
    cues, findings = read_subtitles(text, file)
    lines = re.split(r"\r\n|\n|\r", text.removeprefix("\ufeff"))
    for span in [*(cue.span for cue in cues), *(finding.span for finding in findings)]:
        assert 1 <= span.line <= len(lines)
        assert span.column + span.length - 1 <= max(1, len(lines[span.line - 1]))
    assert findings or cues
    assert all("\n" not in finding.message for finding in findings)


TIMES = ("00:01.000 --> 00:02.000", "00:00:01,000 --> 00:00:02,000", "00:01 --> 00:02", "00:00:03.000 --> 00:00:04.000")
LINES = st.lists(
    st.sampled_from(["", "", "WORD", "WORD", "NOTE WORD", "STYLE", "7", *TIMES, "WORD --> WORD", "-->"]), max_size=14
)


@given(LINES)
def test_every_word_of_webvtt_is_in_a_cue_a_remark_or_told(lines: list[str]) -> None:
    lines = ["WEBVTT", *(line.replace("WORD", f"w{at}w", 1) for at, line in enumerate(lines))]
    cues, findings = read_subtitles("\n".join(lines), "a.vtt")
    kept = " ".join(f"{cue.id} {cue.text}" for cue in cues)
    for at, line in enumerate(lines):
        for word in re.findall(r"w\d+w", line):
            block = _block_of(lines, at)
            remark = re.match("NOTE|STYLE", lines[block[0]])
            assert word in kept or remark or _told(findings, block), (word, lines)


@given(LINES)
def test_every_word_of_subrip_is_in_a_cue_or_told(lines: list[str]) -> None:
    lines = [line.replace("WORD", f"w{at}w", 1) for at, line in enumerate(lines)]
    cues, findings = read_subtitles("\n".join(lines), "a.srt")
    kept = " ".join(cue.text for cue in cues)
    errors = [f.span.line for f in findings if f.severity is Severity.ERROR]
    told = sorted([*errors, *(cue.span.line for cue in cues)])
    for at, line in enumerate(lines, 1):
        for word in re.findall(r"w\d+w", line):
            above = [place for place in told if place <= at]
            assert word in kept or (above and above[-1] in errors), (word, lines)


def _block_of(lines: list[str], at: int) -> range:
    first = next((above for above in range(at, 0, -1) if not lines[above - 1]), 0)
    below = next((below for below in range(at, len(lines)) if not lines[below]), len(lines))
    return range(first, below)


def _told(findings: tuple[Finding, ...], block: range) -> bool:
    """Tell whether a finding speaks of the block; of the header's lines only the first has one of its own."""
    return any(finding.span.line - 1 in block for finding in findings)


@pytest.mark.parametrize(
    "text",
    [
        "WEBVTT\n\n" + "00:00.000 --> 00:01.000\n" * 20_000,
        "WEBVTT\n\n" + "<" * 200_000,
        "WEBVTT\n\n00:00.000 --> 00:01.000\n" + "<a" * 100_000,
        "1\n00:00:00,000 --> 00:00:01,000\n" + "\n" * 500_000 + "A",
        "1\n00:00:00,000 --> 00:00:01,000\n" + "{\\" * 100_000,
        "1" * 100_000 + " --> " + "9" * 100_000,
        "1\n00:00:00,000 --> 00:00:01,000" + " a:" * 100_000 + "\u00a0-",
    ],
    ids=["arrows", "brackets", "tags", "blank", "braces", "digits", "settings"],
)
def test_a_large_file_is_read_in_good_time(text: str) -> None:
    for file in ("a.srt", "a.vtt"):
        assert any(read_subtitles(text, file))
