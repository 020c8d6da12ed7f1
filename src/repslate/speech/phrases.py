"""Reads the words and phrases of talk that are kept beside the code: phrases.txt, caution_words.txt and others."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent


@cache
def phrases(file: str) -> dict[str, tuple[str, ...]]:
    """Return what a file lists under each name: `NAME: phrase | phrase` a line, which lines with a margin continue."""
    lines = re.sub(r"\n +", " ", (FOLDER / file).read_text("utf-8")).splitlines()
    named = (line.partition(":") for line in lines if line and not line.startswith("#"))
    return {name: tuple(phrase.strip() for phrase in text.split("|")) for name, _, text in named}


def listed(name: str, file: str = "talk_words.txt") -> frozenset[str]:
    """Return what a file lists under one name, to look words up in."""
    return frozenset(phrases(file)[name])
