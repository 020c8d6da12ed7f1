from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.source.finding import Severity
from repslate.source.text import CONTROL, LARGEST, decode, read_text


@pytest.mark.parametrize(
    ("data", "text"),
    [
        (b"\xef\xbb\xbf3 \xc3\x97 10\r\nrest\rend", "3 × 10\nrest\nend"),
        (b"a\tb\n", "a\tb\n"),
        (b"", ""),
    ],
)
def test_marks_and_line_ends_of_every_system(data: bytes, text: str) -> None:
    assert decode(data, "workout.md") == (text, ())


@pytest.mark.parametrize(
    ("data", "place", "said"),
    [
        ("a\r\nbé 3 × 10".encode("cp1252"), (2, 2), "Windows-1252, in which it is “é”"),
        (b"\xef\xbb\xbf\xc3\xa9\xc3\xa9 3 \x96 4", (1, 6), "in which it is “–”"),
        (b"ok\r\xff", (2, 1), "0xFF"),
        (b"cut off \xe2\x80", (1, 9), "0xE2"),
        (b"no letter there \x81", (1, 17), "the byte 0x81 does not belong in a UTF-8 file"),
        ("3 × 10".encode("utf-16"), (1, 1), "looks like UTF-16"),
        ("rest 60 s".encode("utf-16-le"), (1, 1), "looks like UTF-16"),
        ("rest 60 s".encode("utf-16-be"), (1, 1), "looks like UTF-16"),
    ],
)
def test_other_encodings_are_named(data: bytes, place: tuple[int, int], said: str) -> None:
    text, (finding,) = decode(data, "workout.md")
    assert text is None
    assert (finding.check, finding.severity, finding.span.line, finding.span.column) == (
        "encoding",
        Severity.ERROR,
        *place,
    )
    assert said in finding.message
    assert "UTF-8" in finding.help


@pytest.mark.parametrize(
    ("data", "text", "place", "said"),
    [
        (b"ab\r\nc\0d\x07", "ab\nc\ufffdd\ufffd", (2, 2), "U+0000 stands here (and 1 more in this file)"),
        ("a\u2028b".encode(), "a\ufffdb", (1, 2), "U+2028"),
        ("a\x85b".encode(), "a\ufffdb", (1, 2), "U+0085"),
        ("3 × \u202e10".encode(), "3 × \ufffd10", (1, 5), "U+202E"),
        ("a\u2066b\u2069".encode(), "a\ufffdb\ufffd", (1, 2), "U+2066 stands here (and 1 more in this file)"),
    ],
)
def test_control_characters_keep_the_columns(data: bytes, text: str, place: tuple[int, int], said: str) -> None:
    read, (finding,) = decode(data, "workout.md")
    assert read == text
    assert (finding.check, finding.span.line, finding.span.column) == ("control-character", *place)
    assert said in finding.message


@given(st.binary(max_size=60))
def test_any_bytes_give_clean_text_or_a_finding(data: bytes) -> None:
    text, findings = decode(data, "workout.md")
    assert findings if text is None else not CONTROL.search(text)
    assert text is None or "\r" not in text


TURNS = "".join(map(chr, [*range(0x202A, 0x202F), *range(0x2066, 0x206A)]))  # UAX 9, 2.1 to 2.4


@given(st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp", "Cn"], exclude_characters=TURNS), max_size=60))
def test_clean_text_comes_back(text: str) -> None:
    assert decode(b"\xef\xbb\xbf" + text.encode(), "workout.md") == (text, ())


def test_size(tmp_path: Path) -> None:
    file = tmp_path / "workout.md"
    file.write_bytes(b"a" * LARGEST)
    assert read_text(file, "workout.md") == ("a" * LARGEST, ())
    file.write_bytes(b"a" * (LARGEST + 1))
    text, (finding,) = read_text(file, "workout.md")
    assert (text, finding.check) == (None, "file-too-large")
    assert "1,048,577 bytes, expected at most 1,048,576" in finding.message


def test_what_is_no_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")  # opened, it would wait for ever
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    checks = {name: read_text(tmp_path / name, name)[1][0].check for name in ("none", "pipe", "loop", ".")}
    assert checks == {
        "none": "file-missing",
        "pipe": "file-unreadable",
        "loop": "file-unreadable",
        ".": "file-unreadable",
    }
    assert read_text(tmp_path / "pipe" / "below", "below")[1][0].check == "file-unreadable"
