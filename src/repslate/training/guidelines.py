"""What is published for a goal and a level: load, repetitions, sets and rest, each figure beside its source.

The sources differ, so what is usual is the widest of them; that choice, and the rests, are ours and say so.
ACSM 2026 replaces ACSM 2009 but prescribes less by level, so the figures of 2009 stand beside it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from repslate.model.episode import Exercise, Goal, Level
from repslate.model.forms import BlockKind, form_of
from repslate.model.quantity import Range
from repslate.training.movement import is_loaded, is_main_lift

NSCA = "NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016"
ACSM_2009 = "ACSM 2009, Med Sci Sports Exerc 41(3):687–708"
ACSM_2026 = "ACSM 2026, Med Sci Sports Exerc, April issue"
IUSCA = "IUSCA position stand, Schoenfeld et al. 2021, Int J Strength Cond 1(1)"


class Status(StrEnum):
    """How sure a figure is."""

    READ = "read in the source or its abstract"
    COPIED = "read in a copy of the source"
    MEMORY = "from memory"
    POLICY = "our policy"


@dataclass(frozen=True, slots=True)
class Bounds:
    """From `low` to `high`, both included, in repetitions, sets, per cent or seconds; `high` None leaves it open."""

    low: int
    high: int | None

    def meets(self, figures: Range[int] | Range[Decimal] | Range[Fraction]) -> bool:
        """Tell whether at least one of the figures lies within."""
        return figures.high >= self.low and (self.high is None or figures.low <= self.high)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a published table; None where it says nothing. `percent` is of the one-repetition maximum."""

    source: str
    status: Status
    goal: Goal
    levels: frozenset[Level] = frozenset(Level)
    percent: Bounds | None = None
    reps: Bounds | None = None
    sets: Bounds | None = None
    rest: Bounds | None = None


@dataclass(frozen=True, slots=True)
class Guide:
    """A range with the sources it is drawn from; `status` is that of the least sure of them."""

    bounds: Bounds
    sources: tuple[str, ...]
    status: Status


@dataclass(frozen=True, slots=True)
class Ranges:
    """What is usual, None where nothing is published.

    `rest` comes after a set, in a block done in rounds after the round; `within` between the exercises of a round.
    """

    percent: Guide | None = None
    reps: Guide | None = None
    sets: Guide | None = None
    rest: Guide | None = None
    within: Guide | None = None


_S, _H, _E, _P = Goal.STRENGTH, Goal.HYPERTROPHY, Goal.ENDURANCE, Goal.POWER
_LEARNING = frozenset({Level.BEGINNER, Level.INTERMEDIATE})
_BEGINNER, _INTERMEDIATE, _ADVANCED = (frozenset({level}) for level in Level)

