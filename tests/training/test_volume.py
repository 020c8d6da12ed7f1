"""Sets per muscle: the published way of counting, what is one set, and what is left out and says so."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.build import build
from repslate.model.episode import Block, Episode, Exercise
from repslate.model.forms import BlockKind, form_of
from repslate.model.library import load
from repslate.model.prescription import Prescription, Reps
from repslate.model.quantity import Range, write_range
from repslate.model.series import Series
from repslate.source.outline import read_outline
from repslate.source.span import Span
from repslate.training.volume import Band, MuscleSets, bands, not_counted, volume, week, working_sets

LIBRARY = load()
TABLE = Path(__file__).parents[1] / "cases" / "library" / "muscles-by-exercise.txt"


def episode(text: str, **changes: Any) -> Episode:
    """Read blocks as they stand in workout.md."""
    outline, _ = read_outline("---\nformat: 1\ntitle: A sample\n---\n" + text, "workout.md")
    built, _ = build(outline, Series(), LIBRARY, folder_name="sample", file="workout.md")
    return replace(built, **changes)


def straight(*lines: tuple[str, str]) -> Episode:
    return episode("## Straight sets\n" + "".join(f"### {name}\n{line}\n\n" for name, line in lines))


def total(text: str, muscle: str) -> str:
    """Return the sets of a muscle as they would be written, "" for none."""
    return next((write_range(row.total) for row in volume(episode(text), LIBRARY) if row.muscle == muscle), "")


def sums(row: MuscleSets) -> tuple[str, str]:
    """Return the direct sets and those counted by half, as they would be written."""
    return write_range(row.direct), write_range(row.half_counted)


def every_row(rows: tuple[MuscleSets, ...]) -> dict[str, MuscleSets]:
    return {row.muscle: row for whole in rows for row in (whole, *whole.parts)}


def test_published_count() -> None:
    """Check value 17: direct 1, indirect ½ (Pelland et al. 2024); which muscle is direct is from memory."""
    rows = volume(straight(("Bench press", "3 × 8"), ("Triceps pushdown", "2 × 12")), LIBRARY)
    assert {row.muscle: row.total for row in rows} == {
        "triceps brachii": Range(Fraction(7, 2), Fraction(7, 2)),
        "pectoralis major": Range(Fraction(3), Fraction(3)),
        "anterior deltoid": Range(Fraction(3, 2), Fraction(3, 2)),
    }
    assert [row.muscle for row in rows] == ["triceps brachii", "pectoralis major", "anterior deltoid"]  # the most first
    triceps = rows[0]
    assert (triceps.shown, *sums(triceps)) == ("triceps", "2", "1.5")
    assert triceps.exercises == ("bench-press", "triceps-pushdown")


def test_a_set_counts_once_for_the_whole_and_for_each_head_that_is_named() -> None:
    (triceps,) = volume(straight(("Triceps pushdown", "2 × 12")), LIBRARY)
    assert sums(triceps) == ("2", "0")
    assert {part.muscle: sums(part) for part in triceps.parts} == {
        "triceps brachii lateral head": ("2", "0"),
        "triceps brachii medial head": ("2", "0"),
        "triceps brachii long head": ("0", "1"),
    }


def rows_of_the_table() -> list[str]:
    """Return the entries' names in the 84 rows, without what the rows say about hazards."""
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if line and not line.startswith("#")]
    assert {int(line.split(" | ")[0]) for line in lines} == set(range(1, 85))
    said = [name for line in lines for name in line.rpartition("|")[2].split(";")]
    return [re.split(r" (?=[−+])", name.strip())[0] for name in said]


@pytest.mark.parametrize("name", rows_of_the_table())
def test_three_sets_of_every_movement_of_the_table(name: str) -> None:
    """Rule of Pelland et al. 2024 on the muscles that tests/model/test_library.py compares with the table."""
    entry = LIBRARY.entries[name]
    rows = every_row(volume(straight((name, "3 × 10")), LIBRARY))
    for muscle in entry.muscles:
        assert sums(rows[muscle]) == sums(rows[LIBRARY.muscles[muscle].counts_as]) == ("3", "0")
    for muscle in entry.secondary:
        assert sums(rows[muscle]) == ("0", "1.5")
    wholes = {LIBRARY.muscles[muscle].counts_as for muscle in (*entry.muscles, *entry.secondary)}
    assert rows.keys() == {*entry.muscles, *entry.secondary, *wholes}


