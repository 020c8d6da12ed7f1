"""Thin commands over the pipeline. The outermost layer, so the one place where our own faults are caught."""

from __future__ import annotations

import io
import os
import sys
import tempfile
import traceback

OWN_FAULT = 3


def main() -> None:
    """Run the command line; exit 0 no error, 1 errors found, 2 wrong usage, 3 our own fault."""
    from repslate.cli.app import app

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # an older terminal may lack × and –; a question mark stands for them
            stream.reconfigure(errors="replace")
    try:
        app(prog_name="repslate")
    except BrokenPipeError:  # the reader of our output has gone, as with "| head"
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is ours, and a trainer cannot read a traceback
        sys.exit(_own_fault(error))


def _own_fault(error: Exception) -> int:
    """Say sorry on standard error, and put what a programmer needs into a file."""
    with tempfile.NamedTemporaryFile(
        "w", prefix="repslate-fault-", suffix=".txt", encoding="utf-8", delete=False
    ) as file:
        file.writelines(traceback.format_exception(error))
    print(
        "repslate: something went wrong inside repslate itself; your files are as they were.\n"
        f"What happened is written down in {file.name}\n"
        "Please send that file, and the workout if you may, to whoever gave you repslate.",
        file=sys.stderr,
    )
    return OWN_FAULT