#: NSCA, handbook tables 17.6 and 17.9–17.11 (numbers from memory); the figures agree in three copies.
NSCA_ROWS = (
    Row(NSCA, Status.COPIED, _S, percent=Bounds(85, 100), reps=Bounds(1, 6), sets=Bounds(2, 6), rest=Bounds(120, 300)),
    Row(NSCA, Status.COPIED, _H, percent=Bounds(67, 85), reps=Bounds(6, 12), sets=Bounds(3, 6), rest=Bounds(30, 90)),
    Row(NSCA, Status.COPIED, _E, percent=Bounds(0, 67), reps=Bounds(12, None), sets=Bounds(2, 3), rest=Bounds(0, 30)),
    Row(NSCA, Status.COPIED, _P, percent=Bounds(80, 90), reps=Bounds(1, 2), sets=Bounds(3, 5), rest=Bounds(120, 300)),
    Row(NSCA, Status.COPIED, _P, percent=Bounds(75, 85), reps=Bounds(3, 5), sets=Bounds(3, 5), rest=Bounds(120, 300)),
)
#: ACSM 2009 by level: strength 60–70 % and 8–12RM, advanced 80–100 % and 1–12RM; "multiple sets" is no figure.
ACSM_2009_ROWS = (
    Row(ACSM_2009, Status.READ, _S, _BEGINNER, Bounds(60, 70), Bounds(8, 12), Bounds(1, 3), Bounds(120, 180)),
    Row(ACSM_2009, Status.READ, _S, _INTERMEDIATE, Bounds(60, 70), Bounds(8, 12), None, Bounds(120, 180)),
    Row(ACSM_2009, Status.READ, _S, _ADVANCED, Bounds(80, 100), Bounds(1, 12), None, Bounds(180, 300)),
    Row(ACSM_2009, Status.COPIED, _H, _LEARNING, Bounds(70, 85), Bounds(8, 12), Bounds(1, 3), Bounds(60, 120)),
    Row(ACSM_2009, Status.COPIED, _H, _ADVANCED, Bounds(70, 100), Bounds(1, 12), Bounds(3, 6), Bounds(60, 180)),
    Row(ACSM_2009, Status.COPIED, _P, _LEARNING, Bounds(0, 60), Bounds(3, 6), Bounds(1, 3), Bounds(60, 300)),
    Row(ACSM_2009, Status.MEMORY, _P, _ADVANCED, Bounds(0, 100), Bounds(1, 6), Bounds(3, 6), Bounds(60, 300)),
    Row(ACSM_2009, Status.MEMORY, _E, _LEARNING, Bounds(0, 70), Bounds(10, 15), None, Bounds(0, 60)),
    Row(ACSM_2009, Status.MEMORY, _E, _ADVANCED, Bounds(0, 70), Bounds(10, None), Bounds(2, 4), Bounds(0, 120)),
)
#: What stands in neither table, read in summaries or from memory.
OTHER_ROWS = (
    Row(ACSM_2026, Status.COPIED, _S, percent=Bounds(80, 100), sets=Bounds(2, 3)),
    Row(ACSM_2026, Status.COPIED, _P, percent=Bounds(30, 70)),
    # Growth is alike over a wide span of loads where the sets are hard.
    Row(IUSCA, Status.MEMORY, _H, percent=Bounds(30, 85), reps=Bounds(5, 30)),
    # ACSM 2026 counts sets for growth over the week (10 and more a muscle): one here may be one of many.
    Row("our policy after ACSM 2026", Status.POLICY, _H, sets=Bounds(1, 6)),
    Row("our policy", Status.POLICY, _E, sets=Bounds(1, 4)),
)
ROWS = NSCA_ROWS + ACSM_2009_ROWS + OTHER_ROWS


def _policy(low: int, high: int, *sources: str) -> Guide:
    return Guide(Bounds(low, high), sources, Status.POLICY)


#: Rest in seconds after a set. The sources differ (growth: NSCA 30–90 s, ACSM 2009 1–2 min, little difference beyond
#: 60–90 s in Singer et al. 2024), so these span them; ACSM 2009 gives exercises that assist 1–2 min.
RESTS = {
    _S: _policy(120, 300, "NSCA", "ACSM 2009"),
    _P: _policy(120, 300, "NSCA", "ACSM 2009"),
    _H: _policy(30, 180, "NSCA", "ACSM 2009", "Singer et al. 2024, Front Sports Act Living 6:1429789"),
    _E: _policy(0, 60, "NSCA", "ACSM 2009"),
}
_ASSISTING = _policy(60, 300, "NSCA", "ACSM 2009 (1–2 min where an exercise assists)")
#: Without a load to recover from (balance, core, band, chair, body weight), in a workout for strength or power: 30–90 s
#: is common practice, no source; up to 2 min is ACSM 2009's for what assists, up to 5 min for the body's large lifts.
_LIGHT = _policy(30, 120, "common practice, no source (30–90 s)", "ACSM 2009 (1–2 min where an exercise assists)")
_LIGHT_MAIN = _policy(30, 300, "common practice, no source (30–90 s)", "NSCA", "ACSM 2009")
#: What such work is taken to rest where nobody wrote it, and what assists.
_ASSUMED_LIGHT = _policy(30, 90, "common practice, no source")
_ASSUMED_ASSISTING = _policy(60, 120, "ACSM 2009 (1–2 min where an exercise assists)")
#: A loaded main lift for strength or power loses repetitions below this rest, in seconds: our policy, well under the
#: 2 min of NSCA and ACSM 2009.
SHORTEST_REST = 45
#: Foot contacts of a session of jumps, beginner to advanced: NSCA, Essentials of Strength Training and Conditioning,
#: from memory; one copy says per week.
CONTACTS = {Level.BEGINNER: Bounds(80, 100), Level.INTERMEDIATE: Bounds(100, 120), Level.ADVANCED: Bounds(120, 140)}
CONTACTS_SOURCE = "NSCA, Essentials of Strength Training and Conditioning (foot contacts of a session), from memory"
#: None to a minute inside a pair: Maia et al. 2014; two minutes after it are the best trade-off: Behenck et al. 2022.
_PAIR = _policy(0, 60, "Maia et al. 2014, J Strength Cond Res 28(9):2529–2535")
_AFTER_PAIR = _policy(60, 180, "Behenck et al. 2022, J Strength Cond Res 36(3):781–786")
#: 15–30 s between stations, 1–3 min after the round: teaching texts, from memory; 10 s in Klika & Jordan 2013.
_STATIONS = _policy(0, 30, "NSCA and ACSM teaching texts, from memory")
_AFTER_CIRCUIT = _policy(60, 180, "NSCA and ACSM teaching texts, from memory")
#: Pauses inside one set, in seconds.
CLUSTER_PAUSE = _policy(5, 45, "Tufano, Brown & Haff 2017, J Strength Cond Res 31(3):848–867")
REST_PAUSE = _policy(10, 30, "Prestes et al. 2019, J Strength Cond Res 33(S1):S113–S121, from memory")
DROP_PAUSE = _policy(0, 10, "Sødal et al. 2023, Sports Med Open 9:66")


