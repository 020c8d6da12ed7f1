"""What `draft` writes and says: files that are new, all of them or none."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path

from repslate.api import WORKOUT
from repslate.cut.formats import SUBTITLES
from repslate.source.interrupt import held_back
from repslate.source.new_file import place_new, room_beside
from repslate.source.places import is_file, real
from repslate.source.text import name_as_text
from repslate.speech.draft import Draft

_WRITTEN = (WORKOUT, "chapters.txt")
_ENDINGS = tuple(dict.fromkeys(Path(name).suffix for name in SUBTITLES))


def refusal(subtitles: Path, out: Path) -> str | None:
    """Return why there is nothing to draft from or no place for it; None where all is well."""
    if not is_file(subtitles):
        return f"there is no file {subtitles}; give the subtitles of the finished cut"
    if subtitles.suffix.lower() not in _ENDINGS:
        return f"{subtitles} is no file of subtitles; expected one that ends in {', '.join(_ENDINGS)}"
    return next((_there(out / name) for name in _WRITTEN if os.path.lexists(out / name)), None)


def title(out: Path) -> str:
    """Return a working title from the name of a folder: "08-rows-and-carries" is "Rows and carries"."""
    words = [word for word in name_as_text(real(out).name).replace("_", "-").split("-") if word]
    words = words[1:] if len(words) > 1 and words[0].isdecimal() else words
    text = " ".join(" ".join(words).split()) or "Workout"
    return text[:1].upper() + text[1:]


def write(out: Path, files: Mapping[str, bytes]) -> str | None:
    """Write files into a folder, made if need be; if one of them cannot be new, write none and return why.

    A file that is there with the same bytes is left as it is: the subtitles may lie in the folder already.
    """
    made: list[Path] = []
    whole = False
    try:
        out.mkdir(parents=True, exist_ok=True)
        with held_back() as stop, room_beside(out / WORKOUT) as room:
            try:
                for name, data in files.items():
                    stop()
                    if is_file(out / name) and name not in _WRITTEN and (out / name).read_bytes() == data:
                        continue
                    (room / name).write_bytes(data)
                    place_new(room / name, out / name)
                    made.append(out / name)
                whole = True
            finally:
                for path in () if whole else made:
                    path.unlink(missing_ok=True)
    except FileExistsError as error:
        return _there(Path(error.filename2 or error.filename))
    except OSError as error:
        return f"{out} cannot be written: {error.strerror or error}"
    return None


def _there(path: Path) -> str:
    return f"{path} is there already and is not written over; choose another folder with --out, or move it away"


def listing(draft: Draft, out: Path) -> Iterator[str]:
    """Yield what was written and what is left to do."""
    yield f"A draft is in {out}: workout.md, chapters.txt and the subtitles."
    if draft.gaps:
        yield f"{len(draft.gaps)} gaps to fill, each marked in workout.md with “gap”:"
        width = max(len(whose) for whose, _ in draft.gaps)
        yield from (f"  {whose:<{width}}  {what}" for whose, what in draft.gaps)
    yield "Look at every line, then:"
    yield f"  repslate check {out}"
