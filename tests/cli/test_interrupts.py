"""What happens to a command that is stopped, that cannot print, or that has no room for what it unpacks."""

from __future__ import annotations

import contextlib
import importlib
import io
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from forked import Ended, in_new_python, needs_fork, room, run_forked
from repslate import cli

pytestmark = needs_fork

SAMPLE = Path(__file__).parents[2] / "samples" / "chair-session"
SLUG = "sit-stand-and-reach"
#: Where a build is interrupted: as this is called, or at the given call of it. WeasyPrint swallows it at each drawing.
MOMENTS = {
    "reading": ("repslate.api", "read_series", 1),
    "pictures": ("repslate.publish.look", "_still", 1),
    "a drawing of the first card": ("weasyprint.images.SVGImage", "draw", 1),
    "a later drawing": ("weasyprint.images.SVGImage", "draw", 3),
    "a font": ("weasyprint.text.fonts.woff2", "decompress", 2),
    "reading back": ("repslate.proof", "audit", 1),
    "laying out": ("repslate.publish.held.Held", "create", 2),
    "before the change of places": ("repslate.publish.folder", "_change_places", 1),
}
COMMANDS = (["explain"], ["show", "chair-session"], ["check", "chair-session", "--format", "json"], ["--help"])
PUBLISHED = {"before the change of places"}  # too late: the signal waits until all is in place


def found(dotted: str) -> Any:
    """Return the module or the class of a dotted name."""
    try:
        return importlib.import_module(dotted)
    except ModuleNotFoundError:
        module, _, name = dotted.rpartition(".")
        return getattr(found(module), name)


def at(owner: Any, name: str, call: int, do: Callable[[], None]) -> None:
    """Let something happen before the given call of a function."""
    plain, count = getattr(owner, name), 0

    def counted(*args: Any, **named: Any) -> Any:
        nonlocal count
        count += 1
        if count == call:
            do()
        return plain(*args, **named)

    setattr(owner, name, counted)


def command(here: Path, *words: str) -> None:
    """Run the command line as `repslate` does, in the child."""
    os.chdir(here)
    tempfile.tempdir = str(here / "tmp")
    sys.argv = ["repslate", *words]
    cli.main()


def warm(here: Path) -> Path:
    """Build once, so that a child without rights finds all it needs loaded; return the build's folder."""
    (here / "tmp").mkdir()
    shutil.copytree(SAMPLE, here / SAMPLE.name)
    shutil.copy(SAMPLE.parent / "series.yaml", here)
    for words in (["build", "chair-session"], *COMMANDS):
        with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
            command(here, *words)
    tempfile.tempdir = None
    if os.geteuid() == 0:
        for path in (here, *here.rglob("*")):
            os.chown(path, 65534, 65534)
    return here / "output" / SLUG


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def stop_everywhere(name: str) -> None:
    """Print for each moment how a build ended that was interrupted there, and which build stands."""
    number = signal.Signals[name]
    told: dict[str, list[Any]] = {}
    with room() as here:
        folder = warm(here)
        (folder / "notes.txt").write_text("mine")
        workout = here / "chair-session" / "workout.md"
        before, text = contents(folder), workout.read_text("utf-8")
        for moment, (owner, function, call) in MOMENTS.items():

            def interrupted(owner: str = owner, function: str = function, call: int = call) -> None:
                at(found(owner), function, call, lambda: os.kill(os.getpid(), number))
                command(here, "build", "chair-session")

            workout.write_text(f"{text}\nSee you for {moment}.\n", "utf-8")
            child = run_forked(interrupted)
            now = contents(folder)
            earlier = now == before
            whole = f"See you for {moment}." in now["article.md"].decode() and now["notes.txt"] == b"mine"
            rest = [path.name for path in (here / "tmp").iterdir()]
            work = [path.name for path in (here / "output" / ".repslate" / SLUG).iterdir() if path.name != "lock"]
            said = "Traceback" in child.out or "Exception ignored" in child.out
            told[moment] = [child.code, "earlier" if earlier else "new" if whole else "mixed", rest, work, said]
            before = now
    print(json.dumps(told))


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_a_stopped_build_leaves_the_earlier_one_and_nothing_else(name: str) -> None:
    told = json.loads(in_new_python(stop_everywhere, name))
    assert told == {moment: [130, "new" if moment in PUBLISHED else "earlier", [], [], False] for moment in MOMENTS}


def without_room() -> None:
    """Print how a build ends whose temporary folder is full, cannot be written, or is not there."""
    told = {}
    with room() as here:
        folder = warm(here)
        before = contents(folder)

        def full() -> None:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
            command(here, "build", "chair-session")

        def closed() -> None:
            (here / "tmp").chmod(0o500)
            command(here, "build", "chair-session")

        def gone() -> None:
            (here / "tmp").chmod(0o700)
            (here / "tmp").rmdir()
            command(here, "build", "chair-session")

        for ending in (full, closed, gone):
            child = run_forked(ending)
            line = next((line for line in child.out.splitlines() if "[temporary-folder]" in line), child.out)
            told[ending.__name__] = [child.code, "error: card-a4.pdf: the fonts of the card" in line]
            assert contents(folder) == before
    print(json.dumps(told))


def test_a_temporary_folder_without_room_is_a_finding() -> None:
    assert json.loads(in_new_python(without_room)) == {name: [1, True] for name in ("full", "closed", "gone")}


def quietly() -> None:
    """Print how commands end whose output nobody can take."""
    told = {}

    def gone() -> None:
        reader, writer = os.pipe()
        os.close(reader)
        os.dup2(writer, 1)

    def full() -> None:
        os.dup2(os.open("/dev/full", os.O_WRONLY), 1)

    def closed() -> None:
        os.close(1)
        sys.stdout = None  # as Python starts then

    with room() as here:
        warm(here)
        for words in COMMANDS:
            for spoil in (gone, full, closed):

                def run(words: list[str] = words, spoil: Callable[[], None] = spoil) -> None:
                    spoil()
                    command(here, *words)

                child: Ended = run_forked(run)
                quiet = "Traceback" not in child.out and "went wrong" not in child.out and "ignored" not in child.out
                told[f"{words[0]}, {spoil.__name__}"] = [child.code, quiet]
    print(json.dumps(told))


def test_output_that_nobody_takes_is_no_fault_of_ours() -> None:
    if not Path("/dev/full").exists():
        pytest.skip("no device that is full")
    told = json.loads(in_new_python(quietly))
    for name, (code, quiet) in told.items():
        assert quiet, name
        assert code == (0 if name.endswith("closed") else 1), name
    assert len(told) == 12


def test_a_signal_that_the_caller_ignores_stays_ignored() -> None:
    from repslate.source.interrupt import Stop, held_back

    before = signal.getsignal(signal.SIGTERM)
    try:
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
        with contextlib.suppress(KeyboardInterrupt):
            Stop().listen()
            with held_back():
                assert signal.getsignal(signal.SIGTERM) is signal.SIG_IGN
            assert signal.getsignal(signal.SIGTERM) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGTERM, before)
        signal.signal(signal.SIGINT, signal.default_int_handler)
