"""What may lie beside an episode, one module a file: chapters_vtt reads chapters.vtt, and its name is all that says so.

A module has `read(text, file)`, for an edit list with the frame rate that the front matter says, and `write` where we
write such files. None is loaded before its file is there. To add a format, write its module.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import PurePosixPath
from pkgutil import iter_modules
from types import ModuleType


def _named(stem: str) -> tuple[str, ...]:
    """Return the files of that name that can be read, the shortest ending first."""
    names = (name.replace("_", ".") for _, name, _ in iter_modules(__path__))
    return tuple(sorted((name for name in names if name.startswith(f"{stem}.")), key=lambda name: (len(name), name)))


#: `read` yields Marker | Finding.
MARKERS = _named("chapters")
#: `read` yields Cue | Finding. POINT is what stands before the milliseconds, ABREAST tells that two cues may be shown
#: at once, COARSE that the times are those of whole paragraphs, whose order `read` looks at itself.
SUBTITLES = (*_named("subtitles"), *_named("transcript"))
#: `read` returns (Edit | None, findings). RATELESS tells that such a list does not say its frame rate.
EDITS = _named("cut")
#: `read` returns (markers in the time of the footage, findings).
SOURCE_MARKERS = _named("markers")


def reader(names: tuple[str, ...], file: str) -> ModuleType | None:
    """Return the module of the one among `names` that ends like `file`, None where none does."""
    ending = PurePosixPath(file).suffix.lower()
    name = next((name for name in names if PurePosixPath(name).suffix == ending), None)
    return import_module(f"{__name__}.{name.replace('.', '_')}") if name else None


def endings(names: tuple[str, ...]) -> str:
    """Return the endings of `names` for a message: ".srt, .vtt or .txt"."""
    *others, last = (PurePosixPath(name).suffix for name in names)
    return f"{', '.join(others)} or {last}"
