"""Hearing measured on labelled, invented talk in many voices; the floors are a little under what is reached today."""

from __future__ import annotations

from pathlib import Path

import pytest

from labelled import DATA, Score, chapters_right, figures_right, lay_out, names_right, truth_of
from repslate import api
from repslate.speech.discover import UNNAMED, discover

SPOKEN = sorted((DATA / "spoken").iterdir())  # copies of labelled episodes that the rules were built with
TALK = sorted(path for path in (DATA / "talk").iterdir() if path.is_dir())  # our own, in other voices


@pytest.mark.parametrize(
    ("episodes", "precision", "recall", "whose"),
    [(SPOKEN, 0.97, 0.96, 0.97), (TALK, 0.93, 0.92, 0.94)],
    ids=["built with", "our own"],
)
def test_figures_are_heard_and_given_to_the_right_exercise(
    episodes: list[Path], precision: float, recall: float, whose: float, tmp_path: Path
) -> None:
    heard, owned = Score(0, 0, 0), Score(0, 0, 0)
    for episode in episodes:
        facts = api.read(lay_out(episode, tmp_path / episode.name)).value
        assert facts is not None and facts.heard is not None
        one, two = figures_right(facts.heard.figures, truth_of(episode))
        heard, owned = heard + one, owned + two
    assert heard.precision >= precision
    assert heard.recall >= recall
    assert owned.precision >= whose


@pytest.mark.parametrize(
    ("episodes", "f1", "recall", "precision"),
    [(SPOKEN, 0.90, 0.92, 0.90), (TALK, 0.75, 0.80, 0.90)],
    ids=["built with", "our own"],
)
def test_exercises_and_topics_are_gathered_from_talk_alone(
    episodes: list[Path], f1: float, recall: float, precision: float, tmp_path: Path
) -> None:
    names, chapters = Score(0, 0, 0), Score(0, 0, 0)
    for episode in episodes:
        facts = api.read(lay_out(episode, tmp_path / episode.name)).value
        assert facts is not None and facts.heard is not None
        parts, topics = discover(facts.heard.words, facts.library, facts.heard.said)
        named = [one.name for part in parts for one in part.subjects if not one.name.startswith(UNNAMED)]
        names += names_right(named, truth_of(episode))  # one without a name counts by its place
        chapters += chapters_right([float(topic.time) for topic in topics], truth_of(episode))
    assert 2 * names.right / (names.given + names.wanted) >= f1
    assert chapters.recall >= recall
    assert chapters.precision >= precision


@pytest.mark.parametrize("episode", [*SPOKEN, *TALK], ids=lambda path: path.name)
def test_every_contradiction_is_found_and_nothing_else(episode: Path, tmp_path: Path) -> None:
    findings = api.check(lay_out(episode, tmp_path / episode.name)).findings
    said = {(one.about.exercise, one.about.field) for one in findings if one.check == "said-differs-from-written"}
    labels = truth_of(episode)["contradictions"]
    assert said == {(one["exercise"], one["field"]) for one in labels}
