"""What the written plan, or the kind of exercise, decides of a figure where words leave it open.

It never changes what words name plainly: just where the talk differs from the plan it has to be heard as it was
said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from repslate.speech.figures import Figure
from repslate.speech.plan import Part, Subject, Written

_MOST_SETS = 12  # more in a row are repetitions (our choice)
_LEAST = 5  # a bare number below is too common to be told by the plan alone (our choice)
_BARE = ("reps", "seconds", "rest_s", "metres")
_WORK = ("reps", "seconds", "metres")
_LOADS = frozenset({"kg", "lb"})
#: What the words of an unsure figure may mean besides, the likelier first.
_MISTAKEN: dict[str, tuple[str, ...]] = {
    "seconds": ("rest_s",),
    "rest_s": ("seconds",),
    "reps": ("seconds", "metres", "sets", "rounds", "rir", "rpe", "kg", "lb"),
    "rounds": ("sets", "reps"),
    "sets": ("rounds",),
    "kg": ("seconds",),
    "lb": ("seconds",),
}


def is_shared(field: str, part: Part) -> bool:
    """Tell whether a figure is about the whole block: rounds always, rests where the exercises are done together."""
    if field != "rest_s":
        return field == "rounds"
    if part.written:
        return any(one.field in ("rest_s", "rounds") for one in part.written)
    return len(part.subjects) > 1 and not part.form.in_sets


def settle(figure: Figure, part: Part | None, subject: Subject | None) -> Figure | None:
    """Return the figure with the field that the plan or the kind of exercise decides, None where it is no figure.

    Only what the words leave open is settled: a time that may be work or rest, a count that may be sets.
    """
    if part is None:
        return figure if figure.sure and figure.field else None
    written = _written(part, subject)
    if not figure.field:
        return _by_plan(figure, written)
    work = _work(subject, written)
    if _is_no_figure(figure, work, written):
        return None
    if figure.sure and figure.field not in ("reps", "rounds"):
        return figure
    if figure.field == "reps" and work == "metres" and not _has("reps", written) and figure.high <= _MOST_SETS:
        return replace(figure, field="sets" if _has("sets", written) else "rounds")
    return figure if figure.sure else _likeliest(figure, work, written)


def _likeliest(figure: Figure, work: str, written: Sequence[Written]) -> Figure | None:
    """Return an unsure figure as what the plan has of it: itself, else what its words may mean besides."""
    own = [one for one in written if one.field == figure.field]
    if any(_meets(figure, one) for one in own):
        return figure
    if figure.field == "seconds" and any(_is_like(figure, one) for one in own):
        return figure
    for field in _MISTAKEN.get(figure.field, ()):
        if any(one.field == field and _meets(figure, one) for one in written):
            return replace(figure, field=field)
    return None if figure.field == "seconds" and work != "seconds" else figure


def _is_no_figure(figure: Figure, work: str, written: Sequence[Written]) -> bool:
    """Tell how strong a stretch feels from effort, and what things weigh from loads: the plan has no such figure."""
    if figure.field == "rpe":
        return work == "seconds" and not _has("rpe", written)
    if figure.field in _LOADS and not figure.sure:
        return not any(one.field in _LOADS or one.field == "seconds" for one in written)
    return False


def _written(part: Part, subject: Subject | None) -> tuple[Written, ...]:
    """Return the plan's figures of an exercise and its block; of a block alone those that all its exercises share."""
    if subject is not None:
        return (*subject.written, *part.written)
    shared = [one for one in part.subjects[0].written if all(one in other.written for other in part.subjects)]
    return (*shared, *part.written)


def _work(subject: Subject | None, written: Sequence[Written]) -> str:
    """Return how the work is counted: as the plan has it, else as such exercises usually are."""
    usual = subject.entry.unit if subject and subject.entry else ""
    return next((field for field in _WORK if _has(field, written)), usual)


def _by_plan(figure: Figure, written: Sequence[Written]) -> Figure | None:
    """Return a bare number as the one figure of the plan that it is exactly, None where it is none or too small."""
    same = [one.field for one in written if one.field in _BARE and (one.low, one.high) == (figure.low, figure.high)]
    return replace(figure, field=same[0]) if len(same) == 1 and figure.high >= _LEAST else None


def _has(field: str, written: Sequence[Written]) -> bool:
    return any(one.field == field for one in written)


def _is_like(figure: Figure, written: Written) -> bool:
    """Tell whether two figures are of a size: each end less than double the other's."""
    return figure.low < 2 * written.high and written.low < 2 * figure.high


def _meets(figure: Figure, written: Written) -> bool:
    return figure.low <= written.high and written.low <= figure.high
