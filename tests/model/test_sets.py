"""How many sets are written: one answer, and everybody who asks gives it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from repslate.api import read
from repslate.facts import Facts
from repslate.model.quantity import Range
from repslate.model.sets import sets_of
from repslate.publish.view import view
from repslate.speech.plan import plan_of

FRONT = "---\nformat: 1\ntitle: T\n---\n"


def facts(folder: Path, heading: str, line: str) -> Facts:
    (folder / "workout.md").write_text(f"{FRONT}## {heading}\n### Leg extension\n{line}\n", "utf-8")
    found = read(folder).value
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("heading", "line", "sets"),
    [
        ("Superset A · 3 rounds", "1 × 5", Range(3, 3)),  # one set each round
        ("Superset A · 2–3 rounds", "1 × 5", Range(2, 3)),
        ("Superset A · 3 rounds", "5 reps", Range(3, 3)),
        ("Superset A · 3 rounds", "2 × 5", Range(2, 2)),  # the check rounds-differ asks which of the two
        ("Superset A · 1 round", "1 × 5", Range(1, 1)),
        ("Straight sets", "1 × 5", Range(1, 1)),
        ("Straight sets", "12/10/8", Range(3, 3)),
        ("Straight sets", "5 reps", None),
        ("Every minute for 10 min", "5 reps", Range(10, 10)),
        ("As many rounds as possible in 8 min", "5 reps", None),
    ],
)
def test_all_who_ask_count_alike(tmp_path: Path, heading: str, line: str, sets: Range[int] | None) -> None:
    episode = facts(tmp_path, heading, line)
    ((block, exercise),) = episode.episode.exercises()
    assert sets_of(block, exercise) == sets
    boxes = view(episode).exercises[0].boxes
    assert (boxes.count(True), len(boxes)) == ((sets.low, sets.high) if sets else (1, 1))
    ((subject,),) = (part.subjects for part in plan_of(episode.episode))
    said = [(one.low, one.high) for one in subject.written if one.field == "sets"]
    assert not said or (sets is not None and tuple(said) == ((Fraction(sets.low), Fraction(sets.high)),))
