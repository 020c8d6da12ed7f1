"""What a file's lines give where the notation does not understand them: words as typed, one note, never an error."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from repslate.model.block_heading import write_heading
from repslate.model.build import build
from repslate.model.episode import Episode
from repslate.model.hosted import hosted, hosted_heading
from repslate.model.library import load
from repslate.model.prescription import Prescription, parse, write
from repslate.model.series import Series
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding, Severity
from repslate.source.outline import read_outline
from repslate.source.span import Span

CASES = Path(__file__).parent.parent / "cases" / "typed"
LINES = [line for line in (CASES / "lines.txt").read_text("utf-8").splitlines() if not line.startswith("# ")]


READ = [
    line.split("  →  ") for line in (CASES / "read.txt").read_text("utf-8").splitlines() if not line.startswith("# ")
]


def here(text: str) -> Span:
    return Span("workout.md", 7, 1, len(text))


@pytest.mark.parametrize("line", LINES)
def test_a_line_that_is_not_understood_is_carried_whole_and_said_once(line: str) -> None:
    said, findings = hosted(line, here(line))
    assert said == Prescription(words=(line,))
    (note,) = findings
    assert (note.check, note.severity) == ("dose-as-typed", Severity.NOTE)
    assert line in note.message
    assert note.help
    assert parse(write(said), here(line)) == (said, ())


@pytest.mark.parametrize(("line", "canonical"), READ, ids=[line for line, _ in READ])
def test_a_habitual_line_is_read_as_far_as_it_is_certain(line: str, canonical: str) -> None:
    said, findings = hosted(line, here(line))
    assert write(said) == canonical
    assert [one.check for one in findings if one.severity is not Severity.NOTE] == []
    assert bool(said.words) == any(one.check == "dose-as-typed" for one in findings)
    assert parse(write(said), here(line))[0] == said


@pytest.mark.parametrize(
    ("line", "words", "canonical"),
    [
        ("3 × 10, rest 90 s", (), "3 × 10, rest 90 s"),
        ("3 x 10 “add weight each round”", ("add weight each round",), "3 × 10, “add weight each round”"),
        ('3 x 10, "slow", rest 90 s, "easy"', ("slow", "easy"), "3 × 10, rest 90 s, “slow”, “easy”"),
        ("“as heavy as it goes”", ("as heavy as it goes",), "“as heavy as it goes”"),
        ("3 x 10 „langsam“", ("langsam",), "3 × 10, “langsam”"),
        ("3 x “ten”, go “slow”", ('3 x "ten", go "slow"',), '“3 x "ten", go "slow"”'),
    ],
)
def test_words_in_quotes_stand_beside_figures(line: str, words: tuple[str, ...], canonical: str) -> None:
    said, findings = hosted(line, here(line))
    assert (said.words, write(said)) == (words, canonical)
    assert [one.severity for one in findings] == [Severity.NOTE] * bool(words)
    assert hosted(canonical, here(canonical))[0] == said


@pytest.mark.parametrize(
    ("line", "check"),
    [("3 × 12/10", "notation-contradiction"), ("3 × 12–10", "notation-range"), ("3 × 10, cluster 2+2", "notation-con")],
)
def test_what_is_wrong_stays_an_error(line: str, check: str) -> None:
    said, findings = hosted(line, here(line))
    assert said == Prescription()
    assert findings[0].severity is Severity.ERROR
    assert findings[0].check.startswith(check)


def test_a_line_longer_than_any_prescription_is_carried_too() -> None:
    line = "3 × 10, " * 50
    said, (note,) = hosted(line, here(line))
    assert len(line) > DOSE
    assert said.words == (line.strip(),)
    assert (note.check, note.severity) == ("dose-as-typed", Severity.NOTE)


HEADINGS = [
    ("Superset A: Rows · 3 rounds · rest as needed", "Superset A: Rows · rest as needed · 3 rounds"),
    ("Superset A Rows 3 rounds", "Superset A: Rows 3 rounds"),
    ("Superset A: Rows · 3 rounds · 4 rounds", "Superset A: Rows · 3 rounds · 4 rounds"),
    ("Every minute for 8-10 min", "Every minute: for 8-10 min"),
]  # fmt: skip


@pytest.mark.parametrize(("heading", "whole"), HEADINGS)
def test_what_is_not_understood_in_a_heading_stays_in_its_title(heading: str, whole: str) -> None:
    read, in_words, findings = hosted_heading(heading, here(heading))
    assert read is not None
    assert write_heading(read) == whole
    assert in_words
    assert [one.severity for one in findings] == [Severity.NOTE]


BLOCKS = [
    ("## Straight sets", "## Straight sets", "## Straight sets"),
    ("## Superset", "", "## Straight sets"),
    ("## Straight sets", "", ""),
]


@pytest.mark.parametrize("order", [*permutations(("A1", "A2", "B1"))], ids=" ".join)
@pytest.mark.parametrize("headings", BLOCKS, ids=["three blocks", "two and one", "one block"])
@pytest.mark.parametrize("form", ["{}", "{}.", "{} –", "{})", "{}:", "{}-"])
def test_labels_in_another_order_are_told(order: tuple[str, ...], headings: tuple[str, ...], form: str) -> None:
    names = ("Goblet squat", "Push-up", "Plank")
    text = "---\nformat: 1\ntitle: T\n---\n"
    for heading, label, name in zip(headings, order, names, strict=True):
        text += f"{heading}\n### {form.format(label)} {name}\n3 × 10\n"
    episode, findings = read(text)
    given = tuple(exercise.label for _, exercise in episode.exercises())
    told = [one for one in findings if one.check == "exercise-label-differs"]
    assert tuple(exercise.name for _, exercise in episode.exercises()) == names
    assert len(told) == sum(one != other for one, other in zip(order, given, strict=True))
    assert (told == []) == (order == given)


SHORT = [("work up to a heavy single", True), ("Something heavy, once", True), ("Stand tall and breathe", False)]


@pytest.mark.parametrize(("line", "is_dose"), [*SHORT, ("Keep the bell close for 5 s.", False)])
def test_a_short_line_of_how_much_is_the_dose_where_nothing_else_is(line: str, is_dose: bool) -> None:
    text = f"---\nformat: 1\ntitle: T\n---\n## Straight sets\n### Goblet squat\n{line}\n"
    ((_, exercise),) = read(text)[0].exercises()
    assert exercise.prescription.words == ((line,) if is_dose else ())
    ((_, exercise),) = read(f"{text}\n3 × 10\n")[0].exercises()
    assert exercise.prescription.words == ()


def test_a_saying_in_quotes_does_not_hide_the_line_below() -> None:
    text = "---\nformat: 1\ntitle: T\n---\n## Straight sets\n### Goblet squat\n“Slow is smooth.”\n\n3 × 10\n"
    ((_, exercise),) = read(text)[0].exercises()
    assert write(exercise.prescription) == "3 × 10"


def read(text: str) -> tuple[Episode, tuple[Finding, ...]]:
    outline, findings = read_outline(text, "workout.md")
    episode, more = build(outline, Series(), load(), folder_name="a-folder", file="workout.md")
    return episode, findings + more
