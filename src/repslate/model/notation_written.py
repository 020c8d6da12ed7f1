"""A prescription to its canonical form: the other direction of notation.py."""

from __future__ import annotations

from repslate.model.prescription import (
    WHOLE,
    Band,
    Bodyweight,
    BodyweightShare,
    Complex,
    Counted,
    Distance,
    Drops,
    Effort,
    EmptyBar,
    Exertion,
    Load,
    Maximum,
    MyoReps,
    OneRepMaxShare,
    Prescription,
    RepMaxShare,
    Reps,
    Reserve,
    Share,
    Tempo,
    Timed,
    TopSetShare,
    TrainingMaxShare,
    TwentyOnes,
    TwoLevels,
    Unsaid,
    Weight,
    WordedLoad,
    WordedShare,
    WorkingShare,
)
from repslate.model.quantity import Mass, write_metres, write_number, write_range, write_seconds


def write(p: Prescription) -> str:
    """Write the canonical form: every part in its order and its one spelling."""
    parts = (
        " ".join(filter(None, (_write_work(p), _write_more(p), _write_load(p.load)))),
        f"{write_seconds(p.hold)} hold each" if p.hold else "",
        "last set max" if p.open_last else "",
        _write_tempo(p.tempo),
        _write_effort(p.effort),
        _write_drops(p.drops),
        "rest-pause" if p.rest_pause else "",
        "cluster " + "+".join(map(str, p.cluster)) if p.cluster else "",
        f"rest {write_seconds(p.rest)}" if p.rest else "",
        "rest as needed" if p.rest_as_needed else "",
        *(f"“{words}”" for words in p.words),
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
        case Complex(parts):
            dose = f"({' + '.join(map(str, parts))})"
        case TwentyOnes():
            dose = "21s (7 + 7 + 7)"
        case MyoReps(first, minis, reps):
            dose = f"myo-reps {write_range(first)} + {write_range(minis)} × {write_range(reps)}"
    return f"{sets} × {dose}" if sets else dose


def _write_more(p: Prescription) -> str:
    """Write what belongs to the work and stands right behind it."""
    partials = write_range(p.partials) if p.partials else ""
    added = f"+ {partials} {'partial' if partials == '1' else 'partials'}" if partials else ""
    return f"{added} {'per side' if p.per_side else ''}".strip()


def _write_tempo(tempo: Tempo | None) -> str:
    """Write "3-1-1-0", "3-1-1" where the pause at the top is unsaid, "3 s down" where both pauses are."""
    if tempo is None:
        return ""
    down, bottom, up, top = tempo.phases
    if bottom is top is Unsaid.UNSAID and None not in (down, up):
        said = [f"{phase} s {way}" for phase, way in ((down, "down"), (up, "up")) if isinstance(phase, int)]
        if said:
            return f"tempo {' and '.join(said)}"
    shown = ["X" if phase is None else "?" if isinstance(phase, Unsaid) else str(phase) for phase in tempo.phases]
    is_three = top is Unsaid.UNSAID and "?" not in shown[:3]
    return f"tempo {'-'.join(shown[:3] if is_three else shown)}"


def _write_load(load: Load | None) -> str:
    match load:
        case Weight(mass, pieces):
            words = _of_pieces(pieces, _write_mass(mass))
        case TwoLevels(first, second, unit, pieces):
            words = _of_pieces(pieces, f"{write_number(first)} / {write_number(second)} {unit}")
        case Bodyweight(added):
            words = f"bodyweight + {_write_mass(added)}" if added else "bodyweight"
        case Band(kind):
            words = f"{kind} band".strip()
        case EmptyBar():
            words = "empty bar"
        case WordedLoad(words):
            pass
        case None:
            return ""
        case _:
            words = _write_share(load)
    return f"@ {words}"


def _write_share(load: Share) -> str:
    percent = write_range(load.percent, "%")
    match load:
        case OneRepMaxShare():
            return f"{percent} 1RM"
        case TrainingMaxShare():
            return f"{percent} TM"
        case RepMaxShare(reps):
            whole = f"{write_range(reps)}RM"
            return whole if load.percent == WHOLE else f"{percent} of {whole}"
    of = load.of if isinstance(load, WordedShare) else _SHARES[type(load)]
    return f"{percent} of {of}"


_SHARES = {WorkingShare: "working load", TopSetShare: "the top set", BodyweightShare: "bodyweight"}


def _of_pieces(pieces: int, load: str) -> str:
    return load if pieces == 1 else f"{pieces} × {load}"


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
    count = f"{drops.count} {'drop' if drops.count == 1 else 'drops'}"
    return f"{count} of {write_range(drops.percent, '%')}" if drops.percent else count
