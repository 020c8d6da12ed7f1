"""Kills and interrupts whole builds at random moments, and the writing of one at every line, and says what was found.

Run from the checkout: .venv/bin/python tests/benchmarks/kills.py [how many at random moments, else 500]. A build is a
child without rights, in a folder made for it. Every line below has to end in 0, the last one but in the count.
"""

from __future__ import annotations

import hashlib
import json
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from importlib import import_module
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "cli"), str(TESTS / "publish")]

from forked import ended, forked, room  # noqa: E402

test_folder, test_interrupts = import_module("test_folder"), import_module("test_interrupts")
SIGNALS = (signal.SIGKILL, signal.SIGINT, signal.SIGTERM)


def is_whole(files: dict[str, bytes], marker: str) -> bool:
    """Tell whether all files are those that the record names, of the one build that holds the marker."""
    outputs = json.loads(files["build.json"])["outputs"]
    mine = files.pop("notes.txt", b"") == b"mine"
    digests = {name: hashlib.sha256(data).hexdigest() for name, data in files.items() if name != "build.json"}
    return mine and digests == outputs and marker in files["article.md"].decode()


def at_random(count: int) -> None:
    """Kill or interrupt `count` builds, each of another text, and look at what stands."""
    found: Counter[str] = Counter()
    draw = random.Random(count)  # noqa: S311 - so that a run can be repeated
    with room() as here:
        folder = test_interrupts.warm(here)
        (folder / "notes.txt").write_text("mine")
        workout = here / "chair-session" / "workout.md"
        text = workout.read_text("utf-8")
        printed = here / "printed.txt"

        def start(marker: str) -> int:
            workout.write_text(f"{text}\nSee you {marker}.\n", "utf-8")
            return forked(lambda: test_interrupts.command(here, "build", "chair-session"), printed)

        standing = "once"
        began = time.monotonic()
        ended(start(standing), printed)
        whole = time.monotonic() - began
        for number in range(count):
            sent = SIGNALS[number % len(SIGNALS)]
            marker = f"after {number}"
            child = start(marker)
            time.sleep(draw.uniform(0, whole * 1.1))
            os.kill(child, sent)
            code, out = ended(child, printed)
            now = test_interrupts.contents(folder)
            if is_whole(dict(now), marker):
                standing = marker
                found["new build stands, whole"] += 1
            elif is_whole(dict(now), standing):
                found["earlier build stands, whole"] += 1
            else:
                found["MIXED"] += 1
            rest = [path for path in (here / "tmp").iterdir() if path.name.startswith("weasyprint")]
            for path in rest:
                for one in path.iterdir():
                    one.unlink()
                path.rmdir()
            if sent is signal.SIGKILL:
                found["killed"] += 1
            else:
                found[f"interrupted, exit {code}"] += 1
                found["interrupted, TEMPORARY FOLDERS LEFT"] += len(rest)
                found["interrupted, TRACEBACKS"] += "Traceback" in out or "ignored" in out
                if code == 0:
                    found["interrupted, exit 0, EARLIER BUILD"] += standing != marker
        last = ended(start("at last"), printed)
        work = [
            path.name
            for path in (here / "output" / ".repslate" / test_interrupts.SLUG).iterdir()
            if path.name != "lock"
        ]
        found["last build FAILED"] += last.code != 0 or not is_whole(test_interrupts.contents(folder), "at last")
        found["LEFT in the hidden folder"] += len(work)
    for what, times in sorted(found.items()):
        print(f"{what}: {times}")


def at_every_line() -> None:
    """Kill and interrupt the writing at each line of it; each run stops at the first thing that is wrong."""
    runs = (
        ("killed, one step", test_folder.KILL, ("swap", "links")),
        ("killed, two renames, no second names", test_folder.KILL, ("two renames", "no links")),
        ("interrupted by SIGINT", test_folder.INTERRUPT, ("SIGINT",)),
        ("interrupted by SIGTERM", test_folder.INTERRUPT, ("SIGTERM",)),
    )
    for what, code, words in runs:
        with tempfile.TemporaryDirectory() as here:
            ran = test_folder.script(code, here, *words)
            out, _ = ran.communicate()
            print(f"{what}: {out.strip()} lines, {'all whole' if ran.returncode == 0 else 'FAILED'}", flush=True)


if __name__ == "__main__":
    at_every_line()
    at_random(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
