"""Learn where talk turns to what nobody names: `python tests/benchmarks/turns.py FOLDER... [--write]`.

A FOLDER holds labelled talk of one author, a folder a talk: subtitles.srt and truth.json, of whose "chapters" the
times "t" in seconds count. Prints, for each author, how many of the chapters the draft's turns meet within five
seconds and how many of the turns are right, with weights made of all other authors; what weights were made of proves
nothing. With --write the weights of all go to src/repslate/speech/turn_weights.txt.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from repslate.cut.subtitles import read_subtitles
from repslate.model.library import load
from repslate.speech import discover, likely
from repslate.speech.figures import Figure, hear
from repslate.speech.grammar import grammar
from repslate.speech.words import Word, read_words

LIBRARY = load()
TALKS = 6  # a word that fewer talks have says nothing
NEAR = 5.0  # seconds that a turn may be off
PULL, PULL_OF_FACTS = 0.003, 0.0001  # of each weight to nought
STEPS, PACE = 250, 2.0
SMALLEST = 0.02  # weight that is worth its line
HEAD = """\
# What speaks for a turn of the talk and against it, learned from labelled talk: the sign, and its weight behind the
# last blank. Signs that begin with "-" are facts, the others words and where they stand (likely.py). Not typed by hand:
# tests/benchmarks/turns.py makes this file.
"""


@dataclass(frozen=True)
class Talk:
    """A labelled talk: what speaks for a turn at each pause, whether one is labelled there, and what is heard."""

    author: str
    signs: list[dict[str, float]]
    is_turn: list[bool]
    chapters: list[float]
    words: Sequence[Word]
    said: Sequence[Figure]


def talk(folder: Path) -> Talk:
    """Read a labelled talk as the draft hears it."""
    cues, _ = read_subtitles((folder / "subtitles.srt").read_text("utf-8"), "subtitles.srt")
    words = read_words(cues)
    said = hear(words, grammar(LIBRARY))
    turns, _, named, _ = discover.named_turns(words, LIBRARY, said)
    starts = [turn.start for turn in named]
    chapters = [float(one["t"]) for one in json.loads((folder / "truth.json").read_text("utf-8"))["chapters"]]
    times = [float(words[end + 1].start) for end in turns.ends]
    return Talk(
        folder.parent.name,
        [likely.signs(turns, end + 1, starts) for end in turns.ends],
        [any(abs(time - one) <= NEAR for one in chapters) for time in times],
        chapters,
        words,
        said,
    )


def learned(talks: Sequence[Talk]) -> dict[str, float]:
    """Return the weights that tell best, by a logistic regression, at which pauses these talks turn."""
    often = Counter(sign for one in talks for sign in {sign for signs in one.signs for sign in signs})
    columns = {sign: at for at, sign in enumerate(sorted(s for s, count in often.items() if count >= TALKS))}
    rows = [signs for one in talks for signs in one.signs]
    known = np.zeros((len(rows), len(columns)))
    for at, signs in enumerate(rows):
        for sign, value in signs.items():
            if sign in columns:
                known[at, columns[sign]] = value
    wanted = np.array([is_turn for one in talks for is_turn in one.is_turn], dtype=float)
    pull = np.array([PULL_OF_FACTS if sign.startswith("-") else PULL for sign in columns])
    weights = np.zeros(len(columns))
    for _ in range(STEPS):
        wrong = 1 / (1 + np.exp(-known @ weights)) - wanted
        weights -= PACE * (known.T @ wrong / len(rows) + pull * weights)
    return {sign: round(float(weights[at]), 3) for sign, at in columns.items() if abs(weights[at]) >= SMALLEST}


def met(one: Talk, weights: dict[str, float]) -> tuple[int, int, int, int]:
    """Return how many chapters are met, how many there are, how many turns are right, and how many there are."""
    likely._weights = lambda: weights  # type: ignore[assignment]
    _, topics = discover.discover(one.words, LIBRARY, one.said)
    times = [float(topic.time) for topic in topics]
    right = [any(abs(time - chapter) <= NEAR for chapter in one.chapters) for time in times]
    found = [any(abs(time - chapter) <= NEAR for time in times) for chapter in one.chapters]
    return sum(found), len(found), sum(right), len(right)


def main() -> None:
    """Measure each author with the weights of the others, and write those of all if asked to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    talks = [talk(path.parent) for folder in asked.folders for path in sorted(folder.glob("*/truth.json"))]
    for author in sorted({one.author for one in talks}):
        weights = learned([one for one in talks if one.author != author])
        counts = [met(one, weights) for one in talks if one.author == author]
        found, chapters, right, turns = (sum(one) for one in zip(*counts, strict=True))
        print(
            f"{author}: {found / chapters:.3f} of {chapters} chapters met, {right / turns:.3f} of {turns} turns right"
        )
    if asked.write:
        path = Path(likely.__file__).with_name("turn_weights.txt")
        lines = (f"{sign} {weight}" for sign, weight in sorted(learned(talks).items()))
        path.write_text(HEAD + "\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
