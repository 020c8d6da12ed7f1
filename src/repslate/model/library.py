"""The exercise library: what each movement is called, what it trains, what it needs and what may hurt in it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Entry:
    """One movement of the library.

    `muscles` and `secondary` are names of muscles or of their heads; `traits` are the hazards that ask for a caution;
    `unit` is how work is usually counted ("reps", "seconds", "metres"); `pace` is typical seconds per repetition.
    """

    name: str
    aliases: tuple[str, ...]
    family: str
    pattern: str
    equipment: tuple[str, ...]
    muscles: tuple[str, ...]
    secondary: tuple[str, ...]
    one_sided: bool
    unit: str
    pace: Fraction
    traits: tuple[str, ...]
    met: str
    source: str


@dataclass(frozen=True, slots=True)
class Match:
    """What a written name was taken for.

    `how` is "" for the entry's own name, else what was done: "alias", "word order", "spelling".
    """

    entry: Entry
    how: str = ""
