"""Moves folders and files in one step, where the system can: two change places, or one takes a name that is free."""

from __future__ import annotations

import ctypes
import errno
import os
import sys

from repslate.publish.held import Held

# renameat2 (Linux, fs.h) and renameatx_np (macOS, stdio.h): the flag for changing places happens to be the same figure.
_SWAP = 2
_ONLY_NEW = 4 if sys.platform == "darwin" else 1
_HERE = -2 if sys.platform == "darwin" else -100  # AT_FDCWD: a path counts from the current folder
_CANNOT = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}  # an older kernel, another file system


def exchange(one: Held, name: str, other: Held, new: str) -> bool:
    """Exchange what bears two names, at once; False if this system cannot. Raises OSError on failure."""
    return _rename(one, name, other, new, _SWAP)


def move(one: Held, name: str, other: Held, new: str) -> None:
    """Move what bears a name to one that is free; FileExistsError where it is not."""
    if _rename(one, name, other, new, _ONLY_NEW):
        return
    if other.look(new) is not None:
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(other.path / new))
    one.rename(name, other, new)


def _rename(one: Held, name: str, other: Held, new: str, flag: int) -> bool:
    call = _call()
    if call is None:
        return False
    (first, source), (second, target) = one.handle_of(name), other.handle_of(new)
    failed = call(
        _HERE if first is None else first,
        os.fsencode(source),
        _HERE if second is None else second,
        os.fsencode(target),
        ctypes.c_uint(flag),
    )
    if not failed:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(one.path / name), None, str(other.path / new))


def _call() -> ctypes._NamedFuncPointer | None:
    if not sys.platform.startswith(("linux", "darwin")):
        return None
    library = ctypes.CDLL(None, use_errno=True)
    return getattr(library, "renameatx_np" if sys.platform == "darwin" else "renameat2", None)  # glibc 2.28
