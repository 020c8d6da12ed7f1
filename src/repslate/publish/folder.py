"""Writes one episode's output folder so that a reader finds the earlier build or the whole new one, never a mixture.

Stands last in publish: everything is rendered before the first byte is written. The new build is laid out in a hidden
neighbour of the output folder, then the two change places in one step; whatever else lay in the folder comes along.
"""

from __future__ import annotations

import errno
import filecmp
import hashlib
import json
import os
import re
import shutil
from collections.abc import Mapping
from pathlib import Path

from filelock import FileLock, Timeout

from repslate.publish.exchange import exchange
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

RECORD = "build.json"  # lists what a build wrote: {"outputs": {name: SHA-256}}
HIDDEN = ".repslate"  # in the output root; no slug begins with a full stop
PATIENCE = 60  # seconds to wait for another build of the same episode, which holds the folder for well under one
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def write(root: Path, slug: str, files: Mapping[str, bytes], *, patience: float = PATIENCE) -> tuple[Finding, ...]:
    """Make `root`/`slug` hold exactly `files` and what repslate did not write; return what stood in the way.

    Names are relative, with forward slashes; one of them is RECORD. On an error finding the earlier build stands as
    it was. A file whose name an output needs, but which is not as repslate wrote it, is kept beside it
    ("article.kept.html") and reported. Safe against a kill at any moment, a full disk and a second build.
    """
    target = root / slug
    if not _SLUG.fullmatch(slug):
        return (
            _error(f"“{slug}” is no name for an output folder", "write slug: with the letters a–z, figures, hyphens"),
        )
    for folder in (target, root / HIDDEN, root / HIDDEN / slug):
        if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
            text = f"{folder} is a link or a file, and a folder was expected"
            return (_error(text, "move it away, or choose another place with --out"),)
    work = root / HIDDEN / slug
    try:
        work.mkdir(parents=True, exist_ok=True)
        with FileLock(work / "lock", timeout=patience):
            return _write_alone(target, work, files)
    except Timeout:
        return (
            _error(f"another build of {slug} has not ended within {patience:g} s", "wait for it, then build again"),
        )
    except OSError as error:
        text = f"{target} could not be written ({error.strerror or error}); what was there before is untouched"
        return (_error(text, "make room or allow writing there, then build again"),)


def _error(message: str, help_: str) -> Finding:
    return Finding("output-folder", Severity.ERROR, Span("workout.md"), message, help_)


def _write_alone(target: Path, work: Path, files: Mapping[str, bytes]) -> tuple[Finding, ...]:
    """Tidy up after a killed build, lay the new one out, exchange, bring over what appeared meanwhile."""
    kept = _recover(target, work)
    staged = _stage(work, files)
    try:
        if target.exists():
            shutil.copymode(target, staged)
            kept |= _bring(target, staged, _own(target), move=False)
        _sync_tree(staged)
        retired = _change_places(staged, target, work)
    except OSError:
        shutil.rmtree(staged, ignore_errors=True)
        raise
    findings = []
    if retired is not None:
        try:
            kept |= _retire(retired, target)
        except OSError as error:
            text = f"the build is complete, but {retired} could not be cleared ({error.strerror or error})"
            findings.append(Finding("output-left", Severity.WARNING, Span("workout.md"), text, "build once more"))
    for old, new in sorted(kept):
        text = f"{old} in {target} was not as repslate wrote it, and an output needs its name, so it is now {new}"
        help_ = "change workout.md or a template, not an output"
        findings.append(Finding("output-kept", Severity.WARNING, Span("workout.md"), text, help_))
    return tuple(findings)


def _stage(work: Path, files: Mapping[str, bytes]) -> Path:
    """Lay out `files` in a new folder named after its own inode number; all is on the disk when this returns.

    The name is how _recover tells a folder still being laid out from an earlier build that has changed places with
    it: the inode number moves with the folder, the name stays behind.
    """
    fresh = work / "fresh"
    fresh.mkdir()
    staged = fresh.rename(work / f"staged-{fresh.stat().st_ino}")
    try:
        for name, data in files.items():
            path = staged / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
    except OSError:
        shutil.rmtree(staged, ignore_errors=True)
        raise
    return staged


def _change_places(staged: Path, target: Path, work: Path) -> Path | None:
    """Put `staged` where `target` was; return where the earlier build is now, None if there was none."""
    try:
        staged.rename(target)  # works where nothing, or an empty folder, is there
    except OSError as error:
        if error.errno not in {errno.ENOTEMPTY, errno.EEXIST}:
            raise
    else:
        _sync(target.parent)
        return None
    if exchange(staged, target):
        retired = staged
    else:
        retired = target.rename(work / "retired")  # killed here: _recover puts it back
        try:
            staged.rename(target)
        except OSError:
            retired.rename(target)
            raise
    _sync(target.parent)
    return retired


