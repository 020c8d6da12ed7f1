"""What `new` writes: the starter episode, which is a worked example of everything an episode needs."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from repslate.source.places import is_folder, is_there


def write_starter(folder: Path) -> str | None:
    """Write the starter episode to `folder`; if that is not a free place, write nothing and return why."""
    if is_there(folder) and not is_folder(folder):
        return f"{folder} is a file; give the name of a new folder"
    try:
        if is_folder(folder) and any(folder.iterdir()):
            return f"{folder} is not empty; give the name of a new folder"
        folder.mkdir(parents=True, exist_ok=True)
        for part in files("repslate").joinpath("starter").iterdir():
            with (folder / part.name).open("xb") as file:
                file.write(part.read_bytes())
    except OSError as error:
        return f"{folder} cannot be written: {error.strerror or error}"
    return None
