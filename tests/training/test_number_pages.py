"""The pages of the computed numbers tell the figures and sources of the tables that the numbers are computed with."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from repslate.checks.pages import read_numbers
from repslate.model.quantity import write_number, write_range
from repslate.model.series import MetEdition
from repslate.training import compendium, duration, energy, guidelines, layout, pace, repmax
from repslate.training.guidelines import Bounds, Guide


def session_time() -> Iterator[str]:
    yield f"else {write_number(pace.REP_SECONDS)} s; accepted are {write_range(pace.REP_BAND, 's')} "
    yield f"Set-up before a set: {write_number(duration.SET_UP)} s"
    yield f"between exercises {write_number(duration.CHANGE_OVER)} s"
    yield f"between blocks {write_number(duration.BETWEEN_BLOCKS)} s"
    yield f"takes {layout.MACHINE} times the set-up"
    yield f"“max” counts {write_range(pace.MAX_REPS)} repetitions"
    for name, one in (
        ("cluster", guidelines.CLUSTER_PAUSE),
        ("rest-pause", guidelines.REST_PAUSE),
        ("between drops", guidelines.DROP_PAUSE),
    ):
        yield f"{name} {guide(one)}"


def load_table() -> Iterator[str]:
    for key, table in repmax.TABLES.items():
        rows = ", ".join(f"{reps}: {percent}" for reps, percent in table.rows.items())
        yield f"{table.name} (load table: {key}), repetitions to failure: % of the one-repetition maximum: {rows}."
        yield f"Source: {table.source}."
    yield f"({repmax.EFFORT_SOURCE})"
    yield repmax.SPREAD_SOURCE


def energy_() -> Iterator[str]:
    yield from (f"{words}." for words in compendium.FORMULAS.values())
    yield f"Shown for {write_range(energy.BODY_MASS, 'kg')} "
    for edition in MetEdition:
        yield f"{edition.value}: {compendium.CITATIONS[edition]}."
        codes = (compendium.activity(edition, code) for code in compendium.CODES)
        yield "\n".join(f"- {one.code} {write_number(one.met)} MET {one.words}" for one in codes if one)


def goals() -> Iterator[str]:
    for goal in guidelines.RESTS:
        yield f"{goal.value}: rest {guide(guidelines.RESTS[goal])}, {guidelines.RESTS[goal].status.value}."
        for row in (row for row in guidelines.ROWS if row.goal is goal):
            figures = (("%", row.percent), ("reps", row.reps), ("sets", row.sets), ("s rest", row.rest))
            said = ", ".join(f"{written(bounds)} {unit}" for unit, bounds in figures if bounds)
            levels = "" if len(row.levels) > 2 else f", {' and '.join(sorted(row.levels))}"
            yield f"- {said}{levels} ({row.source}; {row.status.value})"


def guide(one: Guide) -> str:
    return f"{written(one.bounds)} s ({'; '.join(one.sources)})"


def written(bounds: Bounds) -> str:
    if bounds.high is None:
        return f"from {bounds.low}"
    return str(bounds.low) if bounds.low == bounds.high else f"{bounds.low}–{bounds.high}"


@pytest.mark.parametrize(
    ("name", "rows"),
    [
        ("session-time", session_time()),
        ("load-table", load_table()),
        ("energy", energy_()),
        ("guidelines", goals()),
    ],
)
def test_a_page_has_every_row_of_its_tables(name: str, rows: Iterator[str]) -> None:
    page = "\n".join(read_numbers()[name])
    assert [row for row in rows if row not in page] == []