@pytest.mark.parametrize(
    ("text", "sets"),
    [
        ("## Straight sets\n### Leg extension\n3 × 10, rest 60 s\n", "3"),
        ("## Straight sets\n### Leg extension\n2–3 × 10, rest 60 s\n", "2–3"),
        ("## Straight sets\n### Leg extension\n12/10/8, rest 60 s\n", "3"),
        ("## Finisher\n### Leg extension\n30 reps\n", "1"),
        ("## Superset A · 2–3 rounds\n### Leg extension\n10 reps\n### Biceps curl\n10 reps\n", "2–3"),
        ("## Superset A · 3 rounds\n### Leg extension\n4 × 10\n### Biceps curl\n10 reps\n", "4"),
        # Our policy: both sides are one set, a chain of drops, rest-pause or cluster is one set.
        ("## Straight sets\n### Leg extension\n3 × 10 per side, rest 60 s\n", "3"),
        ("## Straight sets\n### Leg extension\n3 × 10 @ 40 kg, 2 drops of 20 %\n", "3"),
        ("## Straight sets\n### Leg extension\n3 × 10, rest-pause\n", "3"),
        ("## Straight sets\n### Leg extension\n3 × 6, cluster 2+2+2\n", "3"),
        # Our policy: a minute is a set; exercises take turns.
        ("## Every minute for 10 min\n### Leg extension\n10 reps\n", "10"),
        ("## Every minute for 10 min\n### Leg extension\n10 reps\n### Biceps curl\n10 reps\n", "5"),
        (
            "## Every minute for 10 min\n### Leg extension\n10 reps\n### Biceps curl\n10 reps\n### Push-up\n5 reps\n",
            "3–4",
        ),
        # Two blocks add up.
        ("## Finisher\n### Leg extension\n9 reps\n## Finisher\n### Leg extension\n3 × 9\n", "4"),
        # Described in place: all direct; a group is all of its muscles.
        ("## Straight sets\n### Zwibbel lift\n3 × 5\n\nMuscles: quads, biceps\n", "3"),
        ("## Straight sets\n### Zwibbel lift\n3 × 5\n\nMuscles: legs\n", "3"),
        # The trainer's word stands in place of the library's.
        ("## Straight sets\n### Front squat\n3 × 5\n\nMuscles: glutes\n", ""),
    ],
)
def test_what_is_a_set(text: str, sets: str) -> None:
    assert total(text, "quadriceps femoris") == sets


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("## Warm-up\n### Leg extension\n2 × 10\n", "warm-up or cool-down"),
        ("## Cool-down\n### Leg extension\n2 × 10\n", "warm-up or cool-down"),
        ("## Straight sets\n### 90/90 hip switch\n3 × 10\n", "mobility, balance or breathing"),
        ("## Straight sets\n### Single-leg stand\n3 × 30 s\n", "mobility, balance or breathing"),
        ("## As many rounds as possible in 12 min\n### Push-up\n10 reps\n", "number of rounds not known"),
        ("## Every minute\n### Push-up\n10 reps\n", "number of sets not written"),
        ("## Straight sets\n### Push-up\n3 x many\n", "number of sets not written"),
        ("## Straight sets\n### Push-up\nJust do it.\n", "number of sets not written"),
        ("## Straight sets\n### Zwibbel lift\n3 × 5\n", "muscles not known"),
        ("## Straight sets\n### Zwibbel lift\n3 × 5\n\nMuscles: zwibbel\n", "muscles not known"),
    ],
)
def test_what_is_not_counted_says_so(text: str, reason: str) -> None:
    one = episode(text + "\n## Finisher\n### Plank\n30 s\n")
    (left_out,) = not_counted(one, LIBRARY)
    assert (left_out.name, left_out.reason.value) == (one.blocks[0].exercises[0].name, reason)
    assert working_sets(one, LIBRARY) == Range(1, 1)
    assert {id_ for row in volume(one, LIBRARY) for id_ in row.exercises} == {"plank"}


# Properties.

names = st.sampled_from(sorted(LIBRARY.entries))
counts = st.tuples(st.integers(1, 9), st.integers(0, 3)).map(lambda pair: Range(pair[0], pair[0] + pair[1]))


def exercise(name: str, sets: Range[int]) -> Exercise:
    said = Prescription(sets=sets, work=Reps((Range(10, 10),)))
    return Exercise(name, name, Span("workout.md"), "A1", said, Span("workout.md"), LIBRARY.find(name))


