"""Writes one episode's output folder so that a reader finds the earlier build or the whole new one, never a mixture.

The new build is laid out in a hidden neighbour of the output folder, files of the user's get a second name in it,
and the two folders change places in one step. Only then is the earlier one cleared, of nothing but what a build
wrote.

Whoever sends an episode can send an output folder with it. So no link is followed, no other disk entered, nothing
opened but ordinary files, and of what a record names only names of outputs count.
"""

from __future__ import annotations

import errno
import json
import re
import secrets
import stat
import time
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from itertools import count
from pathlib import Path, PurePath
from typing import NamedTuple

from repslate.publish import OUTPUTS
from repslate.publish.exchange import exchange, move
from repslate.publish.held import Held, NotOursError, lock
from repslate.source.finding import Finding, Severity
from repslate.source.interrupt import held_back
from repslate.source.span import Span

RECORD = "build.json"  # lists what a build wrote: {"outputs": {name: SHA-256}}
HIDDEN = ".repslate"  # in the output root; no slug begins with a full stop
PATIENCE = 60  # seconds to wait for another build of the same episode, which holds the folder for well under one
DEEPEST = 50  # folders of the user's within each other; each is held open
LARGEST_RECORD = 4 * 1024 * 1024  # bytes; ours is a few kilobytes
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
# A build being laid out, and one that has changed places, are called after the inode numbers of the new and the
# earlier folder: such a number moves with its folder, so that the name tells which of the two bears it. Nobody can
# send a folder with the right number.
_LEFT = re.compile(r"(?:new|old)-(\d{1,20})-(\d{1,20})")
_FRESH = "fresh-"

Kept = set[tuple[str, str]]


class _Room(NamedTuple):
    """Where a build works: the folder of all outputs, the hidden one of this episode, and the names of its outputs."""

    out: Held
    work: Held
    slug: str
    ours: frozenset[str]


def write(root: Path, slug: str, files: Mapping[str, bytes], *, patience: float = PATIENCE) -> tuple[Finding, ...]:
    """Make `root`/`slug` hold exactly `files` and what repslate did not write; return what stood in the way.

    One of the names is RECORD. On an error finding the earlier build stands as it was. A file whose name an output
    needs, but which is not as repslate wrote it, is kept beside it ("article.kept.html") and reported. Safe against a
    kill at any moment, a full disk and a second build. KeyboardInterrupt leaves the earlier build, or the whole new
    one where it came after the change of places.
    """
    if not _SLUG.fullmatch(slug):
        return (
            _error(f"“{slug}” is no name for an output folder", "write slug: with the letters a–z, figures, hyphens"),
        )
    ours = frozenset((*files, RECORD, *(output.name.format(slug=slug) for output in OUTPUTS)))
    try:
        root.mkdir(parents=True, exist_ok=True)
        with (
            Held.root(root) as out,
            out.made(HIDDEN) as hidden,
            hidden.made(slug) as work,
            _alone(work, patience),
            held_back() as stop,
        ):
            return _write_alone(_Room(out, work, slug, ours), files, stop)
    except TimeoutError:
        return (
            _error(f"another build of {slug} has not ended within {patience:g} s", "wait for it, then build again"),
        )
    except NotOursError as error:
        text = f"{error.filename} is {error.strerror}; nothing is written"
        return (_error(text, "move it away, or choose another place with --out"),)
    except OSError as error:
        text = f"{root / slug} could not be written ({error.strerror or error}); what was there before is untouched"
        return (_error(text, "make room or allow writing there, then build again"),)


def recorded(folder: Path) -> dict[str, object]:
    """Return what the record of the build in `folder` says; nothing where none can be read."""
    try:
        with Held.root(folder) as held:
            return _record(held)
    except OSError:
        return {}


def _error(message: str, help_: str) -> Finding:
    return Finding("output-folder", Severity.ERROR, Span("workout.md"), message, help_)


@contextmanager
def _alone(work: Held, patience: float) -> Iterator[None]:
    """Wait until no other build of the episode is at work; TimeoutError where that takes longer than `patience`."""
    with work.open_lock("lock") as file:
        until = time.monotonic() + patience
        while not lock(file.fileno()):
            if time.monotonic() > until:
                raise TimeoutError
            time.sleep(0.05)
        yield


