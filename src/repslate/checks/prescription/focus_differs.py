"""The focus names what the workout trains: every muscle in it is worked directly, and none that gets most is left out.

Why: people choose a workout by its focus; one that only helps their biceps along is not the biceps workout they wanted.
Source: sets in which a muscle only helps count by half: Pelland et al. 2024 (SportRxiv preprint). Which muscle is
    worked directly is the library's word. That more than half of all working sets is "most" is our choice.
Wrong:
    ---
    format: 1
    title: Arm day
    focus: [biceps]
    ---
    ## Straight sets
    ### Seated cable row
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Arm day
    focus: [biceps, lats]
    ---
    ## Straight sets
    ### Seated cable row
    3 × 10, rest 90 s
    ### Biceps curl
    3 × 10, rest 60 s
Fix: add an exercise for the muscle, or name in the focus what is trained. Words for a region (core, legs) or for
    something else (balance) are taken as they are.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from fractions import Fraction

from repslate.facts import Facts
from repslate.model.episode import Words
from repslate.model.library import Library
from repslate.model.quantity import Range, write_range
from repslate.source.finding import Finding, Severity
from repslate.training.volume import MuscleSets, Reason, trained_by, volume, why_not, working_sets

SEVERITY = Severity.WARNING
MILDER = (Severity.NOTE,)

_BECAUSE = "sets in which a muscle only helps count by half: Pelland et al. 2024"
_NEAREST = 3  # muscles that a message names at most


def find(facts: Facts) -> Iterator[Finding]:
    """Yield words of the focus that nothing trains directly, else muscles that get most and are not in it.

    Says nothing where an exercise trains nobody knows what; stretches and rounds without a number do train.
    """
    library = facts.library
    reasons = [(one, why_not(block, one, library)) for block, one in facts.episode.exercises()]
    working = [(one, reason) for one, reason in reasons if reason is not Reason.AROUND]
    if not working or any(reason is Reason.MUSCLES_UNKNOWN for _, reason in working):
        return
    trained = {muscle for exercise, _ in working for muscle in trained_by(exercise, library).direct}
    rows = volume(facts.episode, library)
    meanings = ((word, library.muscle(word.text)) for word in facts.episode.focus)
    untrained = [(word, one) for word, one in meanings if _is_one(one) and not _among(one, trained, library)]
    for word, meant in untrained:
        yield _untrained(word, meant, rows, library)
    if not untrained and all(reason in {None, Reason.NO_RESISTANCE} for _, reason in working):
        yield from _unnamed(facts, rows)


def _untrained(word: Words, meant: tuple[str, ...], rows: tuple[MuscleSets, ...], library: Library) -> Finding:
    lines = [line for row in rows for line in (row, *row.parts) if not line.direct.high]
    helping = next((line for line in lines if _among([line.muscle], meant, library)), None)
    by_half = f"; it helps along, which counts as {_sets(helping.half_counted)}" if helping else ""
    near = ", ".join(f"{row.shown} {_sets(row.direct)}" for row in _near(meant, rows, library))
    nearest = f"; nearest to it: {near}" if near else ""
    return Finding(
        "focus-differs",
        SEVERITY,
        word.span,
        f"“{word.text}” is in the focus, expected a working set that trains it directly, found none{by_half}{nearest}",
        "add an exercise for it, or name in the focus what the workout trains",
        _BECAUSE,
    )


def _unnamed(facts: Facts, rows: tuple[MuscleSets, ...]) -> Iterator[Finding]:
    """Yield one note on the muscles that more than half of the sets train and that get more than any that is named."""
    episode, library = facts.episode, facts.library
    named = [muscle for word in episode.focus for muscle in library.muscle(word.text)]
    if not named:
        return
    sets = working_sets(episode, library)
    most = max((row.direct.high for row in rows if _among([row.muscle], named, library)), default=Fraction(0))
    above = [row for row in rows if row.direct.low * 2 > sets.high and row.direct.low > most]
    if not above:
        return
    focus = ", ".join([*(word.text for word in episode.focus), *(row.shown for row in above)])
    yield Finding(
        "focus-differs",
        Severity.NOTE,
        episode.focus[0].span,
        f"most of the work goes to {' and '.join(row.shown for row in above)}, with {write_range(above[0].direct)} of "
        f"{write_range(sets)} sets, expected the focus to name what gets most",
        f"type “focus: [{focus}]”",
        _BECAUSE,
    )


def _is_one(meant: tuple[str, ...]) -> bool:
    """Tell whether a word of the focus means one muscle: the glutes are three of one name, but core is a region."""
    return len({muscle.split()[0] for muscle in meant}) == 1


def _among(some: Iterable[str], others: Collection[str], library: Library) -> bool:
    """Tell whether any of the muscles is one of the others, a part of one, or what one is a part of."""
    return any(one in _line(other, library) or other in _line(one, library) for one in some for other in others)


def _line(muscle: str, library: Library) -> tuple[str, ...]:
    """Return the muscle and everything that it is a part of."""
    whole = library.muscles[muscle].whole
    return (muscle, *_line(whole, library)) if whole else (muscle,)


def _near(meant: tuple[str, ...], rows: tuple[MuscleSets, ...], library: Library) -> tuple[MuscleSets, ...]:
    """Return what is trained directly in the smallest region that holds the muscles, else in the whole workout."""
    direct = sorted((row for row in rows if row.direct.high), key=lambda row: -row.direct.high)
    for region in sorted(library.groups.values(), key=len):
        found = [row for row in direct if _among(meant, region, library) and _among([row.muscle], region, library)]
        if found:
            return tuple(found[:_NEAREST])
    return tuple(direct[:_NEAREST])


def _sets(count: Range[Fraction]) -> str:
    return f"{write_range(count)} {'set' if count.high == 1 else 'sets'}"
