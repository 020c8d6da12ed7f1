"""A series' own exercises: how exercises.yaml is read, and whose names win."""

from __future__ import annotations

import re
from dataclasses import fields
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate import api
from repslate.model.library import Entry, load
from repslate.model.library_files import FOLDER
from repslate.model.own_exercises import FILE_NAME, MET, PACE, OwnExercise, read_library
from repslate.source.models import keys
from settings_cases import Case, cases, outcome

SHIPPED = load()
DEFAULT = Entry("", (), "own", "", (), (), (), False, "reps", PACE, (), MET, FILE_NAME)


def own(name: str, *also: str) -> Entry:
    return Entry(name, also, "own", "", ("band",), ("brachialis",), (), False, "reps", Fraction(3), (), MET, "")


def shown(entry: Entry) -> str:
    """Return the entry's name and what differs from the defaults."""
    told = []
    for field in fields(entry):
        value = getattr(entry, field.name)
        if field.name != "name" and value != getattr(DEFAULT, field.name):
            told.append(f"{field.name} {', '.join(value) if isinstance(value, tuple) else value}")
    return f"{entry.name}: {'; '.join(told)}".rstrip()


@pytest.mark.parametrize("case", cases("own-exercises.txt"), ids=lambda case: case.name)
def test_reads_what_it_can_and_tells_the_rest(case: Case, tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text(case.text, "utf-8")
    library, span, findings = read_library(tmp_path, SHIPPED)
    assert span is not None
    mine = [entry for entry in library.entries.values() if entry.family == "own"]
    assert outcome(map(shown, mine), findings) == case.expected


def test_shipped_defaults_are_those_of_most_entries() -> None:
    """So that an entry without pace and MET counts like its likes."""
    entries = SHIPPED.entries.values()
    assert sum(entry.pace == PACE for entry in entries) * 2 > len(entries)
    assert {entry.met for entry in entries} >= {MET}


def test_nearest_file_counts_and_none_leaves_the_library_as_it_is(tmp_path: Path) -> None:
    folder = tmp_path / "winter" / "seven"
    folder.mkdir(parents=True)
    assert read_library(folder, SHIPPED) == (SHIPPED, None, ())
    (tmp_path / FILE_NAME).write_text("Outer lift: {equipment: band, primary: lats, unit: x}\n", "utf-8")
    library, span, (finding,) = read_library(folder, SHIPPED)
    assert "Outer lift" in library.entries
    assert (span and span.file, finding.span.file) == ("../../exercises.yaml", "../../exercises.yaml")
    (folder / FILE_NAME).write_text("Inner lift: {equipment: band, primary: lats}\n", "utf-8")
    library, _, findings = read_library(folder, SHIPPED)
    assert ("Inner lift" in library.entries, "Outer lift" in library.entries, findings) == (True, False, ())


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).mkdir()
    library, span, (finding,) = read_library(tmp_path, SHIPPED)
    assert (library, span, finding.check) == (SHIPPED, None, "file-unreadable")


def test_every_key_of_the_recipe_is_read() -> None:
    """What README in exercises/ says of the shipped files holds here too."""
    recipe = (FOLDER / "exercises" / "README.md").read_text("utf-8")
    rows = re.findall(r"^\| ([a-z, -]+) \|", recipe, re.MULTILINE)
    ours = {"key", "---", "metre-pace"}  # one's own rowing is counted in metres
    assert {key for cells in rows for key in cells.split(", ")} - ours == set(keys(OwnExercise))


# Whose names win.


def test_own_names_win_in_every_spelling_and_the_rest_stays() -> None:
    library = SHIPPED.with_own([own("Boat squat", "back squat"), own("Press-up", "row boat")])

    def found(name: str) -> str | None:
        match = library.find(name)
        return match.entry.name if match else None

    assert found("Back squat") == found("back squats") == found("Back-squat") == "Boat squat"
    assert found("Barbell squat") == "Boat squat"  # another name of the entry whose place it takes
    assert found("Push-up") == found("Pushups") == found("press up") == "Press-up"
    assert found("Goblet squat") == "Goblet squat"
    assert found("boat row") == "Press-up"
    assert "Back squat" not in library.entries
    assert "Back squat" in SHIPPED.entries


shipped_names = st.sampled_from([name for entry in SHIPPED.entries.values() for name in (entry.name, *entry.aliases)])


@given(st.lists(shipped_names, min_size=1, max_size=3, unique_by=str.lower), shipped_names)
def test_adding_entries_takes_no_name_away(taken: list[str], asked: str) -> None:
    first, *also = taken
    library = SHIPPED.with_own([own(first, *also)])
    for name in taken:
        match = library.find(name)
        assert match is not None
        assert match.entry.family == "own"
    match, before = library.find(asked), SHIPPED.find(asked)
    assert match is not None
    assert before is not None
    assert match.entry.family == "own" or match.entry.name == before.entry.name


def test_an_episode_is_read_with_the_series_own(tmp_path: Path) -> None:
    """Its names are known, in chapters too, its hazard asks for a caution, its muscles count; the file is an input."""
    folder = tmp_path / "monday"
    folder.mkdir()
    text = "---\nformat: 1\ntitle: A sample\nfocus: [biceps]\n---\n## Straight sets\n### Boat row\n3 × 10, rest 60 s\n"
    (folder / "workout.md").write_text(text, "utf-8")
    unknown = {finding.check for finding in api.check(folder).findings}
    assert "exercise-unknown" in unknown
    (folder / "chapters.txt").write_text("0:00 Goblet squat\n", "utf-8")
    entry = "Boat row: {also: goblet squat, equipment: kettlebell, primary: lats, traits: ballistic-swing}\n"
    (tmp_path / FILE_NAME).write_text(entry, "utf-8")
    checked = api.check(folder)
    assert checked.value is not None
    found = {finding.check for finding in checked.findings}
    assert "exercise-unknown" not in found
    assert {"caution-missing", "focus-differs"} <= found
    assert "../exercises.yaml" in checked.value.inputs
    assert checked.value is not None
    assert [chapter.exercise for chapter in checked.value.chapters] == ["boat-row"]
