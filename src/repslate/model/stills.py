"""Gives an exercise the picture that bears its id. Stands in the model because it says what the episode shows."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from pathlib import PurePosixPath

from repslate.model.episode import Episode, Exercise, Picture

FOLDER = "pictures"
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")


def adopt(episode: Episode, files: Collection[str]) -> Episode:
    """Return the episode in which "pictures/goblet-squat.jpg", if no line refers to it, is the goblet squat's picture.

    `files` are paths relative to the episode's folder. The picture has no description; a check says so.
    """
    spoken_for = {PurePosixPath(picture.path) for _, one in episode.exercises() for picture in one.pictures}
    if episode.picture is not None:
        spoken_for.add(PurePosixPath(episode.picture.path))
    free = {
        path.stem: file
        for file in sorted(files, reverse=True)  # of "row.jpg" and "row.png" the first counts
        if (path := PurePosixPath(file)).parent.name == FOLDER == str(path.parent)
        and path.suffix.lower() in ENDINGS
        and path not in spoken_for
    }

    def shown(exercise: Exercise) -> Exercise:
        if exercise.pictures or exercise.id not in free:
            return exercise
        return replace(exercise, pictures=(Picture(free[exercise.id], "", exercise.span),))

    blocks = tuple(replace(block, exercises=tuple(map(shown, block.exercises))) for block in episode.blocks)
    return replace(episode, blocks=blocks)
