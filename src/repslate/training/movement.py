"""What a movement is to the guidelines and the hazards: what loads it, and whether it is a main lift."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from repslate.model.episode import Block, Episode, Exercise
from repslate.model.library import Match
from repslate.model.prescription import (
    Band,
    Bodyweight,
    EmptyBar,
    Prescription,
    Share,
    TwoLevels,
    Weight,
    WorkingShare,
    masses_of,
)

FREE_BARS = frozenset({"barbell", "ez bar", "trap bar", "safety squat bar"})
_LOADS = FREE_BARS | {"dumbbell", "kettlebell", "cable machine", "plate", "sandbag", "landmine"}
#: Patterns over several joints, which NSCA calls core exercises; the rest assists (the sorting is ours).
_MAIN = frozenset(
    {"squat", "hinge", "lunge", "horizontal push", "vertical push", "horizontal pull", "vertical pull", "power"}
)
HAND_MAX = 60  # kg in one hand: heavier dumbbells are rare, so a heavier load is a bar (common practice, no source)
#: What a list of equipment calls a bar, or a place that has one; a pull-up bar and parallel bars carry no plates.
_BARBELL = re.compile(r"\bbar(?:bells?)?\b")
_BELLS = re.compile(r"\b(?:kettle|dumb)?bells?\b")
_BAR = re.compile(
    r"(?<!pull-up )(?<!pull up )(?<!chin-up )(?<!parallel )(?<!dip )(?<!monkey )(?<!wall )(?<!push-up )\bbars?\b"
    r"|barbells?|\bplates?\b|\brack\b|smith|\bgym\b|\bweights\b"
)


def is_working(block: Block) -> bool:
    """Tell whether a block is the work itself, neither warm-up nor cool-down."""
    return block.form.stands is None


def kit_of(episode: Episode, exercise: Exercise) -> frozenset[str]:
    """Return the equipment that the workout and the exercise name, in lower case."""
    return frozenset(words.text.casefold() for words in (*episode.equipment, *exercise.equipment))


def is_free_bar(match: Match, kit: Collection[str]) -> bool:
    """Tell whether the movement is certainly done with a bar that nothing guides; `kit` settles an open choice."""
    return any(FREE_BARS.issuperset(choices) for choices in _choices(match, kit))


def may_be_bar(match: Match, kit: Collection[str]) -> bool:
    """Tell whether a bar, free or guided, is one of the ways to do the movement."""
    bars = FREE_BARS | {"smith machine"}
    return any(not bars.isdisjoint(choices) for choices in _choices(match, kit))


def is_without_bar(episode: Episode, exercise: Exercise) -> bool:
    """Tell whether the workout shows that no bar is used where the movement's name lets one expect it.

    Two pieces, a band or the body as the load show it, and a list of equipment without a bar does, or words on the
    block or the exercise that speak of bells and of no bar; the name of the bar in the heading, or more weight than a
    hand holds, shows the opposite.
    """
    load = exercise.prescription.load
    if _BAR.search(exercise.name.casefold()):
        return False
    if isinstance(load, Weight | TwoLevels) and load.pieces > 1:
        return True
    if isinstance(load, EmptyBar):
        return False
    kit = kit_of(episode, exercise)
    if any(map(_BAR.search, kit)) or any(one.in_unit("kg").high > HAND_MAX for one in masses_of(load)):
        return False
    return bool(kit) or isinstance(load, Band | Bodyweight) or _speaks_of_bells(episode, exercise)


def _speaks_of_bells(episode: Episode, exercise: Exercise) -> bool:
    block = next((one.name for one in episode.blocks if any(exercise.id == e.id for e in one.exercises)), "")
    prose, cues = (one.markdown for one in exercise.prose), (one.text for one in exercise.cues)
    said = " ".join([block, *prose, *cues]).casefold()
    return _BELLS.search(said) is not None and not _BARBELL.search(said)


def is_loaded(match: Match | None, said: Prescription) -> bool:
    """Tell whether the load can be chosen: it is written, or the movement never does without a weight."""
    if masses_of(said.load) or isinstance(said.load, EmptyBar):
        return True
    if isinstance(said.load, Share) and not isinstance(said.load, WorkingShare):
        return True
    return match is not None and any(
        all(choice in _LOADS or choice.endswith(" machine") for choice in choices) for choices in _choices(match, ())
    )


def is_main_lift(match: Match | None) -> bool:
    """Tell whether the movement is one of a workout's main lifts: large, over several joints; unknown ones are not."""
    return match is not None and match.entry.pattern in _MAIN


def _choices(match: Match, kit: Collection[str]) -> Iterator[list[str]]:
    """Yield for each thing needed the pieces that may be used, in lower case."""
    said = {match.kit.casefold(), *kit}
    for item in match.entry.equipment:
        choices = item.casefold().split(" or ")
        yield [choice for choice in choices if choice in said] or choices
