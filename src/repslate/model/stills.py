"""The episode's pictures: which an exercise has, whether one lies in the folder, and how it is opened.

Stands in the model because the checks ask what publishing then does: both open a picture here.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import replace
from enum import StrEnum
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from repslate.model.episode import Episode, Exercise, Picture

if TYPE_CHECKING:
    from PIL.Image import Image

FOLDER = "pictures"
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
FORMATS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
WIDEST = 1280  # pixels: twice the article's column on a dense screen
_FROM_ELSEWHERE = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:|[/\\~]")  # an address, a drive letter, a home folder


class Trouble(StrEnum):
    """Why a picture cannot be shown, as a finding words it."""

    MISSING = "is not there"
    LINK_OUT = "is a link that leads out of the episode's folder"
    TOO_LARGE = "has more pixels than a page can use"
    UNREADABLE = "is no picture that can be read"


def leads_out(path: str) -> bool:
    """Tell whether the words of a path lead out of its folder: an address, "/a", "C:", "~", too many ".."."""
    if _FROM_ELSEWHERE.match(path):
        return True
    depth = 0
    for part in re.split(r"[/\\]", path):
        depth += {"..": -1, ".": 0, "": 0}.get(part, 1)
        if depth < 0:
            return True
    return False


@contextmanager
def _whole_pictures_only() -> Iterator[None]:
    """Let half a picture be no picture: what draws the cards tells Pillow otherwise for the whole process."""
    from PIL import ImageFile

    told = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = told


def open_picture(folder: Path, path: str) -> tuple[Image, str] | Trouble:
    """Open a picture of the episode's folder, upright and at most 1280 px wide, with its format; or say why not."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        place = (folder / path).resolve()
        if not place.is_relative_to(folder.resolve()):
            return Trouble.LINK_OUT
        with warnings.catch_warnings(), _whole_pictures_only():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(place.read_bytes()), formats=tuple(FORMATS))
            kind = str(image.format)
            image = ImageOps.exif_transpose(image)  # type: ignore[assignment]
            image.thumbnail((WIDEST, WIDEST))
    except (FileNotFoundError, NotADirectoryError):
        return Trouble.MISSING
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        return Trouble.TOO_LARGE
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, RuntimeError):  # the last: a link to itself
        return Trouble.UNREADABLE
    return image, kind


def shown(episode: Episode) -> Iterator[Picture]:
    """Yield the episode's own picture, then those of the exercises in order."""
    if episode.picture is not None:
        yield episode.picture
    for _, exercise in episode.exercises():
        yield from exercise.pictures


def examine(folder: Path, episode: Episode) -> dict[str, Trouble]:
    """Open every picture that the episode shows; return by path what is wrong with those that cannot be shown."""
    paths = {picture.path for picture in shown(episode) if picture.path and not leads_out(picture.path)}
    opened = ((path, open_picture(folder, path)) for path in sorted(paths))
    return {path: found for path, found in opened if isinstance(found, Trouble)}


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

    def with_own(exercise: Exercise) -> Exercise:
        if exercise.pictures or exercise.id not in free:
            return exercise
        return replace(exercise, pictures=(Picture(free[exercise.id], "", exercise.span),))

    blocks = tuple(replace(block, exercises=tuple(map(with_own, block.exercises))) for block in episode.blocks)
    return replace(episode, blocks=blocks)
