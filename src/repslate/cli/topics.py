"""What `explain` says of the computed numbers: how each is worked out, its ranges and whose figures they are.

The text is made from the tables that the numbers are computed with, so that it cannot tell another figure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from repslate.model.quantity import write_number, write_range
from repslate.model.series import MetEdition
from repslate.training import compendium, duration, energy, guidelines, layout, pace, repmax
from repslate.training.guidelines import Bounds, Guide


def _time() -> Iterator[str]:
    yield "How long the session takes: work, rest and set-up of every set, added up exactly, shown in whole minutes."
    yield (
        f"A repetition takes its tempo, else the library's pace, else {write_number(pace.REP_SECONDS)} s; accepted are "
        f"{write_range(pace.REP_BAND, 's')} (ACSM 2009, moderate speed; the choice within it is ours). X counts 1 s."
    )
    yield (
        f"Set-up before a set: {write_number(duration.SET_UP)} s, derived from Burke et al. 2024 (SportRxiv 419); "
        f"between exercises {write_number(duration.CHANGE_OVER)} s and between blocks "
        f"{write_number(duration.BETWEEN_BLOCKS)} s, our policy. series.yaml can change all three. Another machine of "
        f"a circuit takes {layout.MACHINE} times the set-up."
    )
    yield "Between exercises that take no turns the rest written for the one just done passes, if it is longer."
    yield f"“max” counts {write_range(pace.MAX_REPS)} repetitions, our policy after NSCA and ACSM 2009."
    yield (
        f"Pauses: cluster {_guide(guidelines.CLUSTER_PAUSE, 's')}; rest-pause {_guide(guidelines.REST_PAUSE, 's')}; "
        f"between drops {_guide(guidelines.DROP_PAUSE, 's')}."
    )


def _muscles() -> Iterator[str]:
    yield "Sets per muscle: 1 for a muscle that an exercise trains directly, ½ for one that helps, 0 for the others."
    yield "Weights: Pelland et al. 2024 (preprint, SportRxiv), who found them to describe results best."
    yield "Which muscle is direct comes from the library: anatomy, from memory where no source is named."
    yield (
        "Both sides, a chain of drops, a rest-pause set and a cluster count as one set; warm-up and cool-down do not "
        "count (our policy)."
    )
    yield (
        "Over a week: under 4 sets low, 4–9 moderate, 10–20 the range with most evidence (ACSM 2026: 10 and more; "
        "Baz-Valle et al. 2022: 12–20). One session is not judged against a week."
    )


def _loads() -> Iterator[str]:
    for key, table in repmax.TABLES.items():
        rows = ", ".join(f"{reps}: {percent}" for reps, percent in table.rows.items())
        yield f"{table.name} (load table: {key}), repetitions to failure: % of the one-repetition maximum: {rows}."
        yield f"Source: {table.source}."
    yield f"Effort: repetitions in reserve are 10 − RPE, from RPE 6 ({repmax.EFFORT_SOURCE})."
    yield "A load goes to the nearest a bar can hold; from 85 % 1RM on, and of dumbbells, never up. The choice is ours."
    yield f"Show it as “about”: {repmax.SPREAD_SOURCE}. A line within 5 points of the table is never questioned."


def _energy() -> Iterator[str]:
    yield "Energy is a wide estimate and is only shown where the series asks for it."
    yield from (f"{words}." for words in compendium.FORMULAS.values())
    yield f"Shown for {write_range(energy.BODY_MASS, 'kg')} and a fifth more or less for the person."
    for edition in MetEdition:
        yield f"{edition.value}: {compendium.CITATIONS[edition]}."
        codes = (compendium.activity(edition, code) for code in compendium.CODES)
        yield "; ".join(f"{one.code} {write_number(one.met)} MET {one.words}" for one in codes if one) + "."


def _guidelines() -> Iterator[str]:
    for goal in guidelines.RESTS:
        rest = _guide(guidelines.RESTS[goal], "s")
        yield f"{goal.value}: rest {rest}, {guidelines.RESTS[goal].status.value}."
        for row in (row for row in guidelines.ROWS if row.goal is goal):
            figures = (("%", row.percent), ("reps", row.reps), ("sets", row.sets), ("s rest", row.rest))
            said = ", ".join(f"{_bounds(bounds)} {unit}" for unit, bounds in figures if bounds)
            levels = "" if len(row.levels) > 2 else f", {' and '.join(sorted(row.levels))}"
            yield f"  {said}{levels} ({row.source}; {row.status.value})"


def _bounds(bounds: Bounds) -> str:
    if bounds.high is None:
        return f"from {bounds.low}"
    return str(bounds.low) if bounds.low == bounds.high else f"{bounds.low}–{bounds.high}"


def _guide(guide: Guide, unit: str) -> str:
    return f"{_bounds(guide.bounds)} {unit} ({'; '.join(guide.sources)})"


TOPICS: dict[str, tuple[str, Callable[[], Iterator[str]]]] = {
    "session-time": ("How long the session takes.", _time),
    "sets-per-muscle": ("How sets are counted for each muscle.", _muscles),
    "load-table": ("From repetitions, reserve and RPE to a load.", _loads),
    "energy": ("The estimate of energy.", _energy),
    "guidelines": ("Usual repetitions, sets, loads and rests for each goal.", _guidelines),
}