def _recover(target: Path, work: Path) -> set[tuple[str, str]]:
    """Tidy up after builds that were killed: drop what was never finished, finish what was."""
    kept: set[tuple[str, str]] = set()
    for left in sorted(path for path in work.iterdir() if path.name != "lock"):
        if left.name in {"fresh", f"staged-{left.stat().st_ino}"}:
            shutil.rmtree(left)
        elif target.exists():
            kept |= _retire(left, target)
        else:
            left.rename(target)
    return kept


def _retire(retired: Path, target: Path) -> set[tuple[str, str]]:
    """Move what is not repslate's own out of an earlier build into `target`, and remove the rest."""
    kept = _bring(retired, target, _own(retired), move=True)
    retired.rmdir()
    return kept


def _own(folder: Path) -> dict[str, str]:
    """Return name → SHA-256 of what the build in `folder` wrote; nothing if its record cannot be read."""
    try:
        raw = (folder / RECORD).read_bytes()
        record = json.loads(raw)
    except (OSError, ValueError):
        return {}
    outputs = record.get("outputs") if isinstance(record, dict) else None
    if not isinstance(outputs, dict):
        return {}
    return {RECORD: hashlib.sha256(raw).hexdigest(), **{str(name): str(digest) for name, digest in outputs.items()}}


def _bring(source: Path, to: Path, own: Mapping[str, str], *, move: bool, under: str = "") -> set[tuple[str, str]]:
    """Bring into `to` what lies in `source` beyond `own`: move it, or give it a second name there.

    What `to` holds already stays; a newcomer that needs its name gets another. Returns (name, kept as). With `move`,
    `source` is empty afterwards; its record goes last, so that a kill half-way leaves it readable.
    """
    kept: set[tuple[str, str]] = set()
    for path in sorted(source.iterdir(), key=lambda path: (not under and path.name == RECORD, path.name)):
        name = under + path.name
        if path.is_dir() and not path.is_symlink():
            place = _place(path, to)
            if not any(path.iterdir()) and not any(file.startswith(name + "/") for file in own):
                place.mkdir(parents=True, exist_ok=True)
            if place.name != path.name:
                kept.add((name, under + place.name))
            kept |= _bring(path, place, own, move=move, under=name + "/")
            if move:
                path.rmdir()
            continue
        if not _is_file(path) or own.get(name) != hashlib.sha256(path.read_bytes()).hexdigest():
            place = _place(path, to)
            if not _equal(path, place):
                _hand_over(path, place, move=move)
            if place.name != path.name:
                kept.add((name, under + place.name))
        if move:
            path.unlink(missing_ok=True)
    return kept


def _place(path: Path, to: Path) -> Path:
    """Return where in `to` the file or folder `path` belongs: under its own name unless something else is there."""
    number = 1
    place = to / path.name
    while True:
        both_folders = all(one.is_dir() and not one.is_symlink() for one in (path, place))
        if both_folders or _equal(path, place) or not os.path.lexists(place):
            twin = path.with_name(place.name)  # a name that `source` uses for another file is not free either
            if place.name == path.name or not os.path.lexists(twin) or _equal(path, twin):
                return place
        place = to / f"{path.stem}.kept{'' if number == 1 else f'-{number}'}{path.suffix}"
        number += 1


def _is_file(path: Path) -> bool:
    return path.is_file() and not path.is_symlink()


def _equal(one: Path, other: Path) -> bool:
    """Tell whether two paths are the same file, files with the same bytes, or links to the same place."""
    if one.is_symlink() or other.is_symlink():
        return one.is_symlink() and other.is_symlink() and one.readlink() == other.readlink()
    if not os.path.lexists(one) or not os.path.lexists(other):
        return False
    return one.samefile(other) or (_is_file(one) and _is_file(other) and filecmp.cmp(one, other, shallow=False))


def _hand_over(path: Path, place: Path, *, move: bool) -> None:
    """Give the file at `path` the name `place` too; where the file system has no second names, move or copy it."""
    place.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(path, place, follow_symlinks=False)
    except FileNotFoundError:  # its owner removed it meanwhile
        return
    except FileExistsError:  # and here it appeared meanwhile: never write over it
        raise
    except (OSError, NotImplementedError):
        if move:
            path.rename(place)
        else:
            shutil.copy2(path, place, follow_symlinks=False)
            if _is_file(place):
                _sync(place)


def _sync_tree(folder: Path) -> None:
    """Force the names in `folder` and below onto the disk."""
    for path in (folder, *folder.rglob("*")):
        if path.is_dir() and not path.is_symlink():
            _sync(path)


def _sync(path: Path) -> None:
    """Force one file or folder onto the disk; Windows opens no folder and keeps their order by its journal."""
    if os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
