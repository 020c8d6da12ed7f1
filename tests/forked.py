"""Children without rights: what kills, fills disks or follows links runs in them, in folders made for it."""

from __future__ import annotations

import inspect
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest

NOBODY = 65534  # a user who owns nothing (Linux: nobody, nogroup)

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="forks children")


class Ended(NamedTuple):
    """How a child ended: its exit code, minus the signal that killed it, and what it printed, on both streams."""

    code: int
    out: str


@contextmanager
def room() -> Iterator[Path]:
    """Yield a new folder that a child without rights may write to, and nothing else of ours."""
    with tempfile.TemporaryDirectory(prefix="room-") as made:
        if os.geteuid() == 0:
            os.chown(made, NOBODY, NOBODY)
        yield Path(made)


def forked(do: Callable[[], object], out: Path) -> int:
    """Run something in a child without rights that prints to the file `out`; return its process number."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return child
    try:
        signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background jobs have it ignored
        signal.signal(signal.SIGTERM, signal.SIG_DFL)  # and so has who has run the command line to its end
        with out.open("wb") as printed:
            os.dup2(printed.fileno(), 1)
            os.dup2(printed.fileno(), 2)
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)
        do()
        sys.stdout.flush()
        os._exit(0)
    except SystemExit as end:
        sys.stdout.flush()
        os._exit(end.code if isinstance(end.code, int) else 1)
    finally:  # an exception goes on as it would in a program
        sys.excepthook(*(found if (found := sys.exc_info())[0] else (RuntimeError, RuntimeError("no way out"), None)))
        sys.stderr.flush()
        os._exit(70)


def ended(child: int, out: Path) -> Ended:
    """Wait for a child."""
    _, status = os.waitpid(child, 0)
    text = out.read_text("utf-8", errors="replace")
    out.unlink()
    return Ended(os.waitstatus_to_exitcode(status), text)


def run_forked(do: Callable[[], object]) -> Ended:
    """Run something in a child without rights and wait for it."""
    handle, name = tempfile.mkstemp()
    os.close(handle)
    return ended(forked(do, Path(name)), Path(name))


def in_new_python(function: Callable[..., None], *args: object) -> str:
    """Run a function of a test's module in a Python of its own, which has one thread and may fork; return its print."""
    module = Path(inspect.getfile(function)).resolve()
    code = (
        f"import sys; sys.path[:0] = {[str(Path(__file__).parent), str(module.parent)]!r}\n"
        f"import {module.stem} as module\n"
        f"module.{function.__name__}(*sys.argv[1:])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *map(str, args)], capture_output=True, text=True, check=False, timeout=600
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


def snapshot(folder: Path) -> dict[str, tuple[int, int, bytes | str | None]]:
    """Return all that lies in a folder: kind and rights, second of its last change, content or where a link leads."""
    found: dict[str, tuple[int, int, bytes | str | None]] = {}
    for path in sorted(folder.rglob("*")):
        status = path.lstat()
        content = str(path.readlink()) if path.is_symlink() else path.read_bytes() if path.is_file() else None
        found[path.relative_to(folder).as_posix()] = (status.st_mode, int(status.st_mtime), content)
    return found


def clear(folder: Path) -> None:
    """Remove a folder's content."""
    for path in folder.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink()
