"""The episode's pictures: which an exercise has, whether one lies in the folder, and how it is opened."""

from __future__ import annotations

import os
import stat
import struct
import warnings
import zlib
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import replace
from enum import StrEnum
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, BinaryIO, cast

from repslate.model.episode import Episode, Exercise, Picture
from repslate.source.finding import Finding, Severity
from repslate.source.places import leads_out, real

if TYPE_CHECKING:
    from PIL.Image import Image

FOLDER = "pictures"
# What cameras, phones, scanners and screens write, and as what a page shows it. Lines stay sharp in PNG.
KINDS = {
    "JPEG": "JPEG",
    "MPO": "JPEG",  # what Pillow calls a JPEG with further pictures behind the first: most phones
    "HEIF": "JPEG",
    "AVIF": "JPEG",
    "TIFF": "JPEG",
    "PNG": "PNG",
    "GIF": "PNG",
    "BMP": "PNG",
    "WEBP": "WEBP",
}
FORMATS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
ENDINGS = (".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif", ".gif", ".tif", ".tiff", ".bmp")
WIDEST = 1280  # pixels: twice the article's column on a dense screen
HEAVIEST = 100 * 1024 * 1024  # bytes; what a phone writes at 50 million pixels takes a fifth of it
# Pixels, so that reading one takes half a gigabyte at most: of a JPEG no more is decoded than a page can use, the web's
# own formats are held several times over while they are.
LARGEST = {"JPEG": 110_000_000, "MPO": 110_000_000, "WEBP": 25_000_000, "AVIF": 25_000_000}
_LARGEST_ELSE = 50_000_000  # where phones end
_TURNS = {2: "FLIP_LEFT_RIGHT", 3: "ROTATE_180", 4: "FLIP_TOP_BOTTOM", 5: "TRANSPOSE", 6: "ROTATE_270",
          7: "TRANSVERSE", 8: "ROTATE_90"}  # fmt: skip
_ORIENTATION = 0x0112  # in EXIF
# How most pictures begin; Pillow reads these without loading all its other formats. A JPEG of several becomes an MPO.
_COMMON = {"JPEG": b"\xff\xd8\xff", "PNG": b"\x89PNG\r\n\x1a\n"}
# What Pillow raises over damaged bytes, beside its own UnidentifiedImageError, which is an OSError.
_DAMAGED = (OSError, SyntaxError, ValueError, TypeError, LookupError, ArithmeticError, EOFError, RuntimeError,
            struct.error, zlib.error)  # fmt: skip


class Trouble(StrEnum):
    """Why a picture cannot be shown, as a finding words it."""

    MISSING = "is not there"
    LINK_OUT = "is a link that leads out of the episode's folder"
    TOO_LARGE = "has more pixels than a page can use"
    TOO_HEAVY = "is too large a file for a picture"
    NO_FILE = "is no file"
    LOCKED = "may not be read"
    EMPTY = "is empty"
    UNREADABLE = "is no picture that can be read"


_MENDS = {
    Trouble.NO_FILE: "put the picture itself there",
    Trouble.LOCKED: "allow reading the file, in its properties or with chmod",
    Trouble.EMPTY: "copy the picture into the folder again",
    Trouble.TOO_LARGE: "save it smaller, 4000 pixels wide are plenty",
    Trouble.TOO_HEAVY: "save it smaller, as JPEG and 4000 pixels wide at most",
}


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
    """Open a picture of the episode's folder as a page shows it, with its format in FORMATS; or say why not.

    It is upright, at most 1280 px wide and high, in sRGB and of a mode that every one of FORMATS can hold. Of moving
    pictures it is the first.
    """
    try:
        place = real(folder / path)
        if not place.is_relative_to(real(folder)):
            return Trouble.LINK_OUT
        if refused := _refused(place.stat()):
            return refused
        with place.open("rb") as stream, _whole_pictures_only():
            return _decoded(stream)
    except (FileNotFoundError, NotADirectoryError):
        return Trouble.MISSING
    except PermissionError:
        return Trouble.LOCKED
    except (OSError, ValueError, RuntimeError):  # a link to itself, a name that the system does not take
        return Trouble.UNREADABLE


def _refused(status: os.stat_result) -> Trouble | None:
    """Return why a file is not even opened: a pipe would be waited for, and a whole disk read."""
    if not stat.S_ISREG(status.st_mode):
        return Trouble.NO_FILE
    if not status.st_size:
        return Trouble.EMPTY
    return Trouble.TOO_HEAVY if status.st_size > HEAVIEST else None


