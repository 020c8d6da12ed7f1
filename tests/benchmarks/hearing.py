"""What hearing costs: `python tests/benchmarks/hearing.py [--rounds N]`, as ratios measured in one run.

An hour of subtitles heard, against the same parsed, in processor seconds, and how both grow from one hour to two and
four. The hours are labelled talk of the tests, one episode after the other. Each pair is timed A B A B and the medians
are compared; the grammar and the names of the library, made once a run, are timed by themselves.
Aims: hearing at most 10 times parsing; twice the length at most 2.4 times the time.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import cycle
from pathlib import Path

from repslate.cut.cue import Cue
from repslate.cut.subtitles import read_subtitles, write_srt
from repslate.model.library import load
from repslate.speech.draft import draft
from repslate.speech.heard import listen

DATA = Path(__file__).parents[1] / "data"
HOURS = (1, 2, 4)


def hours_of(hours: int) -> str:
    """Return so many hours of talk as the text of one .srt."""
    episodes = sorted(path for kind in ("spoken", "talk") for path in (DATA / kind).glob("*/subtitles.srt"))
    cues: list[Cue] = []
    again = cycle(episodes)
    while not cues or cues[-1].end < hours * 3600:
        episode = next(again)
        begin = cues[-1].end + 5 if cues else Fraction(0)
        read, _ = read_subtitles(episode.read_text("utf-8"), episode.name)
        cues += [replace(cue, start=cue.start + begin, end=cue.end + begin) for cue in read]
    return write_srt([cue for cue in cues if cue.end <= hours * 3600])


def timed(work: Callable[[], object]) -> float:
    """Return the processor seconds of one call."""
    begin = time.process_time()
    work()
    return time.process_time() - begin


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=7)
    rounds = parser.parse_args().rounds
    library = load()
    texts = {hours: hours_of(hours) for hours in HOURS}
    cues = {hours: read_subtitles(text, "subtitles.srt")[0] for hours, text in texts.items()}
    print(f"made once a run: {timed(lambda: listen(cues[1][:1], library)):.2f} s")
    parsing, hearing = {}, {}
    for hours in HOURS:
        pairs = [
            (
                timed(lambda text=texts[hours]: read_subtitles(text, "subtitles.srt")),  # type: ignore[misc]
                timed(lambda said=cues[hours]: listen(said, library)),  # type: ignore[misc]
            )
            for _ in range(rounds)
        ]
        parsing[hours], hearing[hours] = (statistics.median(pair[side] for pair in pairs) for side in (0, 1))
        print(f"{hours} h, {len(cues[hours])} cues: parsed in {parsing[hours]:.3f} s, heard in {hearing[hours]:.3f} s")
    print(f"heard ÷ parsed: {hearing[1] / parsing[1]:.1f} times (aim: at most 10); medians of {rounds}")
    for short, long in ((1, 2), (2, 4)):
        print(f"heard, {long} h ÷ {short} h: {hearing[long] / hearing[short]:.2f} times (aim: at most 2.4)")
    heard = listen(cues[1], library)
    print(f"an hour drafted: {timed(lambda: draft(heard, title='An hour', source='subtitles.srt')):.3f} s more")


if __name__ == "__main__":
    main()
