"""What `draft` writes and says: files that are new, all of them or none."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from repslate.api import WORKOUT, Drafted
from repslate.cut.folder import FILMS
from repslate.source.interrupt import held_back
from repslate.source.new_file import place_new, room_beside
from repslate.source.places import is_file, real
from repslate.source.text import LARGEST, name_as_text

_WRITTEN = (WORKOUT, "chapters.txt")
_FILMS = frozenset(Path(name).suffix for name in FILMS)
#: Stands for what is pasted on standard input.
PASTED = Path("-")


def refusal(files: Sequence[Path], out: Path | None, *, as_json: bool) -> str | None:
    """Return why there is nothing to draft from or no place for it; None where all is well."""
    missing = next((path for path in files if path != PASTED and not is_file(path)), None)
    if missing:
        return f"there is no file {missing}; give a plan as you noted it, or the subtitles of the finished cut"
    film = next((path for path in files if path.suffix.lower() in _FILMS), None)
    if film:
        return f"{film} is a film; give a plan as you noted it, or the subtitles of the finished cut"
    if as_json:
        return None
    if out is None:
        return "nowhere to write to; give the episode's folder with --out FOLDER, or --format json to see the plan"
    if len(files) > 1:
        return "found several files, expected one for one folder; give the others with another --out"
    return next((_there(out / name) for name in _WRITTEN if os.path.lexists(out / name)), None)


def source(path: Path) -> Path | str:
    """Return what to draft from: the file, or what is pasted on standard input, for which "-" stands."""
    if path != PASTED:
        return path
    data = sys.stdin.buffer.read(LARGEST + 1)[:LARGEST]
    return data.decode("utf-8", "replace") + "\n"


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
                    (room / name).parent.mkdir(exist_ok=True)
                    (out / name).parent.mkdir(exist_ok=True)
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


def listing(drafted: Drafted, out: Path) -> Iterator[str]:
    """Yield what was written and what is left to do."""
    if drafted.draft is None:
        yield f"A draft is in {out}: {', '.join(drafted.files)}."
    else:
        yield f"A draft is in {out}: workout.md, chapters.txt and the subtitles."
        if gaps := drafted.draft.gaps:
            yield f"{len(gaps)} gaps to fill, each marked in workout.md with “gap”:"
            width = max(len(whose) for whose, _ in gaps)
            yield from (f"  {whose:<{width}}  {what}" for whose, what in gaps)
    yield "Look at every line, then:"
    yield f"  repslate check {out}"
