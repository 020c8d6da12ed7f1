"""What stands at a path, asked without raising: a name may be too long, lead round in circles, or be out of bounds."""

from __future__ import annotations

import os
import re
from pathlib import Path

_FROM_ELSEWHERE = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:|[/\\~]")  # an address, a drive letter, a home folder


def is_file(path: Path) -> bool:
    """Tell whether a file is there, or a link to one, and can be looked at."""
    return os.path.isfile(path)  # noqa: PTH113 - Path raises over names that are too long


def is_folder(path: Path) -> bool:
    """Tell whether a folder is there, or a link to one, and can be looked at."""
    return os.path.isdir(path)  # noqa: PTH112 - as above


def inside(folder: Path) -> list[Path]:
    """Return what lies in a folder, by name; nothing of one that may not be looked into."""
    try:
        return sorted(folder.iterdir())
    except OSError:
        return []


def beneath(folder: Path, name: str) -> list[Path]:
    """Return the files of that name in the folders that lie in a folder, in the order of these."""
    return [path / name for path in inside(folder) if is_there(path / name)]


def real(path: Path) -> Path:
    """Return the path with every link followed as far as it leads; a loop of links is left as it is."""
    return Path(os.path.realpath(path))


def is_there(path: Path) -> bool:
    """Tell whether anything is at a path, and no link that leads nowhere."""
    return os.path.exists(path)  # noqa: PTH110 - as above


def shown_path(folder: Path, file: str) -> str:
    """Return where the file of a finding is, seen from the current folder."""
    path = os.path.normpath(folder / file)
    try:
        return os.path.relpath(path)
    except ValueError:  # Windows: no way leads to another drive
        return path


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
