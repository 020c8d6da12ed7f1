"""When a workout shows that no bar is used: by its load, its list of equipment and the name in the heading."""

from __future__ import annotations

import pytest

from repslate.model.episode import Episode, Exercise, Words
from repslate.model.library import load
from repslate.model.prescription import parse
from repslate.model.series import Series
from repslate.source.span import Span
from repslate.training.movement import is_without_bar

HERE = Span("workout.md", 9, 1)


@pytest.mark.parametrize(
    ("name", "line", "kit", "barless"),
    [
        ("Bench press", "3 × 8", (), False),
        ("Bench press", "3 × 8 @ 2 × 24 kg", ("barbell",), True),
        ("Bench press", "3 × 8 @ 60 kg", ("dumbbells",), True),
        ("Bench press", "3 × 8 @ 61 kg", ("dumbbells",), False),  # more than a hand holds: common practice
        ("Bench press", "3 × 8 @ 75 % 1RM", ("dumbbells",), True),
        ("Barbell bench press", "3 × 8", ("dumbbells",), False),
        ("Back squat", "3 × 8 @ bodyweight", (), True),
        ("Back squat", "3 × 8 @ bodyweight", ("barbell",), False),  # as heavy as the body
        ("Back squat", "3 × 8 @ band", ("band",), True),
        ("Back squat", "3 × 8", ("Pull-up bar", "parallel bars", "barre"), True),
        ("Back squat", "3 × 8", ("power rack",), False),
        ("Back squat", "3 × 8", ("EZ bar",), False),
        ("Back squat", "3 × 8", ("bumper plates",), False),
        ("Back squat", "3 × 8", ("Smith machine",), False),
        ("Back squat", "3 × 8", ("a full gym",), False),
    ],
)
def test_no_bar(name: str, line: str, kit: tuple[str, ...], barless: bool) -> None:
    said, _ = parse(line, HERE)
    assert said is not None
    exercise = Exercise(name, name, HERE, "A1", said, HERE, load().find(name))
    episode = Episode("X", "x", HERE, Series(), equipment=tuple(Words(piece, HERE) for piece in kit))
    assert is_without_bar(episode, exercise) is barless
