"""A finding on the terminal: the carets stand under the very characters, and nothing in it moves the cursor."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from rich.cells import cell_len
from rich.console import Console

from repslate.cli.report import counted, full, line
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span


def printed(folder: Path, finding: Finding, width: int = 60, *, terminal: bool = False) -> str:
    out = io.StringIO()
    console = Console(file=out, width=width, highlight=False, emoji=False, markup=False, force_terminal=terminal)
    full(finding, folder, console)
    return out.getvalue()


def about(text: str, row: str, folder: Path) -> Finding:
    """A finding about `text`, which stands once in the second line of the file."""
    (folder / "workout.md").write_text(f"first\n{row}\nlast\n", "utf-8")
    return Finding("some-check", Severity.WARNING, Span("workout.md", 2, row.index(text) + 1, len(text)), "m", "h", "b")


ROWS = [
    ("abc", "abc"),
    ("abc", "  abc  "),
    ("10–x", "3 × 10–x per side"),
    ("abc", "\tabc"),
    ("abc", "深蹲 abc"),
    ("深蹲", "do 深蹲 now"),
    ("abc", "e\u0301e\u0301 abc"),
    ("abc", "👩‍🦰 abc"),
    ("abc", "word " * 40 + "abc" + " word" * 40),
    ("深蹲", "深" * 80 + "x深蹲y" + "蹲" * 80),
    ("x" * 200, "a " + "x" * 200),
    ("a" * 30, "b" * 55 + "a" * 30),
]


@pytest.mark.parametrize(("text", "row"), ROWS)
@pytest.mark.parametrize("width", [40, 60, 120])
def test_carets_stand_under_the_exact_characters(tmp_path: Path, text: str, row: str, width: int) -> None:
    _, source, carets, *rest = printed(tmp_path, about(text, row, tmp_path), width).splitlines()
    assert rest[0].strip().startswith("warning: m")
    assert cell_len(source) <= width
    start, end = carets.index("^"), len(carets)
    assert set(carets[start:]) == {"^"}
    under = ""
    for i in range(len(source)):
        if start <= cell_len(source[:i]) < end:
            under += source[i]
    under = under.rstrip("…")
    assert under
    assert text.startswith(under.removesuffix("\u200d"))
    assert under == text or source.endswith("…")


@pytest.mark.parametrize("span", [Span("workout.md", 9), Span("absent.md"), Span("workout.md", 1, 99, 5)])
def test_a_place_that_is_not_there_is_no_trouble(tmp_path: Path, span: Span) -> None:
    (tmp_path / "workout.md").write_text("one\n")
    assert "error: m [c]" in printed(tmp_path, Finding("c", Severity.ERROR, span, "m"))


def test_what_a_finding_quotes_cannot_steer_the_terminal(tmp_path: Path) -> None:
    finding = Finding("c", Severity.ERROR, Span("\x1b]0;x\x07.md"), "\x1b[2Jm\u202e\r\n", "\x1b[31mh", "\x9bb")
    for text in (printed(tmp_path, finding), line(finding, tmp_path)):
        assert not set(text) & set("\x1b\x07\x9b\u202e\r")


def test_colour_is_for_terminals_only_and_never_the_only_sign(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    finding = about("abc", "abc", tmp_path)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "\x1b[1;33m" in printed(tmp_path, finding, terminal=True)
    plain = printed(tmp_path, finding)
    assert "\x1b" not in plain
    assert "warning: m [some-check]" in plain
    monkeypatch.setenv("NO_COLOR", "1")
    assert "33m" not in printed(tmp_path, finding, terminal=True)


def test_paths_are_seen_from_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    finding = Finding("c", Severity.NOTE, Span("../series.yaml", 3, 2), "m")
    assert line(finding, Path("shows/one")) == "shows/series.yaml:3:2: note: m [c]"
    assert line(finding, tmp_path / "shows" / "one") == "shows/series.yaml:3:2: note: m [c]"


def test_counting() -> None:
    one = Finding("c", Severity.ERROR, Span("x"), "m")
    two = Finding("c", Severity.NOTE, Span("x"), "m")
    assert counted([]) == "nothing to fix"
    assert counted([one, two, one], 1) == "2 errors, 1 note, 1 quieted"