def ranges(
    goal: Goal | None, level: Level | None, kind: BlockKind, *, main: bool = True, loaded: bool = True
) -> Ranges:
    """Return what is usual for a goal, a level (None: any) and a kind of block; nothing outside the work itself.

    `main` is false for exercises that assist: NSCA's and ACSM's repetitions and loads for strength and power are those
    of main lifts, and less rest will do. `loaded` is false where there is no weight to recover from: less again.
    """
    if not form_of(kind).asks_rest:
        return Ranges()
    after, within = _rests(goal, kind, main=main, loaded=loaded)
    heavy = goal in (_S, _P)
    if goal not in RESTS or (heavy and not main):
        return Ranges(rest=after, within=within)
    return Ranges(
        _widest(goal, level, "percent"),
        _widest(goal, level, "reps"),
        _widest(goal, level, "sets"),
        after,
        within,
    )


def heaviest(exercises: Collection[Exercise]) -> tuple[bool, bool]:
    """Return whether the heaviest of some exercises is a main lift, and whether it is loaded, as ranges asks."""
    loaded = tuple(one for one in exercises if is_loaded(one.match, one.prescription))
    return any(is_main_lift(one.match) for one in loaded or exercises), bool(loaded)


def assumed_rest(goal: Goal | None, kind: BlockKind, *, main: bool, loaded: bool) -> Guide | None:
    """Return the range a rest nobody wrote is drawn from, None where nothing is published; arguments as of ranges.

    It is what is usual, but for strength and power the shorter end of it unless a loaded main lift asks for more.
    """
    if goal in (_S, _P) and not loaded:
        return _ASSUMED_LIGHT
    if goal in (_S, _P) and not main and form_of(kind).in_sets:
        return _ASSUMED_ASSISTING
    return ranges(goal, None, kind, main=main, loaded=loaded).rest


def _rests(goal: Goal | None, kind: BlockKind, *, main: bool, loaded: bool) -> tuple[Guide | None, Guide | None]:
    """Return the rest after a set or a round, and the rest within a round."""
    usual = RESTS.get(goal) if goal else None
    if goal in (_S, _P) and not (main and loaded):
        usual = _ASSISTING if loaded else _LIGHT_MAIN if main else _LIGHT
    if form_of(kind).in_sets:
        return usual, None
    after, within = (_AFTER_CIRCUIT, _STATIONS) if form_of(kind).has_stations else (_AFTER_PAIR, _PAIR)
    if goal is Goal.MOBILITY:
        return None, within  # nothing is published on the rest after a round of mobility work
    return _hull([after, usual]) if usual else after, within


def _widest(goal: Goal, level: Level | None, figure: str) -> Guide | None:
    """Return the widest range of all rows for a goal and a level."""
    rows = [row for row in ROWS if row.goal is goal and (level is None or level in row.levels)]
    guides = [Guide(bounds, (row.source,), row.status) for row in rows for bounds in _bounds(row, figure)]
    return _hull(guides) if guides else None


def _bounds(row: Row, figure: str) -> Iterator[Bounds]:
    bounds = {"percent": row.percent, "reps": row.reps, "sets": row.sets}[figure]
    if bounds is not None:
        yield bounds


def _hull(guides: list[Guide]) -> Guide:
    """Return one guide that holds them all, with every source named once and the least sure status."""
    highs = [guide.bounds.high for guide in guides]
    known = [high for high in highs if high is not None]
    bounds = Bounds(min(guide.bounds.low for guide in guides), max(known) if len(known) == len(highs) else None)
    sources = tuple(dict.fromkeys(source for guide in guides for source in guide.sources))
    return Guide(bounds, sources, max((guide.status for guide in guides), key=list(Status).index))