def _decoded(stream: BinaryIO) -> tuple[Image, str] | Trouble:
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(stream, formats=_readable(stream))
            if image.width * image.height > LARGEST.get(str(image.format), _LARGEST_ELSE):
                return Trouble.TOO_LARGE
            image.draft(None, (2 * WIDEST, 2 * WIDEST))  # of a JPEG no more is decoded than the page can use
            image.load()
            kind, turn, profile = KINDS[str(image.format)], _turn(image), image.info.get("icc_profile")
            is_good = kind == "PNG" and _is_flat(image) and not profile
            colours, alpha = (image, None) if is_good else _plain(image)
    except Image.DecompressionBombError:
        return Trouble.TOO_LARGE
    except _DAMAGED:
        return Trouble.UNREADABLE
    colours = _in_srgb(colours, profile)
    if alpha is not None:
        colours.putalpha(alpha)
        kind = "WEBP" if kind == "JPEG" else kind
    return colours.transpose(Image.Transpose[turn]) if turn else colours, kind


def _readable(stream: BinaryIO) -> tuple[str, ...]:
    """Return the formats that can be read here; the phones' own comes from a library that is loaded for it alone."""
    head = stream.read(8)
    stream.seek(0)
    for kind, sign in _COMMON.items():
        if head.startswith(sign):
            return (kind,)
    from PIL import features

    heif = head[4:] == b"ftyp"
    if heif:
        import pillow_heif

        pillow_heif.register_heif_opener(thumbnails=False, depth_images=False, aux_images=False)
    has = {"MPO": False, "HEIF": heif, "AVIF": features.check("avif"), "WEBP": features.check("webp")}
    return tuple(kind for kind in KINDS if has.get(kind, True))


def _turn(image: Image) -> str | None:
    """Return the turn that the camera asks for; what it says of itself may be damaged and the picture right."""
    try:
        return _TURNS.get(image.getexif().get(_ORIENTATION, 1))
    except _DAMAGED:
        return None


def _is_flat(image: Image) -> bool:
    """Tell a picture of a palette that can stay as it is: it makes a file of a fraction of the size."""
    return image.mode == "P" and not image.has_transparency_data and max(image.size) <= WIDEST


def _plain(image: Image) -> tuple[Image, Image | None]:
    """Return the picture, small enough, as grey, RGB or CMYK, and its transparency, None where it has none.

    Grey of sixteen bits is told by what Pillow calls it; thirty-two bits and floats have no white of their own, so what
    they hold is taken to be all that they show.
    """
    if image.mode.startswith("I;16"):
        image = image.convert("I").point(lambda value: value / 257).convert("L")
    elif image.mode in ("I", "F"):
        darkest, lightest = cast(tuple[float, float], image.getextrema())
        scale = 255 / (lightest - darkest) if lightest > darkest else 0
        image = image.point(lambda value: value * scale + -darkest * scale).convert("L")
    elif image.has_transparency_data or image.mode in ("PA", "RGBa"):
        image = image if image.mode == "RGBA" else image.convert("RGBA")
    elif image.mode == "1":
        image = image.convert("L")
    elif image.mode not in ("L", "RGB", "CMYK"):
        image = image.convert("RGB")
    image.thumbnail((WIDEST, WIDEST))
    if image.mode != "RGBA":
        return image, None
    alpha = image.getchannel("A")
    return image.convert("RGB"), None if alpha.getextrema() == (255, 255) else alpha


def _in_srgb(image: Image, profile: bytes | None) -> Image:
    """Return the picture in the colours that every screen takes for granted; a profile that is none is passed over."""
    plain = image.convert("RGB") if image.mode == "CMYK" else image.copy()
    if profile:
        from PIL import ImageCms

        try:
            given = ImageCms.ImageCmsProfile(BytesIO(profile))
            turned = ImageCms.profileToProfile(image, given, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, *_DAMAGED):
            turned = None
        plain = turned or plain
    plain.info = {}  # the camera's notes may tell where it was
    return plain


def unreadable(picture: Picture, trouble: Trouble) -> Finding:
    """Return what there is to say of a picture that cannot be shown."""
    return Finding(
        "picture-unreadable",
        Severity.ERROR,
        picture.span,
        f"“{picture.path}” {trouble}, expected a JPEG, PNG, WebP or HEIC picture that opens",
        _MENDS.get(trouble, "open the picture and save it again as JPEG, PNG or WebP"),
    )


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


def _rank(file: str) -> tuple[int, str]:
    """Order files of one name: what every browser shows first."""
    ending = PurePosixPath(file).suffix.lower()
    return ENDINGS.index(ending) if ending in ENDINGS else len(ENDINGS), file


def adopt(episode: Episode, files: Collection[str]) -> Episode:
    """Return the episode in which "pictures/goblet-squat.jpg", if no line refers to it, is the goblet squat's picture.

    `files` are paths relative to the episode's folder. The picture has no description; a check says so.
    """
    spoken_for = {PurePosixPath(picture.path) for _, one in episode.exercises() for picture in one.pictures}
    if episode.picture is not None:
        spoken_for.add(PurePosixPath(episode.picture.path))
    free = {
        path.stem: file
        for file in sorted(files, key=_rank, reverse=True)  # of "row.jpg" and "row.png" the first counts
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