def _write_alone(room: _Room, files: Mapping[str, bytes], stop: Callable[[], None]) -> tuple[Finding, ...]:
    """Tidy up after a killed build, lay the new one out, change places, clear the earlier one."""
    kept: Kept = set()
    findings = _tidy(room, kept)
    with ExitStack() as held:
        old = held.enter_context(room.out.folder(room.slug)) if room.out.look(room.slug) is not None else None
        new = held.enter_context(_fresh(room, old))
        placed = False
        try:
            for name, data in files.items():
                new.create(name, data)
            if old is not None:
                new.allow(old.mode)
                kept |= _carry(old, new, room.ours)
            new.sync()
            stop()
            _change_places(room, new, old)
            placed = True
        finally:
            if not placed:
                _discard(room, new)
        room.out.sync()
        if old is not None:
            findings += _clear(room, old, new, kept)
    for before, now in sorted(kept):
        text = f"{before} in {new.path} was not as repslate wrote it, and an output needs its name, so it is now {now}"
        help_ = "change workout.md or a template, not an output"
        findings.append(Finding("output-kept", Severity.WARNING, Span("workout.md"), text, help_))
    return tuple(findings)


def _left(path: Path, reason: str) -> Finding:
    text = f"the build is complete, but {path} could not be cleared: {reason}"
    help_ = "build once more; if it is said again, look whether you need what is in that folder, and remove it"
    return Finding("output-left", Severity.WARNING, Span("workout.md"), text, help_)


def _fresh(room: _Room, old: Held | None) -> Held:
    """Make the folder of the new build, called after its own inode number and the earlier build's."""
    name = f"{_FRESH}{secrets.token_hex(8)}"
    room.work.make(name)
    new = room.work.folder(name)
    room.work.rename(name, room.work, f"new-{new.inode}-{old.inode if old else 0}")
    new.path = room.work.path / f"new-{new.inode}-{old.inode if old else 0}"
    return new


def _change_places(room: _Room, new: Held, old: Held | None) -> None:
    """Put the new build where the earlier one is, and that where the new one was."""
    name, target = new.path.name, room.out.path / room.slug
    if old is None:
        move(room.work, name, room.out, room.slug)
    elif exchange(room.work, name, room.out, room.slug):
        old.path = room.work.path / name
    else:
        away = name.replace("new", "old")
        move(room.out, room.slug, room.work, away)  # killed here: _tidy puts it back
        try:
            move(room.work, name, room.out, room.slug)
        except OSError:
            move(room.work, away, room.out, room.slug)
            raise
        old.path = room.work.path / away
    new.path = target


# ---- what killed builds left


def _tidy(room: _Room, kept: Kept) -> list[Finding]:
    """Finish what killed builds have begun: clear an earlier build or put it back, drop what was never finished."""
    findings, unfinished = [], []
    for name in room.work.names():
        if name.startswith(_FRESH):
            with suppress(OSError):  # only an empty one goes
                room.work.rmdir(name)
        if not (called := _LEFT.fullmatch(name)):
            continue
        with suppress(NotOursError, FileNotFoundError), room.work.folder(name) as left:
            if left.inode == int(called[1]):
                unfinished.append(name)
            elif left.inode != int(called[2]):
                findings.append(_left(left.path, "it is no folder of an earlier build, or came here from another disk"))
            elif room.out.look(room.slug) is None:
                move(room.work, name, room.out, room.slug)
            else:
                with room.out.folder(room.slug) as target:
                    findings += _clear(room, left, target, kept)
    for name in unfinished:
        with suppress(NotOursError, FileNotFoundError), room.work.folder(name) as left:
            _discard(room, left)
            if room.work.look(name) is not None:
                findings.append(_left(left.path, "it holds files that are nowhere else"))
    return findings


def _discard(room: _Room, unfinished: Held) -> None:
    """Remove a build that was never finished: its outputs, and second names of files of the user's."""
    with suppress(OSError):
        _drop(unfinished, room.ours)
        room.work.rmdir(unfinished.path.name)


def _drop(folder: Held, ours: Collection[str]) -> None:
    for name in folder.names():
        found = folder.look(name)
        if found is None:
            continue
        if stat.S_ISDIR(found.st_mode):
            with folder.folder(name) as inner:
                inner.allow(stat.S_IRWXU)
                _drop(inner, ())
            with suppress(OSError):
                folder.rmdir(name)
        elif found.st_nlink > 1 or (name in ours and stat.S_ISREG(found.st_mode)):
            folder.unlink(name)


