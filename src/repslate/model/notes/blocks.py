"""A block of typed exercises, and what only the whole block tells."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.dose import Dose, Figures, TypedExercise, exactly
from repslate.model.quantity import Range

#: Forms of a block that nothing says how to do.
PLAIN = ("", "straight")
#: Forms whose exercises are done in turn, by letters, so that their number names them.
TOGETHER = ("superset", "tri-set", "giant-set")


@dataclass(slots=True)
class TypedBlock:
    """A block as typed; times in seconds, `minutes` and `cap` in minutes. `form` is "" where only a title stands."""

    form: str = ""
    label: str = ""
    title: str = ""
    rounds: Figures | None = None
    outer_sets: Figures | None = None
    minutes: Figures | None = None
    work: Figures | None = None
    rest: Figures | None = None
    rest_between_rounds: Figures | None = None
    every: Decimal | None = None
    cap: Decimal | None = None
    scheme: tuple[Decimal, ...] = ()
    people: int | None = None
    alternating: bool = False
    inline: str = ""
    each: Dose = field(default_factory=Dose)
    exercises: list[TypedExercise] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    @property
    def says_figures(self) -> bool:
        """Whether it tells rounds, times or a scheme."""
        return any((self.rounds, self.minutes, self.work, self.every, self.cap, self.scheme, self.people))


def settle_block(block: TypedBlock) -> None:
    """Decide what only the whole block tells: work said for all, minutes, rounds, a scheme, a circuit."""
    shared = [_share(block.each, exercise.parts[0]) for exercise in block.exercises]
    if not any(shared):
        block.words += block.each.words
    _take_minutes(block)
    _take_load(block)
    _find_scheme(block)
    if block.form in PLAIN and len(block.exercises) > 1 and all(one.parts[0].breaths for one in block.exercises):
        block.form = "flow"
    if block.form == "circuit" and block.work and _lasts_whole_round(block):
        block.work = None  # "5 x 5 min" above five exercises of a minute: the round, not each of them
    if block.every and block.minutes and block.rounds is None and len(block.exercises) == 1:
        count = block.minutes.low * 60 / block.every
        block.rounds = exactly(count) if count == count.to_integral() else None
    if _is_circuit(block):
        block.form = "circuit"
    if block.form in TOGETHER and block.rounds is None:
        counts = {one.parts[0].sets for one in block.exercises}
        block.rounds = counts.pop() if len(counts) == 1 else None
    if block.form == "every-minute" and block.minutes is None and block.rounds and len(block.exercises) <= 1:
        every = block.every or Decimal(60)
        block.minutes = Range(block.rounds.low * every / 60, block.rounds.high * every / 60)


def _share(each: Dose, dose: Dose) -> bool:
    """Give an exercise the work that the heading says each has; tell whether it took any."""
    is_sided = (each.per_side and not dose.per_side) or (each.load is not None and dose.load is None)
    dose.per_side = dose.per_side or each.per_side
    dose.load = dose.load or each.load
    if each.has_work and not dose.has_work:
        dose.reps, dose.seconds, dose.breaths = each.reps, each.seconds, each.breaths
        return True
    return is_sided


def _take_minutes(block: TypedBlock) -> None:
    """Take a time without an exercise below "Warm-up" as that of the block."""
    only = block.exercises[0] if len(block.exercises) == 1 else None
    seconds = only.parts[0].seconds if only and not only.name else None
    if seconds and block.form in ("warm-up", "cool-down") and block.minutes is None:
        block.minutes = Range(seconds.low / 60, seconds.high / 60)


def _take_load(block: TypedBlock) -> None:
    """Give the load below a complex, which is done without setting it down, to all of it."""
    first = [one.parts[0] for one in block.exercises]
    if block.form == "complex" and len(first) > 1 and first[-1].load and not any(dose.load for dose in first[:-1]):
        for dose in first:
            dose.load = first[-1].load


def _lasts_whole_round(block: TypedBlock) -> bool:
    times = [one.parts[0].seconds for one in block.exercises]
    known = [time for time in times if time is not None]
    whole = block.work.low if block.work else None
    return len(known) == len(times) and sum(time.low for time in known) == whole


def _is_circuit(block: TypedBlock) -> bool:
    """Tell whether a list without title, letters, sets and loads says that its exercises are done in turn."""
    if block.form != "straight" or block.title or len(block.exercises) < 2:
        return False
    doses = [one.parts[0] for one in block.exercises]
    are_bare = all(dose.has_work and dose.sets is None and not dose.load for dose in doses)
    return are_bare and not any(one.label for one in block.exercises)


def _find_scheme(block: TypedBlock) -> None:
    """Find the scheme where the same exercises come again and again with other repetitions: 50 …, 35 …, 20 …."""
    if block.scheme or block.form not in ("for-time", "straight", "circuit", "chipper"):
        return
    names = [one.name.casefold().rstrip("s") for one in block.exercises]
    cycle = next((at for at in range(1, len(names)) if names[at] == names[0]), 0)
    if not cycle or len(names) % cycle or any(name != names[at % cycle] for at, name in enumerate(names)):
        return
    reps = [one.parts[0].reps for one in block.exercises[::cycle]]
    if len(reps) > 2 and all(len(one) == 1 and one[0].low == one[0].high for one in reps):
        block.scheme = tuple(one[0].low for one in reps)
        block.form = "ladder" if block.form in ("straight", "circuit") else block.form
