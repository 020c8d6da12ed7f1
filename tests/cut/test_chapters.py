"""Markers matched to exercises and blocks. Each case file holds an episode and what every marker belongs to."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.chapters import Chapter, ends, match
from repslate.cut.markers import Marker, read_markers
from repslate.model import library
from repslate.model.episode import Block, Episode, Exercise
from repslate.model.forms import BlockKind
from repslate.model.prescription import Prescription
from repslate.model.series import Series
from repslate.model.slug import slug
from repslate.source.finding import Severity
from repslate.source.span import Span

CASES = sorted((Path(__file__).parents[1] / "cases/chapters/matching").glob("*.txt"))
HERE = Span("workout.md")
EXPECTED = "expected the name of an exercise or block of this episode"


def episode(lines: Sequence[str]) -> Episode:
    """Build an episode of "Kind[ letter][: title]" lines with names of exercises indented under them."""
    blocks: list[tuple[str, list[str]]] = []
    for line in lines:
        if line.startswith(" "):
            blocks[-1][1].append(line.strip())
        else:
            blocks.append((line, []))
    used: list[str] = []
    built: list[Block] = []
    for heading, names in blocks:
        found = re.fullmatch(rf"({'|'.join(BlockKind)})(?: ([A-Z]))?(?:: (.*))?", heading)
        assert found, heading
        kind = BlockKind(found[1])
        letters = {BlockKind.WARM_UP: "WU", BlockKind.COOL_DOWN: "CD"}
        letter = found[2] or letters.get(kind) or chr(65 + sum(len(block.letter) == 1 for block in built))
        exercises = []
        for number, name in enumerate(names, 1):
            base = slug(name) or "exercise"
            used.append(base)
            nth = used.count(base)
            id_ = base + (f"-{nth}" if nth > 1 else "")
            label = f"{letter}{number}"
            exercises.append(Exercise(id_, name, HERE, label, Prescription(), None, library.load().find(name)))
        built.append(Block(kind, letter, found[3] or "", heading, HERE, tuple(exercises)))
    return Episode("Session", "session", HERE, Series(), blocks=tuple(built))


def marker(time: str, title: str, id_: str | None = None) -> Marker:
    return Marker(Fraction(time), title, id_, Span("chapters.txt", 1))


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_case(case: Path) -> None:
    text = case.read_text("utf-8")
    blocks, _, lines = text.partition("----\n")
    session = episode([line for line in blocks.splitlines() if not line.startswith("#")])
    wanted = [line.rsplit(" -> ", 1) for line in lines.splitlines()]
    markers, unread = read_markers("".join(f"{line}\n" for line, _ in wanted), "chapters.txt")
    assert not unread
    chapters, findings = match(markers, session)
    said = {finding.span.line: finding.check for finding in findings}
    got = []
    for line, chapter in enumerate(chapters, 1):
        block = f"block {session.blocks[chapter.block].name}" if chapter.block is not None else None
        got.append((wanted[line - 1][0], said.get(line) or chapter.exercise or block or "nothing"))
        assert chapter.exercise is None or chapter.block is None
    assert got == [(line, belongs) for line, belongs in wanted]
    assert [chapter.title for chapter in chapters] == [m.title for m in markers]


def test_findings_say_how_to_fix() -> None:
    session = episode(["Straight sets", "  Goblet squat", "  Push-up"])
    markers = (
        marker("0", "Squat of the gobelin"),
        marker("5", "Жим"),
        marker("9", "Squats", "goblet-sqat"),
        marker("20", "A", "zzz"),
    )
    _, (unmatched, nothing_near, near, far) = match(markers, session)
    assert (unmatched.check, unmatched.severity) == ("chapter-unmatched", Severity.WARNING)
    assert unmatched.message == f"found “Squat of the gobelin”, {EXPECTED}"
    assert nothing_near.severity is Severity.NOTE
    assert (
        unmatched.help == "if it shows Goblet squat, end the title with its id: “Squat of the gobelin {goblet-squat}”"
    )
    assert (
        nothing_near.help
        == "if it shows an exercise, end the title with its id, such as {goblet-squat}; else it may stay"
    )
    assert (near.check, near.severity) == ("chapter-id-unknown", Severity.ERROR)
    assert near.help == "did you mean {goblet-squat}"
    assert far.help == "write one of {goblet-squat}, {push-up}"


def test_an_episode_without_exercises_still_says_something() -> None:
    _, findings = match((marker("0", "Squats"), marker("9", "Squats", "squats")), episode([]))
    assert [finding.check for finding in findings] == ["chapter-unmatched", "chapter-id-unknown"]
    assert all(finding.help for finding in findings)


def test_a_title_that_means_another_exercise_says_which() -> None:
    session = episode(["Straight sets", "  Romanian deadlift"])
    _, (finding,) = match((marker("0", "Single-leg RDL"),), session)
    known = "which the library knows as “Single-leg Romanian deadlift”"
    assert finding.message == f"found “Single-leg RDL”, {known}, {EXPECTED}"


@pytest.mark.parametrize(
    "title", ["Lateral raise", "lateral raise", "LATERAL RAISES", "Lateral-raise", "lateral  raises"]
)
def test_a_title_that_is_the_library_s_own_name_is_not_explained_with_itself(title: str) -> None:
    _, (finding,) = match((marker("0", title),), episode(["Straight sets", "  Romanian deadlift"]))
    assert finding.severity is Severity.WARNING
    assert finding.message == f"found “{title}”, an exercise that this episode does not hold, {EXPECTED}"


def test_two_markers_in_one_second() -> None:
    session = episode([])
    markers = (marker("59.2", "Welcome"), marker("60", "Intro"), marker("59.9", "Outro"), marker("60.9", "Recap"))
    chapters, findings = match(markers, session)
    assert [chapter.title for chapter in chapters] == ["Welcome", "Intro", "Outro", "Recap"]  # never reordered
    assert [(f.check, f.severity) for f in findings] == [("chapters-same-second", Severity.ERROR)] * 2
    assert "“Outro” and “Welcome” both at 0:59" in findings[0].message
    assert "“Recap” and “Intro” both at 1:00" in findings[1].message


def chapter(start: Fraction) -> Chapter:
    return Chapter(start, "A", HERE)


@given(st.lists(st.fractions(0, 9999)), st.none() | st.fractions(0, 9999))
def test_a_chapter_ends_where_the_next_begins(starts: list[Fraction], length: Fraction | None) -> None:
    found = ends([chapter(start) for start in starts], length)
    for start, end in zip(starts, found, strict=True):
        later = [other for other in starts if other > start]
        assert end == (min(later) if later else length)


@given(
    st.lists(st.text(min_size=1, max_size=15) | st.sampled_from(["A1", "Goblet", "squat + row", ":", "–", "Superset"])),
    st.none() | st.sampled_from(["goblet-squat", "x"]),
)
def test_every_marker_becomes_a_chapter(titles: list[str], id_: str | None) -> None:
    session = episode(["Superset A", "  Goblet squat", "  Single-arm row"])
    markers = [marker(str(at), title, id_) for at, title in enumerate(titles)]
    chapters, _ = match(markers, session)
    assert [(c.start, c.title) for c in chapters] == [(m.time, m.title) for m in markers]
