"""Sets and seconds of random episodes, worked out a second time by plain sums that share nothing with the stage.

What an episode holds is known here because it was written here; its policies stand as figures once more, on purpose:
a weight, a pause or a way of counting that changes in the stage has to change here too, or this fails.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest

from made_episodes import BLOCKS
from repslate.model.build import build
from repslate.model.episode import Episode
from repslate.model.library import Entry, load
from repslate.model.quantity import Range
from repslate.model.series import Series
from repslate.source.outline import read_outline
from repslate.training.duration import session_time
from repslate.training.volume import MuscleSets, volume, working_sets

LIBRARY = load()
COUNTED_IN_REPS = sorted(
    (one for one in LIBRARY.entries.values() if one.unit == "reps" and not any("machine" in e for e in one.equipment)),
    key=lambda one: one.name,
)
#: A dose, its work in repetitions (None: in seconds), seconds of each (None: the library's pace), sides.
DOSES: tuple[tuple[str, int, Fraction | None, int], ...] = (
    ("10 reps", 10, None, 1),
    ("6 reps per side", 6, None, 2),
    ("8 reps, tempo 3-1-1-0", 8, Fraction(5), 1),
    ("12 reps per side, tempo 2-0-2-X", 12, Fraction(5), 2),
    ("30 s", 30, Fraction(1), 1),
    ("20 s per side", 20, Fraction(1), 2),
)
HELPS = Fraction(1, 2)  # of a set (Pelland et al. 2024)
SET_UP, CHANGE_OVER, BETWEEN_BLOCKS = 10, 15, 60  # seconds, our policy
HEADINGS = (*BLOCKS, ("Warm-up", "2 rounds", (1, 3)))


@dataclass(frozen=True)
class Done:
    """An exercise as it was written: its entry, seconds of a set, whether it is timed, own sets and rest (0: none)."""

    entry: Entry
    work: Fraction
    timed: bool
    sets: int
    rest: int
    line: str


@dataclass(frozen=True)
class Part:
    """A block as it was written: `facts` are the words of its heading after its form."""

    form: str
    facts: str
    exercises: tuple[Done, ...]


def parts(dice: Random) -> list[Part]:
    """Return random blocks of exercises of the library, none of them twice."""
    free = dice.sample(COUNTED_IN_REPS, len(COUNTED_IN_REPS))
    found = []
    for _ in range(dice.randrange(1, 5)):
        form, facts, (low, high) = dice.choice(HEADINGS)
        in_sets = form in ("Straight sets", "Cool-down")
        exercises = tuple(exercise(dice, free.pop(), in_sets=in_sets) for _ in range(dice.randrange(low, high + 1)))
        found.append(Part(form, facts, exercises))
    return found


def exercise(dice: Random, entry: Entry, *, in_sets: bool) -> Done:
    dose, count, each, sides = dice.choice(DOSES)
    work = count * (entry.pace if each is None else each) * sides
    sets, rest = (dice.randrange(1, 6), dice.choice((5, 45, 90))) if in_sets else (0, 0)
    line = f"{sets} × {dose.replace(' reps', '')}, rest {rest} s" if in_sets else dose
    return Done(entry, work, "reps" not in dose, sets, rest, line)


def episode(written: list[Part]) -> Episode:
    text = "---\nformat: 1\ntitle: A sample\n---\n"
    for part in written:
        text += f"## {part.form}{f' · {part.facts}' if part.facts else ''}\n"
        text += "".join(f"### {one.entry.name}\n{one.line}\n\n" for one in part.exercises)
    outline, _ = read_outline(text, "workout.md")
    built, findings = build(outline, Series(), LIBRARY, folder_name="sample", file="workout.md")
    assert not [one for one in findings if one.severity == "error"], text
    return built


# ---- plainly


def rounds(part: Part) -> tuple[int, int]:
    """Return how often each exercise of a block in rounds is done, at least and at most; once where nothing says it."""
    first = part.facts.split()[0] if part.facts else "1"
    low, _, high = first.partition("–")
    return int(low), int(high or low)


def sets(part: Part, one: Done) -> tuple[int, int] | None:
    if part.form.startswith("As many"):
        return None
    if part.form.startswith("Every minute"):
        minutes, count = 10, len(part.exercises)
        return minutes // count, -(-minutes // count)
    return (one.sets, one.sets) if one.sets else rounds(part)


def counted(written: list[Part]) -> Iterator[tuple[Entry, int, int]]:
    for part in written:
        for one in part.exercises:
            number = sets(part, one)
            is_work = part.form not in ("Warm-up", "Cool-down")
            if number and is_work and one.entry.pattern not in ("mobility", "balance", "breathing"):
                yield one.entry, *number


def muscles(written: list[Part]) -> dict[str, tuple[Fraction, Fraction]]:
    """Return the least and the most sets of each muscle and each head that is named."""
    sums: dict[str, list[Fraction]] = defaultdict(lambda: [Fraction(0), Fraction(0)])
    for entry, low, high in counted(written):
        direct = {one for name in entry.muscles for one in (name, LIBRARY.muscles[name].counts_as)}
        helping = {one for name in entry.secondary for one in (name, LIBRARY.muscles[name].counts_as)} - direct
        for name in direct | helping:
            share = Fraction(1) if name in direct else HELPS
            sums[name][0] += low * share
            sums[name][1] += high * share
    return {name: (low, high) for name, (low, high) in sums.items()}


def seconds(part: Part, most: bool) -> Fraction:
    """Return how long a block takes, at its most or least rounds."""
    if "min" in part.form:  # "for 10 min", "in 8 min"
        return Fraction(60 * int(part.form.split()[-2]))
    if part.exercises[0].sets:
        own = sum((one.sets * (SET_UP + one.work) + (one.sets - 1) * one.rest for one in part.exercises), Fraction(0))
        return own + sum(max(CHANGE_OVER, one.rest) for one, _ in pairwise(part.exercises))
    times = rounds(part)[most]
    rest = 0
    if "rest" in part.facts:
        amount, unit = part.facts.split("rest ")[1].split()
        low, _, high = amount.partition("–")
        rest = int((high or low) if most else low) * (60 if unit == "min" else 1)
    once = sum((SET_UP + one.work for one in part.exercises), Fraction(0))
    set_in_rest = SET_UP if part.form == "Circuit" and part.exercises[0].timed else 0
    return times * once + (times - 1) * (rest - set_in_rest)


def every_row(rows: tuple[MuscleSets, ...]) -> Iterator[MuscleSets]:
    for row in rows:
        yield row
        yield from row.parts


@pytest.mark.parametrize("seed", range(80))
def test_sets_and_seconds_are_the_plain_sums(seed: int) -> None:
    written = parts(Random(seed))  # noqa: S311 - the same episodes every time
    built = episode(written)
    counts = list(counted(written))
    assert working_sets(built, LIBRARY) == Range(sum(low for _, low, _ in counts), sum(high for _, _, high in counts))
    found = {row.muscle: (row.total.low, row.total.high) for row in every_row(volume(built, LIBRARY))}
    assert found == muscles(written)
    times = session_time(built)
    plain = [Range(seconds(part, most=False), seconds(part, most=True)) for part in written]
    assert [block.total for block in times.blocks] == plain
    between = BETWEEN_BLOCKS * (len(written) - 1)
    low, high = (sum((getattr(one, end) for one in plain), Fraction(between)) for end in ("low", "high"))
    assert times.total == Range(low, high)
