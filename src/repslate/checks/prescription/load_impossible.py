"""Repetitions, effort and share of the maximum fit together, and each drop leaves a lighter load.

Why: whoever takes 12 repetitions at 90 % 1RM at its word ends under a bar that does not move, or cheats to move it.
Source: repetitions by share: NSCA handbook (4th ed., 2016) or, with "load table: chart" in series.yaml, NSCA's Training
    Load Chart; effort: Zourdos et al. 2016, JSCR 30(1):267–275. People differ widely (Nuzzo et al. 2024, Sports Med
    54(2):303–321), so up to 5 points from the table pass, and only more than 20 above it are an error: our choice,
    wider than the 16 points, by Epley 1985, of the 26 repetitions at 70 % that lifters managed (in Zourdos et al.
    2021, JSCR 35(S1):S158–S165). Clean, snatch and rack pulls are not judged: their share is of the whole lift, and
    more than all of it is usual (common practice, no source).
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 12 @ 90 % 1RM, rest 2 min
Right:
    ## Straight sets
    ### Goblet squat
    3 × 12 @ 67 % 1RM, rest 2 min
Fix: take the share or the repetitions that the finding proposes. Lowering work above 100 % 1RM is only warned of:
    quiet the check with your reason.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.model.prescription import Prescription, Reps, of_one_rep_max, write
from repslate.model.quantity import Range, write_number
from repslate.model.series import LoadTable
from repslate.source.finding import Finding, Severity
from repslate.training.repmax import SPREAD_SOURCE, TABLES, Refusal, reps_at, reserve_range, share_at

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

_LEEWAY, _FAR = 5, 20  # percentage points from the table

# Their share is of the whole lift, whose hardest part is left out: common practice, no source.
_PULLS = frozenset({"Clean pull", "High pull", "Rack pull"})

Said = tuple[Severity, str, str, str]  # of a finding: how bad, what was found and expected, how to fix, why


def find(facts: Facts) -> Iterator[Finding]:
    """Yield shares too heavy for their repetitions or too light for their effort, and drops that do not fall."""
    table = facts.episode.series.load_table
    for _, exercise in prescribed(facts):
        p = exercise.prescription
        shares = () if _is_pull(exercise) else _shares(p, table)
        for severity, said, help_, because in (*shares, *_drops(p)):
            message = f"{called(exercise)} has {said}"
            yield Finding("load-impossible", severity, place(exercise), message, help_, because)


def _is_pull(exercise: Exercise) -> bool:
    return exercise.match is not None and exercise.match.entry.name in _PULLS


def _drops(p: Prescription) -> Iterator[Said]:
    if p.drops and not p.drops.fall:
        message = (
            f"{write(Prescription(drops=p.drops))}, expected above 0 and below 100 %, so that each load is lighter"
        )
        help_ = "write the share of the load that comes off each time, such as: 2 drops of 20 %"
        yield SEVERITY, message, help_, "a drop is a lighter load done at once: Sødal et al. 2023, Sports Med Open 9:66"


def _shares(p: Prescription, table: LoadTable) -> Iterator[Said]:
    """Yield at most one thing to say of a share of the maximum; the tables speak of sets without a pause."""
    written = of_one_rep_max(p.load)
    if written is None or not isinstance(p.work, Reps) or p.rest_pause:
        return
    percent = Range(Fraction(written.low), Fraction(written.high))
    reserve = reserve_range(p.effort) if p.effort else Refusal.TOO_EASY
    left = Range(Fraction(0), Fraction(0)) if isinstance(reserve, Refusal) else reserve
    most, fewest = max(each.high for each in p.work.each), min(each.low for each in p.work.each)
    if p.cluster:
        most = fewest = max(p.cluster)
    pairs = ((percent.low, most), (percent.high, fewest))  # in a range, the most repetitions go with the least load
    heavy = [said for share, reps in pairs if (said := _too_heavy(p, share, reps, left.low, table))]
    if heavy:
        yield min(heavy, key=lambda said: said[0] is not Severity.ERROR)  # the worse one, else the first
    elif not isinstance(reserve, Refusal) and not p.cluster:
        yield from _too_light(p, percent.high, most, left.high, table)


def _too_heavy(p: Prescription, percent: Fraction, reps: int, left: Fraction, table: LoadTable) -> Said | None:
    usual = share_at(reps + left, table)
    if usual is Refusal.BELOW_ONE:
        return None  # no repetitions at all: figure-zero says so
    last = min(TABLES[table].rows.values())
    most = Fraction(last) if isinstance(usual, Refusal) else usual.value
    if percent <= most + _LEEWAY:
        return None
    about = f"less than {last} %" if isinstance(usual, Refusal) else f"about {int(most)} %"
    # Above the maximum only lowering is meant, of which the tables say nothing.
    severity = Severity.ERROR if most + _FAR < percent <= 100 else Severity.WARNING
    able = reps_at(percent, table)
    fewer = 0 if isinstance(able, Refusal) else int(able.value - left)
    instead = f", or about {_reps(fewer)} at {write_number(percent)} %" if fewer >= 1 else ""
    message = f"{_words(p, reps, percent)}, expected {about} by the {TABLES[table].name}"
    return severity, message, f"write {about} 1RM{instead}", _because(table)


def _too_light(p: Prescription, percent: Fraction, reps: int, left: Fraction, table: LoadTable) -> Iterator[Said]:
    usual = share_at(reps + left, table)
    if isinstance(usual, Refusal) or percent >= usual.value - _LEEWAY:
        return
    about = f"about {int(usual.value)} %"
    message = f"{_words(p, reps, percent)}, expected {about} by the {TABLES[table].name}"
    help_ = f"write {about} 1RM, or an effort that leaves more in reserve"
    yield Severity.WARNING, message, help_, _because(table)


def _words(p: Prescription, reps: int, percent: Fraction) -> str:
    effort = f", {write(Prescription(effort=p.effort))}" if p.effort else ""
    return f"{_reps(reps)} at {write_number(percent)} % 1RM{effort}"


def _reps(reps: int) -> str:
    return f"{reps} rep" if reps == 1 else f"{reps} reps"


def _because(table: LoadTable) -> str:
    return f"{TABLES[table].source}; {SPREAD_SOURCE}"
