"""Several prescription lines under one heading: what is a part, what is not, and that parts written read back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.build import build
from repslate.model.episode import Episode, Exercise
from repslate.model.library import load
from repslate.model.parts import read_parts, write_parts
from repslate.model.prescription import write
from repslate.model.quantity import Range
from repslate.model.series import Series
from repslate.model.sets import all_sets, sets_of
from repslate.source.finding import Finding, Severity
from repslate.source.outline import read_outline
from repslate.source.span import Span

RAMP = ["Ramp: 1 × 5 @ 40 % 1RM", "Ramp: 1 × 5 @ 50 % 1RM", "Ramp: 1 × 3 @ 60 % 1RM", "Ramp: 1 × 2 @ 70 % 1RM"]
#: The lines under a heading, the canonical lines of the parts, the sets of work, and all sets.
CASES = [
    ("Ramp: 5/5/3/2 @ 40/50/60/70 % 1RM\nTop set: 1 × 1 @ RPE 8\nBack-offs: 4 × 4 @ 78 % 1RM",
     [*RAMP, "Top set: 1 × 1, RPE 8", "Back-offs: 4 × 4 @ 78 % 1RM"], 5, 9),
    ("Warm-up sets: 2 × 5 @ 40 kg\nWork: 3 × 5 @ 80 kg", ["Warm-up sets: 2 × 5 @ 40 kg", "Work: 3 × 5 @ 80 kg"], 3, 5),
    ("Set 1: 5 @ 65 % 1RM\nSet 2: 5 @ 75 % 1RM", ["Set 1: 5 reps @ 65 % 1RM", "Set 2: 5 reps @ 75 % 1RM"], 2, 2),
    ("3 × 5 @ 80 kg\n2 × 8 @ 60 kg", ["3 × 5 @ 80 kg", "2 × 8 @ 60 kg"], 5, 5),
    ("- 3 × 5 @ 80 kg\n- 2 × 8 @ 60 kg", ["3 × 5 @ 80 kg", "2 × 8 @ 60 kg"], 5, 5),
    ("5 @ 65 % 1RM\n3 @ 75 % 1RM\n1 @ 85 % 1RM", ["5 reps @ 65 % 1RM", "3 reps @ 75 % 1RM", "1 rep @ 85 % 1RM"], 3, 3),
    ("12/10/8/6 @ 60/70/80/85 % 1RM, rest 2 min",
     [f"1 × {reps} @ {load} % 1RM, rest 2 min" for reps, load in ((12, 60), (10, 70), (8, 80), (6, 85))], 4, 4),
    ("4 × 8 @ 60/70/80/85 kg", [f"1 × 8 @ {load} kg" for load in (60, 70, 80, 85)], 4, 4),
    ("3 × 10/8/6 @ 40/50/60 lb", ["1 × 10 @ 40 lb", "1 × 8 @ 50 lb", "1 × 6 @ 60 lb"], 3, 3),
    ("Top set: 5 reps @ RPE 9", ["Top set: 5 reps, RPE 9"], 1, 1),
    ("Top set: 1 × 3\nJoker: 2 x whatever", ["Top set: 1 × 3", "Joker: “2 x whatever”"], None, 2),
    ("Main: 12/10/8 @ 40 kg\nThen: 2 × max", ["Main: 12/10/8 @ 40 kg", "Then: 2 × max"], 5, 5),
]  # fmt: skip
#: Lines that are a single dose, or none.
SINGLE = [
    "3 × 10, rest 60 s", "3 × 10\nrest 60 s", "3 × 10\nKeep the bell close.", "3 × 10\n\n2 × 8",
    "Reps: 10\nKeep tight.", "12/10/8 @ 60/70 %", "4 × 8 @ 60/70/80 kg", "3 x banana\n2 x apple", "Stand tall: 3 cues",
    "3 × 10 @ 24 kg\n10 reps each time", "Note: 3 × 10 is plenty",
]  # fmt: skip


def read(lines: str, block: str = "Straight sets") -> tuple[Exercise, Episode, tuple[Finding, ...]]:
    text = f"---\nformat: 1\ntitle: T\n---\n## {block}\n### Barbell row\n{lines}\n"
    outline, findings = read_outline(text, "workout.md")
    episode, more = build(outline, Series(), load(), folder_name="a-folder", file="workout.md")
    ((_, exercise),) = episode.exercises()
    return exercise, episode, findings + more


@pytest.mark.parametrize(("lines", "written", "sets", "every"), CASES)
def test_lines_below_each_other_are_parts(lines: str, written: list[str], sets: int | None, every: int) -> None:
    exercise, episode, findings = read(lines)
    assert list(write_parts(exercise.parts)) == written
    assert sets_of(episode.blocks[0], exercise) == (None if sets is None else Range(sets, sets))
    assert all_sets(exercise) == Range(every, every)
    assert exercise.prose == ()
    assert all(found.severity is Severity.NOTE for found in findings if found.check != "exercise-unknown")
    again = read("\n".join(written))[0]
    assert [(part.name, part.prescription, part.is_warm_up) for part in again.parts] == [
        (part.name, part.prescription, part.is_warm_up) for part in exercise.parts
    ]


@pytest.mark.parametrize("lines", SINGLE)
def test_other_lines_are_no_parts(lines: str) -> None:
    assert read(lines)[0].parts == ()


def test_the_main_part_is_the_first_of_the_work() -> None:
    exercise, _, _ = read("Ramp: 2 × 5 @ 40 kg\nTop set: 1 × 3 @ 100 kg\nBack-offs: 3 × 5 @ 80 kg")
    assert write(exercise.prescription) == "1 × 3 @ 100 kg"
    assert exercise.prescription_span is not None
    assert exercise.prescription_span.line == 8
    assert [write(exercise.at_set(index)[0].prescription) for index in range(7)] == [
        *["2 × 5 @ 40 kg"] * 2, "1 × 3 @ 100 kg", *["3 × 5 @ 80 kg"] * 4,
    ]  # fmt: skip


def test_sets_of_parts_are_their_own_in_rounds_too() -> None:
    exercise, episode, _ = read("Top set: 1 × 3 @ 100 kg\nBack-offs: 3 × 5 @ 80 kg", "Superset · 4 rounds")
    assert sets_of(episode.blocks[0], exercise) == Range(4, 4)


def test_a_share_of_an_unknown_maximum_is_words_in_a_part_too() -> None:
    exercise, _, findings = read("Ramp: 2 × 5 @ 40 %\nWork: 3 × 5 @ 80 %\n\nShares of your training max.")
    assert list(write_parts(exercise.parts)) == ["Ramp: 2 × 5, “40 %”", "Work: 3 × 5, “80 %”"]
    assert [found.check for found in findings if found.check.startswith("dose")] == ["dose-as-typed"] * 2


@given(st.lists(st.sampled_from([*SINGLE, *(line for case in CASES for line in case[0].split("\n"))]), max_size=9))
def test_whatever_stands_there_what_is_written_reads_back(lines: list[str]) -> None:
    placed = [
        (line, Span("workout.md", number, 1, len(line))) for number, line in enumerate(lines, 1) if "\n" not in line
    ]
    parts, taken, _ = read_parts(placed)
    assert taken <= len(placed)
    written = list(write_parts(parts))
    again, _, _ = read_parts([(line, Span("workout.md", at, 1, len(line))) for at, line in enumerate(written, 1)])
    assert [(one.name, one.prescription) for one in again] == [(one.name, one.prescription) for one in parts]
