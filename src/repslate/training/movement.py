"""What a movement is to the guidelines and the hazards: what loads it, and whether it is a main lift.

Stands apart because both ask it, and the library says equipment and pattern but not what follows from them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from repslate.model.episode import Block, BlockKind, Episode, Exercise
from repslate.model.library import Match
from repslate.model.prescription import Bodyweight, OneRepMaxShare, Prescription, Weight

FREE_BARS = frozenset({"barbell", "ez bar", "trap bar", "safety squat bar"})
_LOADS = FREE_BARS | {"dumbbell", "kettlebell", "cable machine", "plate", "sandbag", "landmine"}
#: Patterns over several joints, which NSCA calls core exercises; the rest assists (the sorting is ours).
_MAIN = frozenset(
    {"squat", "hinge", "lunge", "horizontal push", "vertical push", "horizontal pull", "vertical pull", "power"}
)
_AROUND = frozenset({BlockKind.WARM_UP, BlockKind.COOL_DOWN})


def is_working(block: Block) -> bool:
    """Tell whether a block is the work itself, neither warm-up nor cool-down."""
    return block.kind not in _AROUND


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


def is_loaded(match: Match | None, said: Prescription) -> bool:
    """Tell whether the load can be chosen: it is written, or the movement never does without a weight."""
    if isinstance(said.load, Weight | OneRepMaxShare) or (isinstance(said.load, Bodyweight) and said.load.added):
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
