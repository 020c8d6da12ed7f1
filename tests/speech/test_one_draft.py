"""One file gives one draft, however Python happens to order its sets, which changes from run to run."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from decimal import Decimal

from labelled import DATA
from repslate.cut.cue import Cue
from repslate.cut.formats.subtitles_srt import read as read_subrip
from repslate.model.library import load
from repslate.speech.discover import names_of
from repslate.speech.topics import WEIGHTS, Turns
from repslate.speech.words import read_words

TALK = sorted(path for folder in ("spoken", "talk") for path in (DATA / folder).rglob("subtitles.srt"))
DRAFTED = """
import json, sys
from pathlib import Path
from repslate import api
for path in sys.argv[1:]:
    print(json.dumps([path, {name: data.decode() for name, data in api.draft(Path(path), "T").value.files.items()}]))
"""


def under(seed: int, code: str, *words: str) -> str:
    """Return what a run of Python says whose sets are ordered by this seed."""
    environment = os.environ | {"PYTHONHASHSEED": str(seed)}
    done = subprocess.run(
        [sys.executable, "-c", code, *words], env=environment, capture_output=True, text=True, check=True
    )
    return done.stdout


def test_all_labelled_talk_gives_one_draft_each() -> None:
    first, *others = (under(seed, DRAFTED, *map(str, TALK)) for seed in (0, 1, 7))
    assert len(first.splitlines()) == len(TALK) >= 8
    for other in others:
        for one, two in zip(first.splitlines(), other.splitlines(), strict=True):
            assert json.loads(one) == json.loads(two)


def test_weights_that_come_to_the_same_weigh_the_same() -> None:
    """Added up in the order of a set they would differ in their last digit, and a tie would go one way or the other."""
    for path in TALK:
        words = read_words([one for one in read_subrip(path.read_text("utf-8"), path.name) if isinstance(one, Cue)])
        turns = Turns(words, (), ()).weigh(names_of(load()).find(words))
        assert turns
        for turn in turns:
            exact = sum(Decimal(str(WEIGHTS.get(reason, 0))) for reason in turn.reasons)
            assert turn.score == float(exact), turn.reasons
