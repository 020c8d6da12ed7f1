"""Work on bytes that nobody vouches for, in a process of its own with little time and memory.

A library that draws a file does what the file asks for, and nothing but the system can stop it. What the work is given
and gives are bytes, so that nothing else comes back.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

SECONDS = 4  # of the processor; a card takes a third of one
WAIT = 30 if sys.platform == "win32" else 120  # seconds by the clock: the only limit on Windows, the last one elsewhere
MEMORY = 512 * 1024 * 1024  # bytes of addresses, libraries included; a page as large as A0 takes 320
_ROOT = Path(__file__).parents[2]  # where the package is


def run(script: Path, data: bytes) -> bytes | str:
    """Run a Python file that calls `confine` first, reads `data` and writes its answer; return that.

    Return what it needed too much of instead, in words that go on from "needs", where it did not come to an end.
    """
    paths = [str(_ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    few = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}  # each thread takes addresses that it never uses
    environment = {**os.environ, **few, "PYTHONPATH": os.pathsep.join(paths)}
    # -P: whatever lies beside the script or in the folder of the moment is no module.
    command = [sys.executable, "-P", str(script)]
    try:
        done = subprocess.run(  # noqa: PLW1510  how it ended is looked at
            command, input=data, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment, timeout=WAIT
        )
    except subprocess.TimeoutExpired:
        return f"more than {WAIT} seconds"
    if done.returncode == 0:
        return done.stdout
    return f"more than {SECONDS} seconds" if _ran_out_of_time(done.returncode) else "more memory than a file may take"


def _ran_out_of_time(code: int) -> bool:
    """Tell a process that the system ended for its time from one that ended for want of memory, or broke."""
    import signal

    return code in {-getattr(signal, name) for name in ("SIGXCPU", "SIGKILL") if hasattr(signal, name)}


def confine() -> None:
    """Bound what this process may take; on Windows, which cannot, the clock of `run` alone bounds it."""
    if sys.platform == "win32":
        return
    import resource

    bounds = (
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_AS, MEMORY),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    )
    for kind, most in bounds:
        _, highest = resource.getrlimit(kind)
        most = most if highest == resource.RLIM_INFINITY else min(most, highest)  # noqa: PLW2901  the lower of the two
        try:
            resource.setrlimit(kind, (most, most if kind != resource.RLIMIT_CPU else highest))
        except (OSError, ValueError):
            continue  # macOS takes no limit of addresses from every process; the clock still bounds it
