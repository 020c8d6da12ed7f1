"""The chapters against film and subtitles: what is found, and the time that every finding proposes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from repslate.checks import run
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

ReadFragment = Callable[[str], tuple[Facts | None, tuple[Finding, ...]]]

EPISODE = """\
---
format: 1
title: Squat and row
presenter: Robin
goal: hypertrophy
level: intermediate
{front}---
## Straight sets
### Goblet squat
3 × 10, rest 90 s

### One-arm row
3 × 10 per side, rest 90 s

chapters.txt:
0:00 Welcome
{start} Goblet squat
3:00 One-arm row
"""
FILM = "cut.mp4:\n⟨a film of 5:00 at {rate} fps, shots at {shots}{black}⟩\n"
CHECKED = {
    "chapter-off-cut", "chapter-in-black", "chapter-past-end", "exercise-not-named", "film-length-differs",
    "frame-rate-differs",
}  # fmt: skip


def found(
    read_fragment: ReadFragment,
    *,
    front: str = "",
    start: str = "1:00",
    film: str = "",
    said: str = "",
    series: str = "",
) -> list[tuple[str, str, str]]:
    text = EPISODE.format(front=front, start=start) + film
    text += f"subtitles.srt:\n{said}" if said else ""
    text += f"series.yaml:\n{series}" if series else ""
    facts, findings = read_fragment(text)
    assert facts is not None
    return [(one.check, one.severity.value, one.help) for one in run(facts, read=findings)[0] if one.check in CHECKED]


def film(shots: str = "1:00 3:00", *, rate: str = "25", black: str = "") -> str:
    return FILM.format(rate=rate, shots=shots, black=f", black {black}" if black else "")


def cue(start: str, end: str, words: str) -> str:
    return f"1\n00:0{start},000 --> 00:0{end},000\n{words}\n\n"


OFF = ("chapter-off-cut", "warning")


@pytest.mark.parametrize(
    ("shots", "start", "series", "expected"),
    [
        ("1:00 3:00", "1:00", "", []),
        ("1:01 3:00", "1:00", "", []),  # the default tolerance, 1.0 s, included
        ("1:01.04 3:00", "1:00", "", [(*OFF, "begin the chapter at 1:01.040, if the film shows it there")]),
        ("0:58.4 3:00", "1:00", "", [(*OFF, "begin the chapter at 0:58.400, if the film shows it there")]),
        ("0:58.4 3:00", "1:00", "host:\n  chapters: {tolerance: 1.6}\n", []),
        (
            "1:00.2 3:00",
            "1:00",
            "host:\n  chapters: {tolerance: 0.1}\n",
            [(*OFF, "begin the chapter at 1:00.200, if the film shows it there")],
        ),
    ],
)
def test_a_chapter_starts_on_a_shot_change(
    read_fragment: ReadFragment, shots: str, start: str, series: str, expected: list[tuple[str, str, str]]
) -> None:
    assert found(read_fragment, start=start, film=film(shots), series=series) == expected


def test_what_was_not_looked_at_is_no_fault(read_fragment: ReadFragment) -> None:
    assert found(read_fragment, film="cut.mp4:\n⟨a film of 5:00 at 25 fps⟩\n") == []


@pytest.mark.parametrize(("start", "helps"), [("1:00", 1), ("1:01.5", 0), ("0:59", 0)])
def test_black_is_told_once_and_ends_where_the_picture_is_back(
    read_fragment: ReadFragment, start: str, helps: int
) -> None:
    dark = film("1:01.5 3:00", black="0:59.5–1:01.5")
    expected = ("chapter-in-black", "error", "begin the chapter at 1:01.500, if the film shows it there")
    assert [one for one in found(read_fragment, start=start, film=dark) if one[0] == "chapter-in-black"] == (
        [expected] * helps
    )
    assert not helps or len(found(read_fragment, start=start, film=dark)) == 1


def test_the_film_says_how_long_it_is(read_fragment: ReadFragment) -> None:
    seen = found(read_fragment, front='length: "6:00"\n', start="5:30", film=film())
    assert [one[:2] for one in seen] == [
        ("chapter-past-end", "error"),
        ("film-length-differs", "error"),
    ]
    assert "5:00" in {check: help_ for check, _, help_ in seen}["film-length-differs"]
    assert found(read_fragment, front='length: "5:00"\n', film=film()) == []


@pytest.mark.parametrize(("written", "checks"), [("20:00", ["film-length-differs"]), ("5:00", ["chapter-past-end"])])
def test_many_chapters_past_the_end_have_one_cause(
    read_fragment: ReadFragment, written: str, checks: list[str]
) -> None:
    late = "".join(f"\n{minute}:00 Part {minute}" for minute in range(6, 14))
    episode = EPISODE.format(front=f'length: "{written}"\n', start="1:00").partition("1:00 Goblet squat\n")[0]
    facts, findings = read_fragment(f"{episode.rstrip()}{late}\n{film()}")
    assert facts is not None
    seen = [one for one in run(facts, read=findings)[0] if one.check in ("chapter-past-end", "film-length-differs")]
    assert [one.check for one in seen] == checks
    assert "8 of 9 chapters" in seen[0].message


@pytest.mark.parametrize(
    ("written", "rate", "proposed"),
    [
        ("25", "25", ""),
        ("29.97 drop", "30000/1001", ""),
        ("29.97", "30000/1001", ""),
        ("23.98", "24000/1001", ""),
        ("30", "30000/1001", "29.97"),
        ("24", "24000/1001", "23.976"),
        ("fast", "25", "25"),
    ],
)
def test_the_front_matter_has_the_film_s_rate(
    read_fragment: ReadFragment, written: str, rate: str, proposed: str
) -> None:
    seen = found(read_fragment, front=f'frame rate: "{written}"\n', film=film(rate=rate))
    assert [one[:2] for one in seen] == ([("frame-rate-differs", "warning")] if proposed else [])
    assert all(f'“frame rate: "{proposed}"”' in one[2] for one in seen)


ROW = cue("3:02", "3:04", "And now the row.")


@pytest.mark.parametrize(
    ("said", "severity", "time"),
    [
        (cue("1:05", "1:07", "Goblet squats, everyone.") + ROW, None, ""),
        (cue("0:42", "0:45", "Next are goblet squats.") + ROW, Severity.WARNING, "0:42"),
        (cue("1:40", "1:45", "That was the goblet squat.") + ROW, Severity.WARNING, "1:40"),
        (cue("1:02", "1:05", "Sit down between your heels.") + ROW, Severity.NOTE, "1:00"),
    ],
)
def test_an_exercise_is_named_soon(
    read_fragment: ReadFragment, said: str, severity: Severity | None, time: str
) -> None:
    seen = found(read_fragment, said=said)
    assert [one[:2] for one in seen] == ([("exercise-not-named", severity.value)] if severity else [])
    assert all(time in one[2] for one in seen)


def test_a_chapter_past_the_end_is_sent_to_where_its_name_is_said(read_fragment: ReadFragment) -> None:
    said = cue("1:05", "1:07", "Goblet squats, everyone.") + ROW
    seen = {check: help_ for check, _, help_ in found(read_fragment, start="5:30", film=film(), said=said)}
    assert seen["chapter-past-end"] == "begin the chapter at 1:05, if the film shows it there"
