"""Folders held open while a build changes them, so that nobody can put a link or another disk in their place meanwhile.

Every name is taken relative to the folder that is held, and no link is followed, the last part of a path included.
Where the system has no such calls (Windows) paths stand in for handles; links are still looked for before each step.
"""
# ruff: noqa: PTH101, PTH102, PTH104, PTH116, PTH123, PTH208 # pathlib knows no handles

from __future__ import annotations

import errno
import hashlib
import os
import stat
import sys
from contextlib import suppress
from io import BufferedReader
from pathlib import Path
from typing import IO, Any, Self

HOLDS = {os.open, os.mkdir, os.rename, os.link, os.unlink, os.rmdir, os.stat} <= os.supports_dir_fd
_NO_LINK = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
_FOLDER = os.O_RDONLY | _NO_LINK | getattr(os, "O_DIRECTORY", 0)
_FILE = _NO_LINK | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)  # a pipe without a writer waits for none
# A file system without second names, or one that keeps them to the owner of the file.
_NO_SECOND_NAMES = {errno.EPERM, errno.EACCES, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK}


class NotOursError(OSError):
    """Something stands in the place of a folder or file of a build that a build does not make; it stays untouched."""


class Held:
    """One folder, open; `device` and `inode` are what it is known by, whatever it is called by now."""

    def __init__(self, path: Path, handle: int | None) -> None:
        self.path, self._handle = path, handle
        status = self.status()
        self.device, self.inode, self.mode = status.st_dev, status.st_ino, stat.S_IMODE(status.st_mode)

    @classmethod
    def root(cls, path: Path) -> Self:
        """Open the folder that the user has named, through a link if that is one."""
        if not HOLDS:
            return cls(path.resolve(), None)
        return cls(path, os.open(path, _FOLDER & ~getattr(os, "O_NOFOLLOW", 0)))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    def _at(self, name: str) -> tuple[str | Path, dict[str, Any]]:
        """Return what the system's calls take for a name in this folder."""
        return (self.path / name, {}) if self._handle is None else (name, {"dir_fd": self._handle})

    def _between(self, name: str, to: Held, new: str) -> tuple[str | Path, str | Path, dict[str, Any]]:
        one, source = self._at(name)
        other, target = to._at(new)
        return (
            one,
            other,
            {f"{side}_{key}": fd for side, at in (("src", source), ("dst", target)) for key, fd in at.items()},
        )

    def handle_of(self, name: str) -> tuple[int | None, str | Path]:
        """Return the open handle, None where paths stand in for it, and the name or path that goes with it."""
        return self._handle, self._at(name)[0]

    # ---- looking

    def names(self) -> list[str]:
        """Return what lies in the folder, sorted."""
        return sorted(os.listdir(self.path if self._handle is None else self._handle))

    def status(self) -> os.stat_result:
        """Return what the system says of the folder itself."""
        return os.lstat(self.path) if self._handle is None else os.fstat(self._handle)

    def look(self, name: str) -> os.stat_result | None:
        """Return what the system says of a name, the link itself where it is one; None where nothing is called so."""
        path, at = self._at(name)
        try:
            return os.stat(path, follow_symlinks=False, **at)
        except FileNotFoundError:
            return None

    def folder(self, name: str) -> Held:
        """Hold a folder in this one; NotOursError where it is a link, a file, or the beginning of another disk."""
        path, at = self._at(name)
        found = self.look(name)
        expected = "a link or a file, and a folder was expected"
        if found is not None and not stat.S_ISDIR(found.st_mode):
            raise NotOursError(errno.ENOTDIR, expected, str(self.path / name))
        try:
            held = Held(self.path / name, os.open(path, _FOLDER, **at) if at else None)
        except OSError as error:
            if error.errno in {errno.ELOOP, errno.ENOTDIR}:  # put there since we looked
                raise NotOursError(errno.ENOTDIR, expected, str(self.path / name)) from None
            raise
        if held.device != self.device:
            held.__exit__()
            raise NotOursError(errno.EXDEV, "on another disk than the folder round it", str(self.path / name))
        return held

    def _open(self, name: str, flags: int, mode: int = 0o666) -> int:
        """Open an ordinary file; NotOursError where a link, a folder, a pipe or a device has the name."""
        path, at = self._at(name)
        expected = "a link or no ordinary file, and a file was expected"
        try:
            handle = os.open(path, flags | _FILE, mode, **at)
        except OSError as error:
            if error.errno in {errno.ELOOP, errno.EISDIR, errno.ENXIO}:
                raise NotOursError(error.errno, expected, str(self.path / name)) from None
            raise
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            os.close(handle)
            raise NotOursError(errno.EINVAL, expected, str(self.path / name))
        return handle

    def file(self, name: str) -> BufferedReader:
        """Open an ordinary file for reading."""
        return open(self._open(name, os.O_RDONLY), "rb")

    def digest(self, name: str) -> str | None:
        """Return the SHA-256 of an ordinary file; None where it is none, or cannot be read."""
        try:
            with self.file(name) as stream:
                return hashlib.file_digest(stream, "sha256").hexdigest()
        except OSError:
            return None

    # ---- changing

    def make(self, name: str) -> None:
        """Make a folder, which must not be there yet."""
        path, at = self._at(name)
        os.mkdir(path, **at)

    def made(self, name: str) -> Held:
        """Hold a folder, made if nothing is called so."""
        with suppress(FileExistsError):
            self.make(name)
        return self.folder(name)

    def create(self, name: str, data: bytes) -> None:
        """Write a new file; it is on the disk when this returns."""
        handle = self._open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL)
        with open(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(handle)

    def open_lock(self, name: str) -> IO[bytes]:
        """Open a file to be locked, made if need be; nothing is written to it, whoever else may call it theirs."""
        return open(self._open(name, os.O_RDWR | os.O_CREAT, 0o600), "r+b")

    def second_name(self, name: str, to: Held, new: str) -> bool:
        """Give a file, or a link as such, a second name, which must be free; False where it cannot have one.

        NotOursError where it lies on another disk than `to`.
        """
        one, other, at = self._between(name, to, new)
        try:
            os.link(one, other, follow_symlinks=False, **at)
        except NotImplementedError:
            return False
        except OSError as error:
            if error.errno == errno.EXDEV:
                raise NotOursError(
                    errno.EXDEV, "on another disk than the folder round it", str(self.path / name)
                ) from None
            if error.errno not in _NO_SECOND_NAMES:
                raise
            return False
        return True

    def rename(self, name: str, to: Held, new: str) -> None:
        """Move what bears a name, whatever it is; a link is not followed."""
        one, other, at = self._between(name, to, new)
        os.rename(one, other, **at)

    def unlink(self, name: str) -> None:
        """Take a name away from a file or a link."""
        path, at = self._at(name)
        os.unlink(path, **at)

    def rmdir(self, name: str) -> None:
        """Remove an empty folder."""
        path, at = self._at(name)
        os.rmdir(path, **at)

    def allow(self, mode: int) -> None:
        """Set who may do what in the folder."""
        os.chmod(self.path if self._handle is None else self._handle, mode)

    def dated_as(self, status: os.stat_result) -> None:
        """Give the folder the times of another."""
        os.utime(self.path if self._handle is None else self._handle, ns=(status.st_atime_ns, status.st_mtime_ns))

    def sync(self) -> None:
        """Force the names in the folder onto the disk; Windows keeps their order by its journal."""
        if self._handle is not None:
            os.fsync(self._handle)


if sys.platform == "win32":
    import msvcrt

    def lock(handle: int) -> bool:
        """Lock an open file without waiting; False where somebody else has. It is free again when it is closed."""
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def lock(handle: int) -> bool:
        """Lock an open file without waiting; False where somebody else has. It is free again when it is closed."""
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
