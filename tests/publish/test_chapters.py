"""Chapter lists: as text, as a WebVTT track held against an independent reader, and as FFMETADATA."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.chapters import Chapter
from repslate.cut.markers import read_markers
from repslate.publish.chapters import chapters_ffmeta, chapters_txt, chapters_vtt
from repslate.source.span import Span

TESTS = Path(__file__).parents[1]
HERE = Span("chapters.txt")


def chapter(start: str, title: str) -> Chapter:
    return Chapter(Fraction(start), title, HERE)


SHORT = [chapter("0", "Welcome"), chapter("59.96", "Warm-up #1; easy = ok"), chapter("600", "Rows & <presses>")]
LONG = [chapter("0", "Welcome"), chapter("65", "Warm-up"), chapter("3599.9", "Work"), chapter("3723", "Cool-down")]
ODD = [chapter("0", "Two\nlines"), chapter("10.0009", "a --> b"), chapter("20", "back\\slash &amp; {x}")]


def test_text_without_hours() -> None:  # times: common practice on video hosts, no standard
    assert chapters_txt(SHORT, Fraction(700)).decode() == (
        "0:00 Welcome\n0:59 Warm-up #1; easy = ok\n10:00 Rows & <presses>\n"
    )


def test_text_with_hours_as_soon_as_the_film_or_a_mark_lasts_one() -> None:
    hours = "0:00:00 Welcome\n0:01:05 Warm-up\n0:59:59 Work\n1:02:03 Cool-down\n"
    assert chapters_txt(LONG, None).decode() == hours
    assert chapters_txt(LONG[:2], Fraction(3600)).decode() == "0:00:00 Welcome\n0:01:05 Warm-up\n"
    assert chapters_txt(LONG[:2], Fraction("3599.9")).decode() == "0:00 Welcome\n1:05 Warm-up\n"


def test_webvtt() -> None:  # W3C WebVTT, chapter title text: "&" and "<" escaped, one line
    assert chapters_vtt(SHORT, Fraction("700.0019")).decode() == (
        "WEBVTT\n"
        "\n00:00:00.000 --> 00:00:59.960\nWelcome\n"
        "\n00:00:59.960 --> 00:10:00.000\nWarm-up #1; easy = ok\n"
        "\n00:10:00.000 --> 00:11:40.001\nRows &amp; &lt;presses&gt;\n"
    )


def test_webvtt_of_unknown_length_ends_a_second_after_the_last_start() -> None:
    assert "00:10:00.000 --> 00:10:01.000" in chapters_vtt(SHORT, None).decode()


def test_an_end_lies_after_its_start_however_near() -> None:  # W3C WebVTT, cue timings
    assert b"00:00:10.000 --> 00:00:10.001" in chapters_vtt([chapter("10.0004", "a")], Fraction("10.0009"))


def test_ffmetadata() -> None:  # FFmpeg doc/metadata.texi and ffmetaenc.c: the escaped title is that text's form
    assert chapters_ffmeta(SHORT, Fraction(700)).decode() == (
        ";FFMETADATA1\n"
        "[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=59960\ntitle=Welcome\n"
        "[CHAPTER]\nTIMEBASE=1/1000\nSTART=59960\nEND=600000\ntitle=Warm-up \\#1\\; easy \\= ok\n"
        "[CHAPTER]\nTIMEBASE=1/1000\nSTART=600000\nEND=700000\ntitle=Rows & <presses>\n"
    )
    assert b"title=bike\\\\shed\n" in chapters_ffmeta([chapter("0", "bike\\shed")], None)
    assert b"END=1000\n" in chapters_ffmeta([chapter("0", "a")], None)


def test_titles_stay_on_one_line() -> None:
    assert chapters_txt(ODD, None).startswith(b"0:00 Two lines\n0:10 a --> b\n")
    assert chapters_vtt(ODD, None).count(b"-->") == 3
    assert b"title=Two lines\n" in chapters_ffmeta(ODD, None)


def test_no_chapters() -> None:
    assert (chapters_txt([], None), chapters_vtt([], None)) == (b"", b"WEBVTT\n")
    assert chapters_ffmeta([], Fraction(5)) == b";FFMETADATA1\n"


def independently_read(track: bytes, folder: Path) -> dict[str, Any]:
    """Read a WebVTT file with npm webvtt-parser 2.2.0 in its mode for chapters."""
    node = shutil.which("node")
    if node is None or not (TESTS / "node_modules/webvtt-parser").is_dir():
        message = "needs node and `npm install --prefix tests`"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)
    script = (
        "const { WebVTTParser } = require('webvtt-parser');"
        "const text = require('fs').readFileSync(process.argv[1], 'utf8');"
        "const entities = require('webvtt-parser/html-entities.json');"
        "const { cues, errors } = new WebVTTParser(entities).parse(text, 'chapters');"
        "const value = (node) => node.type === 'text' ? node.value : '<' + node.name + '>';"
        "console.log(JSON.stringify({ errors, cues: cues.map("
        "(cue) => [cue.startTime, cue.endTime, cue.tree.children.map(value).join('')]) }));"
    )
    path = folder / "chapters.vtt"
    path.write_bytes(track)
    run = subprocess.run([node, "-e", script, str(path)], cwd=TESTS, capture_output=True, text=True, check=True)
    read: dict[str, Any] = json.loads(run.stdout)
    return read


@pytest.mark.parametrize(("chapters", "length"), [(SHORT, "700"), (LONG, None), (ODD, "30.5")])
def test_an_independent_reader_finds_the_same_track(
    chapters: list[Chapter], length: str | None, tmp_path: Path
) -> None:
    read = independently_read(chapters_vtt(chapters, Fraction(length) if length else None), tmp_path)
    assert read["errors"] == []
    assert [title for _, _, title in read["cues"]] == [" ".join(c.title.split("\n")) for c in chapters]
    assert [round(start * 1000) for start, _, _ in read["cues"]] == [int(c.start * 1000) for c in chapters]
    assert [end for _, end, _ in read["cues"][:-1]] == [start for start, _, _ in read["cues"][1:]]


def test_the_independent_reader_would_object(tmp_path: Path) -> None:
    track = chapters_vtt(SHORT, None).replace(b"Welcome", b"<b>Welcome</b>").replace(b"59.960", b"59.96")
    assert len(independently_read(track, tmp_path)["errors"]) >= 2


TITLES = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=20).filter(
    lambda title: title[0] not in "-–—" and not title.endswith("}")
)
LISTS = st.lists(st.tuples(st.fractions(1, 900), TITLES), max_size=9).map(
    lambda steps: [
        Chapter(sum((gap for gap, _ in steps[:at]), Fraction(0)), title, HERE) for at, (_, title) in enumerate(steps)
    ]
)


@given(LISTS, st.none() | st.fractions(1, 99))
def test_what_is_published_reads_the_same(chapters: list[Chapter], more: Fraction | None) -> None:
    length = chapters[-1].start + more if chapters and more else None
    for name, write, unit in (("c.txt", chapters_txt, 1), ("c.vtt", chapters_vtt, 1000)):
        read, findings = read_markers(write(chapters, length).decode(), name)
        assert not findings
        assert [(m.time * unit, m.title) for m in read] == [(Fraction(c.start * unit // 1), c.title) for c in chapters]


@given(LISTS, st.none() | st.fractions(1, 99))
def test_ffmetadata_reads_the_same_and_has_no_gaps(chapters: list[Chapter], more: Fraction | None) -> None:
    length = chapters[-1].start + more if chapters and more else None
    text = chapters_ffmeta(chapters, length).decode()
    assert text.startswith(";FFMETADATA1\n")
    read = re.findall(r"^START=(\d+)\nEND=(\d+)\ntitle=(.*)$", text, re.MULTILINE)
    assert [re.sub(r"\\(.)", r"\1", title) for _, _, title in read] == [c.title for c in chapters]
    assert not re.search(r"^title=.*(?<!\\)(?:\\\\)*[=;#]", text, re.MULTILINE)
    starts, all_ends = [int(s) for s, _, _ in read], [int(e) for _, e, _ in read]
    assert starts == [c.start * 1000 // 1 for c in chapters]
    assert all_ends[:-1] == starts[1:]
    assert all(start < end for start, end in zip(starts, all_ends, strict=True))
