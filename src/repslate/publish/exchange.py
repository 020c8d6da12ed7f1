"""Lets two folders change places in one step, where the system can.

Stands apart from folder.py because each system has its own call.
"""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD: paths count from the current folder (Linux, fcntl.h)
_SWAP = 2  # RENAME_EXCHANGE (Linux, fs.h) and RENAME_SWAP (macOS, stdio.h) happen to be the same figure
_CANNOT = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}  # an older kernel, another file system


def exchange(one: Path, other: Path) -> bool:
    """Exchange two folders of one file system at once; False if this system cannot. Raises OSError on failure."""
    if not sys.platform.startswith(("linux", "darwin")):
        return False
    library = ctypes.CDLL(None, use_errno=True)
    first, second = os.fsencode(one), os.fsencode(other)
    try:
        if sys.platform == "darwin":
            failed = library.renamex_np(first, second, ctypes.c_uint(_SWAP))
        else:
            failed = library.renameat2(_HERE, first, _HERE, second, ctypes.c_uint(_SWAP))  # glibc 2.28
    except AttributeError:  # a C library without the call
        return False
    if not failed:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(one))
