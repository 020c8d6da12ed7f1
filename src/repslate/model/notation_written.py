"""A prescription to its canonical form: the other direction of notation.py."""

from __future__ import annotations

from repslate.model.prescription import (
    Band,
    Bodyweight,
    Counted,
    Distance,
    Drops,
    Effort,
    Exertion,
    Load,
    Maximum,
    OneRepMaxShare,
    Prescription,
    Reps,
    Reserve,
    Timed,
    Weight,
    WorkingShare,
)
from repslate.model.quantity import Mass, write_metres, write_range, write_seconds


def write(p: Prescription) -> str:
    """Write the canonical form: every part in its order and its one spelling."""
    parts = (
        " ".join(filter(None, (_write_work(p), "per side" if p.per_side else "", _write_load(p.load)))),
        "tempo " + "-".join("X" if phase is None else str(phase) for phase in p.tempo.phases) if p.tempo else "",
        _write_effort(p.effort),
        _write_drops(p.drops),
        "rest-pause" if p.rest_pause else "",
        "cluster " + "+".join(map(str, p.cluster)) if p.cluster else "",
        f"rest {write_seconds(p.rest)}" if p.rest else "",
    )
    return ", ".join(filter(None, parts))


def _write_work(p: Prescription) -> str:
    sets = write_range(p.sets) if p.sets else ""
    if p.work is None:
        return sets and f"{sets} {'set' if sets == '1' else 'sets'}"
    match p.work:
        case Reps(each):
            dose = "/".join(write_range(reps) for reps in each)
            if not sets and len(each) == 1:
                dose += " rep" if dose == "1" else " reps"
        case Counted(each, of):
            dose = "/".join(write_range(count) for count in each)
            dose += f" {of.removesuffix('s') if dose == '1' else of}"
        case Timed(seconds):
            dose = write_seconds(seconds)
        case Distance(metres):
            dose = write_metres(metres)
        case Maximum():
            dose = "max"
    return f"{sets} × {dose}" if sets else dose


def _write_load(load: Load | None) -> str:
    match load:
        case OneRepMaxShare(percent):
            return f"@ {write_range(percent, '%')} 1RM"
        case WorkingShare(percent):
            return f"@ {write_range(percent, '%')} of working load"
        case Weight(mass, pieces):
            return f"@ {_write_mass(mass)}" if pieces == 1 else f"@ {pieces} × {_write_mass(mass)}"
        case Bodyweight(added):
            return f"@ bodyweight + {_write_mass(added)}" if added else "@ bodyweight"
        case Band():
            return "@ band"
        case None:
            return ""


def _write_mass(mass: Mass) -> str:
    return write_range(mass.amount, mass.unit)


def _write_effort(effort: Effort | None) -> str:
    match effort:
        case Exertion(rating):
            return f"RPE {write_range(rating)}"
        case Reserve(reps):
            return f"leave {write_range(reps)} in reserve"
        case None:
            return ""


def _write_drops(drops: Drops | None) -> str:
    if drops is None:
        return ""
    return f"{drops.count} {'drop' if drops.count == 1 else 'drops'} of {write_range(drops.percent, '%')}"
