"""Two lists of names held against each other: what is in both, missing, more, or at another place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher


@dataclass(frozen=True, slots=True)
class Alignment:
    """Indexes of the expected and of the found list.

    `pairs` are in both, `renamed` stand at the same place under another name, `moved` are in both at another place.
    """

    pairs: tuple[tuple[int, int], ...]
    renamed: tuple[tuple[int, int], ...]
    moved: tuple[tuple[int, int], ...]
    missing: tuple[int, ...]
    more: tuple[int, ...]


def align(expected: Sequence[str], found: Sequence[str]) -> Alignment:
    """Align two lists of names; each index is in one of the answers."""
    pairs: list[tuple[int, int]] = []
    renamed: list[tuple[int, int]] = []
    missing: list[int] = []
    more: list[int] = []
    everywhere = Counter(expected) & Counter(found)
    for how, i, i_end, j, j_end in SequenceMatcher(None, expected, found, autojunk=False).get_opcodes():
        if how == "equal":
            pairs += zip(range(i, i_end), range(j, j_end), strict=True)
            continue
        unknown = [at for at in range(i, i_end) if not everywhere[expected[at]]]
        strange = [at for at in range(j, j_end) if not everywhere[found[at]]]
        if len(unknown) == len(strange):
            renamed += zip(unknown, strange, strict=True)
            unknown, strange = [], []
        missing += [at for at in range(i, i_end) if everywhere[expected[at]] or at in unknown]
        more += [at for at in range(j, j_end) if everywhere[found[at]] or at in strange]
    moved = []
    for at in tuple(missing):
        elsewhere = next((other for other in more if found[other] == expected[at]), None)
        if elsewhere is not None:
            moved.append((at, elsewhere))
            missing.remove(at)
            more.remove(elsewhere)
    return Alignment(tuple(pairs), tuple(renamed), tuple(moved), tuple(missing), tuple(more))