# ---- files of the user's


def _carry(old: Held, new: Held, ours: Collection[str], under: str = "") -> Kept:
    """Give what is not ours in the earlier build a second name in the new one; return (name, kept as) where it differs.

    What cannot have one, on some file systems nothing can, is moved once the two have changed places.
    """
    if under.count("/") > DEEPEST:
        raise NotOursError(errno.ELOOP, f"deeper than {DEEPEST} folders within each other", str(old.path))
    own = _own(old, ours)
    kept: Kept = set()
    for name in old.names():
        found = old.look(name)
        if found is None or _is_ours(old, name, new, own):
            continue
        place = next(one for one in _names(name) if new.look(one) is None and (one == name or old.look(one) is None))
        if stat.S_ISDIR(found.st_mode):
            new.make(place)
            with old.folder(name) as inner, new.folder(place) as twin:
                kept |= _carry(inner, twin, (), f"{under}{name}/")
                twin.allow(inner.mode)
                twin.dated_as(found)
                twin.sync()
        elif not old.second_name(name, new, place):
            continue
        if place != name:
            kept.add((under + name, under + place))
    return kept


def _clear(room: _Room, old: Held, new: Held, kept: Kept) -> list[Finding]:
    """Remove the earlier build, after what is not ours in it is in the new one."""
    found = room.work.look(old.path.name)
    if found is None or (found.st_dev, found.st_ino) != (old.device, old.inode):
        return [_left(old.path, "something else is there now")]
    try:
        kept |= _settle(old, new, room.ours)
        room.work.rmdir(old.path.name)
    except OSError as error:
        return [_left(old.path, error.strerror or str(error))]
    return []


def _settle(old: Held, new: Held, ours: Collection[str], under: str = "") -> Kept:
    """Empty a folder of the earlier build: what is ours and second names go, the rest moves to the new build.

    The record goes last, so that a kill half-way leaves it readable.
    """
    own = _own(old, ours)
    kept: Kept = set()
    for name in sorted(old.names(), key=lambda name: (not under and name == RECORD, name)):
        found = old.look(name)
        if found is None:
            continue
        if _is_ours(old, name, new, own):
            old.unlink(name)
            continue
        is_folder = stat.S_ISDIR(found.st_mode)
        for place in _names(name):
            there = new.look(place)
            if place != name and old.look(place) is not None and there is None:
                continue  # the place of another that has still to move
            if there is None:
                move(old, name, new, place)
            elif is_folder and stat.S_ISDIR(there.st_mode):
                with old.folder(name) as inner, new.folder(place) as twin:
                    inner.allow(inner.mode | stat.S_IRWXU)
                    kept |= _settle(inner, twin, (), f"{under}{name}/")
                old.rmdir(name)
            elif (there.st_dev, there.st_ino) == (found.st_dev, found.st_ino):
                old.unlink(name)
            else:
                continue
            if place != name:
                kept.add((under + name, under + place))
            break
    return kept


def _names(name: str) -> Iterator[str]:
    """Yield a name, then those under which a file is kept that has to give way."""
    yield name
    path = PurePath(name)
    for number in count(1):
        yield f"{path.stem}.kept{'' if number == 1 else f'-{number}'}{path.suffix}"


# ---- what is ours


def _own(folder: Held, ours: Collection[str]) -> dict[str, str | None]:
    """Return for each name an output can have the digest that the record gives it, None where it gives none."""
    if not ours:
        return {}
    outputs = _record(folder).get("outputs")
    digests = {RECORD: folder.digest(RECORD), **outputs} if isinstance(outputs, dict) else {}
    return {name: digest if isinstance(digest := digests.get(name), str) else None for name in ours}


def _is_ours(old: Held, name: str, new: Held, own: Mapping[str, str | None]) -> bool:
    """Tell whether a file of the earlier build is an output as it was written, or the same as its new one."""
    if name not in own:
        return False
    digest = old.digest(name)
    return digest is not None and digest in {own[name], new.digest(name)}


def _record(folder: Held) -> dict[str, object]:
    try:
        with folder.file(RECORD) as stream:
            record = json.loads(stream.read(LARGEST_RECORD))
    except (OSError, ValueError, RecursionError):
        return {}
    return record if isinstance(record, dict) else {}
