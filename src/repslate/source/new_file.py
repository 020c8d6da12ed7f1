"""Puts a file in its place whole or not at all: what bears the name stays, and no link is followed."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_ADDRESS = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:[/\\]")  # one letter would be a Windows drive


def is_address(path: Path) -> bool:
    """Tell an address ("https://…") from a path; a path made of one has lost a slash."""
    return _ADDRESS.match(str(path)) is not None


@contextmanager
def room_beside(target: Path) -> Iterator[Path]:
    """Yield a new folder on the disk of `target`, under a name nobody can foretell; it goes with all that is in it."""
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".repslate-") as room:
        yield Path(room)


def place_new(whole: Path, target: Path) -> None:
    """Move a finished file of the same disk to a name; FileExistsError where something bears it."""
    try:
        os.link(whole, target)
    except FileExistsError:
        raise
    except OSError:  # no second names here: take the name, then fill it
        target.open("xb").close()
        try:
            whole.replace(target)
        except OSError:
            target.unlink()
            raise
