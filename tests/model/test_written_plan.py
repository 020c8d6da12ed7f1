"""An episode written back and read again is the same episode, whatever the model can hold."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from made_episodes import write_episode
from model.test_block_heading import headings
from model.test_prescription import prescriptions
from repslate import api
from repslate.model.block_heading import write_heading
from repslate.model.episode import Block, Episode, Exercise, Prose, Quiet
from repslate.model.prescription import OneRepMaxShare, write
from repslate.model.written_plan import write_plan
from repslate.source.span import Span

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*/workout.md"))
COACHES = sorted((Path(__file__).parents[1] / "cases" / "coaches").glob("*/workout.md"))
FRONT = """\
format: 1
title: "Rows: and \\"more\\""
episode: 7
presenter: P. Example
recorded: 2026-04-14
goal: strength
level: beginner
focus: [glutes, "upper back"]
equipment: [kettlebell, "bench, low"]
video: https://video.example/watch/1
length: 1:02:10
training max: 92.5 %
sponsor: none
hashtags: [rows, two]
slug: rows-and-more
picture: pictures/title.jpg
picture description: A row
summary: "What it is: rows."
"""
NAMES = ("Goblet squat", "Goblet squat", "B2 drop jump", "Row (one arm)", "Press – half-kneeling", "*Light* hinge {h}")
LABELLED = (
    "Slow and even.\n\nThen *faster*:\n\n- left\n- right", "Cues: one", "Cues:\n- one\n- two: three", "Easier: a box",
    "Harder:\n- a bell\n- two bells", "Caution (knees): Stop above\nthe depth that hurts.", "Caution: Breathe.",
    "Muscles: glutes, hamstrings and quadriceps", "Equipment: bench, band", "![A bench](pictures/bench.jpg)",
    "As here: ![in words](pictures/words.png) it is low.", "Quiet (rest-missing): it is a test",
)  # fmt: skip


#: Where a thing stands, and whether a heading or a share was spelt out, as it is when written anew.
UNTOLD = {
    Quiet: ("first", "last"),
    Episode: ("places", "series"),
    Block: ("in_words",),
    OneRepMaxShare: ("named",),
}


def episode_of(text: str) -> Episode:
    read = api.read(text).value
    assert read is not None
    return read.episode


def told(held: object) -> Any:
    """Return what something holds without its places; runs of prose are one text, however they were parted."""
    if isinstance(held, Span):
        return None
    if isinstance(held, tuple | list):
        if held and isinstance(held[0], Prose):
            return "\n\n".join(one.markdown.strip() for one in held)
        return [told(one) for one in held]
    if not is_dataclass(held) or isinstance(held, Enum):
        return held
    said = {one.name: told(getattr(held, one.name)) for one in fields(held)}
    if isinstance(held, Exercise):
        said["prescription_span"] = held.prescription_span is not None
        said["pictures"] = sorted(map(str, said["pictures"]))
    for name in UNTOLD.get(type(held), ()):
        del said[name]
    return said


@pytest.mark.parametrize("path", [*SAMPLES, *COACHES], ids=lambda path: path.parent.name)
def test_a_plan_somebody_wrote(path: Path) -> None:
    first = episode_of(path.read_text("utf-8"))
    written = write_plan(first)
    again = episode_of(written)
    assert told(again) == told(first)
    assert write_plan(again) == written


@st.composite
def plans(draw: st.DrawFn) -> str:
    """Write an episode with any headings and doses the model can hold, some of them in parts."""
    lines = ["---", FRONT + "---", draw(st.sampled_from(("", "For everybody.\n\nAnd *more*.\n")))]
    for heading in draw(st.lists(headings(), min_size=1, max_size=4)):
        lines += [
            f"## {write_heading(heading)}",
            *draw(st.lists(st.sampled_from(LABELLED[:1] + LABELLED[5:7]), max_size=2)),
        ]
        for name in draw(st.lists(st.sampled_from(NAMES), max_size=3)):
            doses = [write(one) for one in draw(st.lists(prescriptions(), min_size=1, max_size=3))]
            named = [f"Top set {at}: {dose}" for at, dose in enumerate(doses)] if len(doses) > 1 else doses
            lines += [
                f"### {name}",
                *named,
                "",
                *draw(st.lists(st.sampled_from(LABELLED).map("{}\n".format), max_size=4)),
            ]
    return "\n".join([*lines, "", "## Safety", "Clear the floor.", "", "## Thanks", "To all."])


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_whatever_the_model_holds(text: str) -> None:
    first = episode_of(text)
    written = write_plan(first)
    again = episode_of(written)
    assert told(again) == told(first), written
    assert write_plan(again) == written


@pytest.mark.parametrize("seed", range(40))
def test_episodes_that_nobody_wrote(tmp_path: Path, seed: int) -> None:
    write_episode(tmp_path / "made", seed)
    first = episode_of((tmp_path / "made" / "workout.md").read_text("utf-8"))
    again = episode_of(write_plan(first))
    assert told(again) == told(first)
