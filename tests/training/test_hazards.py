"""Which topics a movement asks for, by its hazards, load, effort, goal and level, and where they may be answered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from repslate.model.episode import Block, Caution, Episode, Exercise, Goal, Level, Prose, Words
from repslate.model.forms import BlockKind
from repslate.model.library import load
from repslate.model.prescription import Prescription, parse
from repslate.model.series import Series
from repslate.source.span import Span
from repslate.training.hazards import is_near_maximal, is_to_failure, reps_to_failure, topics, unanswered

HERE = Span("workout.md", 9, 1)
LIBRARY = load()


def said(line: str) -> Prescription:
    prescription, _ = parse(line, HERE)
    assert prescription is not None, line
    return prescription


def exercise(name: str, line: str, *cautions: str) -> Exercise:
    written = tuple(Caution(None, Words(text, HERE)) for text in cautions)
    match = LIBRARY.find(name)
    assert match is not None, name
    return Exercise(name, name, HERE, "A1", said(line), HERE, match, cautions=written)


def episode(
    *exercises: Exercise,
    goal: Goal | None = None,
    level: Level | None = None,
    kind: BlockKind = BlockKind.STRAIGHT,
    kit: tuple[str, ...] = (),
) -> Episode:
    block = Block(kind, "A", "", "Block", HERE, exercises)
    equipment = tuple(Words(piece, HERE) for piece in kit)
    return Episode("X", "x", HERE, Series(), goal=goal, level=level, blocks=(block,), equipment=equipment)


def asked(whole: Episode) -> dict[str, bool]:
    """Return whether each topic of the first exercise is a matter of safety."""
    block = whole.blocks[0]
    return {each.slug: each.safety for each in topics(block.exercises[0], block, whole, library=LIBRARY)}


# NSCA: spotters where a free bar is over the face, on the back, racked on the shoulders or overhead; never in power
# lifts. Which topics weigh as safety is our choice.
MOVEMENTS = [
    ("Barbell bench press", {"spotter": True}),
    ("Dumbbell bench press", {}),
    ("Smith machine bench press", {"spotter": False}),
    ("Lying triceps extension", {"spotter": False}),  # a bar or dumbbells: the workout does not say
    ("Dumbbell pullover", {}),
    ("Back squat", {"spotter": True, "back": False}),
    ("Front squat", {"spotter": True}),
    ("Overhead press", {"spotter": False, "shoulders": False}),  # one steps away from it: our choice
    ("Overhead squat", {"spotter": False, "shoulders": False}),
    ("Close-grip bench press", {"spotter": True}),
    ("Barbell pullover", {"spotter": False}),
    ("Dumbbell shoulder press", {}),
    ("Power clean", {"clear area": True, "back": False}),
    ("Squat clean", {"clear area": True, "back": False}),
    ("Snatch", {"clear area": True}),
    ("Thruster", {"clear area": True}),
    ("Kettlebell push press", {"clear area": False}),
    ("Behind-neck press", {"shoulders": True}),  # Kolber et al. 2013
    ("Dip", {"shoulders": False}),
    ("Depth jump", {"landing": True}),
    ("Box jump", {"landing": False}),
    ("Deadlift", {"back": False}),
    ("Kettlebell swing", {"back": False, "space": False}),
    ("Goblet squat", {}),
    ("Push-up", {}),
    ("Plank", {}),
    ("Lat pulldown", {}),
]


@pytest.mark.parametrize(("name", "expected"), MOVEMENTS)
def test_movement_asks_for(name: str, expected: dict[str, bool]) -> None:
    assert asked(episode(exercise(name, "3 × 8"))) == expected


S, E, B, A = Goal.STRENGTH, Goal.ENDURANCE, Level.BEGINNER, Level.ADVANCED
PRESCRIBED = [
    # NSCA, ACSM 2009: from 90 % 1RM there is no reserve for a slip; NSCA's table: 90 % is a load for four.
    ("Goblet squat", "3 × 2 @ 90 % 1RM", S, None, {"experience": True}),
    ("Goblet squat", "3 × 2 @ 90 % 1RM", S, A, {"experience": False}),
    ("Goblet squat", "3 × 3 @ 89 % 1RM", S, None, {}),
    ("Goblet squat", "3 × 3, RPE 9", S, None, {"experience": True}),
    ("Goblet squat", "3 × 3, leave 2 in reserve", S, None, {}),
    ("Goblet squat", "5 × 3", S, None, {"experience": False}),
    ("Goblet squat", "5 × 3", E, None, {}),
    ("Goblet squat", "5 × 3 @ 40 % of working load", S, None, {}),
    ("Pull-up", "5 × 3", S, None, {}),
    ("Power clean", "5 × 3", S, None, {"clear area": True, "back": False}),
    ("Deadlift", "1 × 2 @ 95 % 1RM", S, A, {"back": True, "experience": False}),
    # Refalo et al. 2023: no clear benefit of failure; asked of beginners and under a free bar (our choice).
    ("Barbell bench press", "3 × max", None, A, {"spotter": True, "failure": False}),
    ("Cable curl", "3 × 10, 2 drops of 20 %", None, B, {"failure": False}),
    ("Cable curl", "3 × 10, 2 drops of 20 %", None, A, {}),
    ("Push-up", "3 × max", None, B, {}),
    # Rider et al. 2019: unaccustomed volume; a hundred is our policy.
    ("Push-up", "5 × 20", None, B, {"pace": False}),
    ("Push-up", "5 × 19", None, B, {}),
    ("Push-up", "40/30/30", None, B, {"pace": False}),
    ("Push-up", "5 × 20", None, A, {}),
    ("Kettlebell swing", "3 × 10", None, B, {"back": True, "space": False}),
]


@pytest.mark.parametrize(("name", "line", "goal", "level", "expected"), PRESCRIBED)
def test_prescription_asks_for(
    name: str, line: str, goal: Goal | None, level: Level | None, expected: dict[str, bool]
) -> None:
    assert asked(episode(exercise(name, line), goal=goal, level=level)) == expected


def test_kit_of_the_workout_settles_an_open_choice() -> None:
    lying = exercise("Lying triceps extension", "3 × 10")
    assert asked(episode(lying, kit=("Barbell",))) == {"spotter": False}
    assert asked(episode(lying, kit=("dumbbell",))) == {}


def test_as_many_rounds_ask_beginners_once_a_block() -> None:
    first, second = exercise("Push-up", "5 reps"), exercise("Bodyweight squat", "5 reps")
    whole = episode(first, second, level=B, kind=BlockKind.AS_MANY_ROUNDS)
    found = [[each.slug for each in topics(one, block, whole, library=LIBRARY)] for block, one in whole.exercises()]
    assert found == [["pace"], []]


def test_a_topic_says_why_and_what_to_type() -> None:
    whole = episode(exercise("Barbell bench press", "3 × 8"))
    (topic,) = topics(whole.blocks[0].exercises[0], whole.blocks[0], whole, library=LIBRARY)
    assert topic.line == "Caution (spotter): Use a spotter or safety arms, and close the thumbs round the bar."
    assert "NSCA" in topic.source
    assert topic.reason


def left(whole: Episode, number: int = 0) -> list[str]:
    block = whole.blocks[0]
    return [each.slug for each in unanswered(block.exercises[number], block, whole, library=LIBRARY)]


def test_only_a_caution_on_the_topic_answers_it() -> None:
    assert left(episode(exercise("Barbell bench press", "3 × 8", "Keep the shoulders down."))) == ["spotter"]
    assert left(episode(exercise("Barbell bench press", "3 × 8", "No need for a spotter."))) == ["spotter"]
    assert left(episode(exercise("Barbell bench press", "3 × 8", "Use a spotter."))) == []
    assert left(episode(exercise("Back squat", "3 × 8", "Use a spotter."))) == ["back"]


def test_what_urges_on_to_harm_answers_nothing() -> None:
    assert left(episode(exercise("Back squat", "3 × 8", "Use a spotter.", "Push through back pain."))) == ["back"]
    assert left(episode(exercise("Barbell bench press", "3 × 8", "Safeties set, thumbless grip."))) == ["spotter"]


def test_the_same_movement_is_cautioned_once() -> None:
    plain = exercise("Barbell bench press", "1 × 8")
    told = exercise("Barbell bench press", "3 × 8", "Use a spotter.")
    assert left(episode(plain, told)) == []
    assert left(episode(plain, exercise("Push-up", "3 × 8", "Use a spotter."))) == ["spotter"]


def test_what_is_of_the_room_may_stand_once_for_all() -> None:
    chair = episode(exercise("Seated march", "1 × 60 s"))
    words = (Prose("The chair stands against a wall.", HERE),)
    assert left(chair) == ["chair"]
    assert left(replace(chair, lead=words)) == left(replace(chair, safety=words)) == []
    other = exercise("Seated twist", "1 × 60 s", "The chair stands against a wall.")
    assert left(episode(exercise("Seated march", "1 × 60 s"), other)) == []
    bench = episode(exercise("Barbell bench press", "3 × 8"))
    assert left(replace(bench, safety=(Prose("Use a spotter.", HERE),))) == ["spotter"]


@pytest.mark.parametrize(
    ("line", "reps", "maximal", "failing"),
    [
        # Reserve = 10 − RPE from 6 on: Zourdos et al. 2016; below, the scale is not converted.
        ("3 × 5, RPE 8", 7, False, False),
        ("3 × 3–5, RPE 8–9", 4, True, False),
        ("3 × 8, RPE 10", 8, False, True),
        ("3 × 5, RPE 5", None, False, False),
        ("8/6/4, leave 0 in reserve", 4, True, True),
        ("3 × 5", None, False, False),
        ("3 × 30 s, RPE 9", None, False, False),
        ("3 × 5, rest-pause", None, False, True),
        ("3 × 5, leave 2 in reserve, 1 drop of 20 %", 7, False, False),
        ("3 × max", None, False, False),
        ("3 × 5, last set max", None, False, False),
        ("myo-reps 15 + 4 × 5", None, False, True),
        ("3 × 3 @ 100 % TM", None, True, False),  # 90 % of the maximum
        ("3 × 3 @ 95 % TM", None, False, False),
        ("3 × 3 @ 3RM", None, True, True),  # 93 % by the handbook
        ("3 × 8 @ 8RM", None, False, True),
        ("3 × 6 @ 8RM", None, False, False),
        ("3 × 8 @ 90 % of 8RM", None, False, False),
        ("1 × 3 @ as heavy as possible", 3, True, False),
        ("1 × 3 @ light", None, False, False),
    ],
)
def test_how_hard_a_line_is(line: str, reps: int | None, maximal: bool, failing: bool) -> None:
    assert reps_to_failure(said(line)) == reps
    assert is_near_maximal(said(line)) is maximal
    assert is_to_failure(said(line)) is failing