exercises = st.builds(exercise, names, counts)
blocks = st.builds(
    Block,
    kind=st.sampled_from(BlockKind),
    letter=st.just("A"),
    title=st.just(""),
    name=st.just(""),
    span=st.just(Span("workout.md")),
    exercises=st.lists(exercises, min_size=1, max_size=4).map(tuple),
)
workouts = st.lists(blocks, min_size=1, max_size=4).map(tuple)


def totals(some: tuple[Block, ...]) -> dict[str, Range[Fraction]]:
    rows = volume(Episode("", "sample", Span("workout.md"), Series(), blocks=some), LIBRARY)
    return {name: row.total for name, row in every_row(rows).items()}


@given(workouts, st.data())
def test_one_more_set_never_lowers_a_muscle(some: tuple[Block, ...], data: st.DataObject) -> None:
    before = totals(some)
    at = data.draw(st.integers(0, len(some) - 1))
    first, *rest = some[at].exercises
    assert first.prescription.sets is not None
    more = Range(first.prescription.sets.low + 1, first.prescription.sets.high + 1)
    longer = replace(first, prescription=replace(first.prescription, sets=more))
    after = totals((*some[:at], replace(some[at], exercises=(longer, *rest)), *some[at + 1 :]))
    assert after.keys() == before.keys()
    assert all(before[name].low <= after[name].low and before[name].high <= after[name].high for name in before)
    form = form_of(some[at].kind)
    counted = not (form.stands or form.is_easy or form.is_open)
    assert first.match is not None
    if counted and first.match.entry.pattern not in {"mobility", "balance", "breathing"}:
        assert all(after[muscle].low == before[muscle].low + 1 for muscle in first.match.entry.muscles)


@given(workouts, st.randoms(use_true_random=False))
def test_the_order_does_not_matter(some: tuple[Block, ...], chance: Random) -> None:
    shuffled = [replace(block, exercises=tuple(reversed(block.exercises))) for block in some]
    chance.shuffle(shuffled)
    assert list(totals(tuple(shuffled)).items()) == list(totals(some).items())


@given(workouts, workouts)
def test_blocks_add_up(some: tuple[Block, ...], others: tuple[Block, ...]) -> None:
    one, two, both = totals(some), totals(others), totals((*some, *others))
    assert both.keys() == one.keys() | two.keys()
    none = Range(Fraction(0), Fraction(0))
    for name, sets in both.items():
        first, second = one.get(name, none), two.get(name, none)
        assert (sets.low, sets.high) == (first.low + second.low, first.high + second.high)


# A week of a series.


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [  # 4: Iversen et al. 2021; 10: ACSM 2026; 20: Baz-Valle et al. 2022; that these are our bands is policy
        ("3.5", "3.5", [Band.LOW]),
        ("4", "4", [Band.MODERATE]),
        ("9.5", "9.5", [Band.MODERATE]),
        ("10", "10", [Band.HIGH]),
        ("20", "20", [Band.HIGH]),
        ("20.5", "20.5", [Band.VERY_HIGH]),
        ("3", "12", [Band.LOW, Band.MODERATE, Band.HIGH]),
    ],
)
def test_band(low: str, high: str, shown: list[Band]) -> None:
    assert list(bands(Range(Fraction(low), Fraction(high)))) == shown


def test_a_week_adds_up_its_sessions_and_a_single_one_is_not_judged() -> None:
    text = "## Straight sets\n### Leg extension\n3 × 10, rest 60 s\n"
    monday, sunday, next_monday = date(2026, 5, 4), date(2026, 5, 10), date(2026, 5, 11)
    weeks, undated = week(
        [
            episode(text, slug="late", published=next_monday, recorded=monday),
            episode(text, slug="first", published=monday),
            episode(text, slug="last", recorded=sunday),
            episode(text, slug="some-day"),
        ],
        LIBRARY,
    )
    assert undated == ("some-day",)
    assert [(one.monday, one.episodes) for one in weeks] == [(monday, ("first", "last")), (next_monday, ("late",))]
    (full,), (single,) = (one.muscles for one in weeks)
    assert (full.muscle, write_range(full.total), full.episodes) == ("quadriceps femoris", "6", ("first", "last"))
    assert full.bands == (Band.MODERATE,)
    assert (write_range(single.total), single.bands) == ("3", ())
