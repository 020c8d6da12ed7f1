"""What hearing costs: `python tests/benchmarks/hearing.py [--rounds N]`, as ratios measured in one run.

An hour of subtitles heard, against the same parsed, in processor seconds, and how hearing grows from one hour to two
and four. The hours are labelled talk of the tests, one episode after the other. Each pair is timed A B A B after one
of each that does not count, and the medians are compared. What is made once a run, the grammar and the names of the
library, is in every time of hearing; the ratio is given with it and, as what one hour more costs, without it.
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
from repslate.cut.formats.subtitles_srt import write as write_srt
from repslate.cut.subtitles import read_subtitles
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
    listen(cues[1], library)
    once = statistics.median(timed(lambda: listen(cues[1][:1], library)) for _ in range(rounds))
    print(f"made once a run: {once:.3f} s; medians of {rounds}")
    parsing, hearing = {}, {}
    for hours in HOURS:
        read_subtitles(texts[hours], "subtitles.srt")
        pairs = [
            (
                timed(lambda text=texts[hours]: read_subtitles(text, "subtitles.srt")),  # type: ignore[misc]
                timed(lambda said=cues[hours]: listen(said, library)),  # type: ignore[misc]
            )
            for _ in range(rounds)
        ]
        parsing[hours], hearing[hours] = (statistics.median(pair[side] for pair in pairs) for side in (0, 1))
        print(f"{hours} h, {len(cues[hours])} cues: parsed in {parsing[hours]:.3f} s, heard in {hearing[hours]:.3f} s")
    print(f"heard ÷ parsed, one hour: {hearing[1] / parsing[1]:.1f} times (aim: at most 10)")
    more = (hearing[4] - hearing[1]) / (parsing[4] - parsing[1])
    print(f"heard ÷ parsed, every hour more: {more:.1f} times")
    for short, long in ((1, 2), (2, 4)):
        print(f"heard, {long} h ÷ {short} h: {hearing[long] / hearing[short]:.2f} times (aim: at most 2.4)")
    heard = listen(cues[1], library)
    print(f"an hour drafted: {timed(lambda: draft(heard, title='An hour', source='subtitles.srt')):.3f} s more")


if __name__ == "__main__":
    main()
