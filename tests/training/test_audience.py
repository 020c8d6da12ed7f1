"""Which people a workout names, and which hazards of a movement concern them."""

from __future__ import annotations

import pytest

from repslate.model.episode import Episode, Prose
from repslate.model.library import load
from repslate.model.series import Series
from repslate.source.span import Span
from repslate.training.audience import named_for

HERE = Span("workout.md", 1, 1)


@pytest.mark.parametrize(
    ("text", "name", "slugs"),
    [
        # ACOG Committee Opinion 804, 2020: long lying flat is to be avoided in later pregnancy.
        ("Strong in pregnancy", "Glute bridge", {"supine"}),
        ("For pregnant women", "Dumbbell bench press", {"supine"}),
        ("In the second trimester", "Glute bridge", {"supine"}),
        ("Not for pregnant women", "Glute bridge", set()),
        ("If you are pregnant, ask your midwife first", "Glute bridge", set()),
        ("Ask your doctor first if you are pregnant", "Glute bridge", set()),
        ("If you are pregnant, take the incline", "Glute bridge", {"supine"}),
        ("For all", "Glute bridge", set()),
        # The rest from memory: impact after birth, with thin bones, with a new hip; bending the spine with thin bones.
        ("Postnatal core", "Glute bridge", set()),
        ("Postnatal running", "High knees", {"impact"}),
        ("Back after the birth", "Shuttle run", {"impact"}),
        ("With osteoporosis", "Crunch", {"loaded-spine-flexion"}),
        ("Strong with thin bones", "Jefferson curl", {"loaded-spine-flexion"}),
        ("Strong with thin bones", "Plank", set()),
        ("After a hip replacement", "Treadmill run", {"impact"}),
        ("After a hip replacement", "Sit-up", set()),
        ("A new hip-hop routine", "Treadmill run", set()),
        ("In memory of Otto", "Treadmill run", set()),
    ],
)
def test_named_people_make_hazards_matter(text: str, name: str, slugs: set[str]) -> None:
    entry = load().entries[name]
    assert named_for(Episode(text, "x", HERE, Series()), entry) == slugs
    words = (Prose(text, HERE),)
    assert named_for(Episode("X", "x", HERE, Series(), lead=words), entry) == slugs
    assert named_for(Episode("X", "x", HERE, Series(), safety=words), entry) == slugs
    assert named_for(Episode("X", "x", HERE, Series(), summary=text), entry) == slugs
    assert named_for(Episode("X", "x", HERE, Series(safety=(text,))), entry) == slugs
