"""How long repslate takes, as ratios measured in one run: `python tests/benchmarks/run.py [EPISODE] [--rounds N]`.

Ratios travel between machines, seconds do not. Each pair is timed A B A B in fresh processes; the medians are compared.
Aims: build at most 1.2 times WeasyPrint alone on the same pages, check at most 1.3 times importing its libraries.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]

# What a build cannot do without: the cards' very pages, laid out and written by WeasyPrint in one fresh process.
CAPTURE = """
import sys
from pathlib import Path
from repslate import api
from repslate.publish.look import Look
from repslate.publish import templates
folder, pages = Path(sys.argv[1]), Path(sys.argv[2])
whole = Look.document
def keep(self, html):
    number = len(list(pages.glob("*.html")))
    (pages / f"{number:02}.html").write_text(html, encoding="utf-8")
    return whole(self, html)
Look.document = keep
built = api.build(folder, pages / "out")
assert built.value is not None, built.findings
"""
ALONE = """
import sys
from pathlib import Path
from weasyprint import HTML
for page in sorted(Path(sys.argv[1]).glob("*.html")):
    HTML(string=page.read_text("utf-8")).write_pdf(pdf_variant="pdf/ua-1")
"""
# Every module of a library that `check` has loaded by its end, in the order of loading.
LOADED = """
import contextlib, io, sys
from repslate.cli import main
sys.argv = ["repslate", "check", sys.argv[1]]
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    main()
own = {"repslate", "__main__", *sys.stdlib_module_names}
for name, module in list(sys.modules.items()):
    real = getattr(module, "__file__", None) and module.__spec__ and module.__spec__.name == name
    if real and name.split(".")[0] not in own:
        print(name)
"""
IMPORTS = """
import importlib, sys
for name in sys.argv[1:]:
    importlib.import_module(name)
"""


def timed(command: list[str]) -> tuple[float, int]:
    """Run a command; return its processor seconds, which other programs hardly change, and its peak memory in MiB."""
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        sys.exit(f"{command[:4]} ended with {process.returncode}")
    kibibytes = usage.ru_maxrss // 1024 if sys.platform == "darwin" else usage.ru_maxrss
    return usage.ru_utime + usage.ru_stime, kibibytes // 1024


def compare(name: str, one: list[str], other: list[str], rounds: int, aim: float) -> None:
    """Time two commands in turn and print the ratio of their medians."""
    pairs = [(timed(one), timed(other)) for _ in range(rounds)]
    ours, theirs = (statistics.median(pair[side][0] for pair in pairs) for side in (0, 1))
    memory = [max(pair[side][1] for pair in pairs) for side in (0, 1)]
    print(
        f"{name}: {ours / theirs:.2f} times (aim: at most {aim}); "
        f"medians of {rounds}: {ours:.2f} s and {theirs:.2f} s; peak memory {memory[0]} and {memory[1]} MiB"
    )


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("episode", nargs="?", type=Path, default=ROOT / "samples" / "boathouse-kettlebells")
    parser.add_argument("--rounds", type=int, default=5)
    given = parser.parse_args()
    python, episode = sys.executable, str(given.episode.resolve())
    with tempfile.TemporaryDirectory() as scratch:
        subprocess.run([python, "-c", CAPTURE, episode, scratch], check=True)
        build = [python, "-m", "repslate", "build", episode, "--out", str(Path(scratch) / "out")]
        compare("build ÷ WeasyPrint alone", build, [python, "-c", ALONE, scratch], given.rounds, 1.2)
    loaded = subprocess.run([python, "-c", LOADED, episode], check=True, capture_output=True, text=True).stdout.split()
    check = [python, "-m", "repslate", "check", episode]
    compare("check ÷ importing its libraries", check, [python, "-c", IMPORTS, *loaded], given.rounds, 1.3)


if __name__ == "__main__":
    main()
