"""Thin commands over the api. The outermost layer, so the one place where our own faults are caught."""

from __future__ import annotations

import errno
import gc
import io
import os
import sys
from contextlib import suppress

from repslate.source.interrupt import STOPPED, Stop

OWN_FAULT = 3
_GARBAGE = 100_000  # objects between two looks for garbage: of what a command makes nearly all lasts as long as it does
_OUTPUT_GONE = {errno.EPIPE, errno.ENOSPC, errno.EIO, errno.EBADF, errno.EFBIG, errno.EDQUOT}


def main() -> None:
    """Run the command line; exit 0 no error, 1 errors found, 2 wrong usage, 3 our own fault, 130 stopped."""
    # Of other packages' code none has a say in how a file is read, and looking for it takes as long as reading one.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")
    stop = Stop()
    stop.listen()
    gc.set_threshold(_GARBAGE)
    try:
        code = _run()
    except KeyboardInterrupt:
        code = STOPPED
    try:
        stop.end()
    except KeyboardInterrupt:  # in the very last moment
        stop.end()
    if stop.asked:
        code = STOPPED
        _say("repslate: stopped; what was there before is as it was")
    sys.exit(code)


def _run() -> int | str | None:
    """Run the command and bring out all it has printed; return the exit code."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed by who called us: what is opened next would else be printed into
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115, PTH123 - open to the end
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # an older terminal may lack × and –; a question mark stands for them
            stream.reconfigure(errors="replace")
    try:
        try:
            from repslate.cli.app import app

            app(prog_name="repslate")
        except SystemExit as end:
            sys.stdout.flush()
            return end.code
    except OSError as error:
        if error.errno not in _OUTPUT_GONE or error.filename is not None:
            return _own_fault(error)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # or Python tries once more at its end
        if error.errno != errno.EPIPE:  # else the reader of our output has gone, as with "| head"
            _say(f"repslate: what was to be printed could not be ({error.strerror})")
        return 1
    except Exception as error:  # noqa: BLE001 - whatever it is, it is ours, and a trainer cannot read a traceback
        return _own_fault(error)
    return 0


def _own_fault(error: Exception) -> int:
    """Say sorry on standard error, and put what a programmer needs into a file."""
    import tempfile
    import traceback

    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="repslate-fault-", suffix=".txt", encoding="utf-8", errors="replace", delete=False
        ) as file:
            file.writelines(traceback.format_exception(error))
        written = f"What happened is written down in {file.name}\nPlease send that file"
    except OSError as unwritten:
        last = traceback.extract_tb(error.__traceback__)[-1]
        written = (
            f"What happened could not be written down ({unwritten.strerror or unwritten}); it ended with\n"
            f"{type(error).__name__} in {os.path.basename(last.filename)}, line {last.lineno}\nPlease send these lines"  # noqa: PTH119
        )
    _say(
        "repslate: something went wrong inside repslate itself; your files are as they were.\n"
        f"{written}, and the workout if you may, to whoever gave you repslate."
    )
    return OWN_FAULT


def _say(text: str) -> None:
    """Say something on standard error, if anybody is there to hear it."""
    with suppress(OSError):
        print(text, file=sys.stderr, flush=True)
