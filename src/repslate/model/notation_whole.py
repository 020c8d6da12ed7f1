"""What the parts of a line cannot say together, and what two of them leave in doubt. One family of notation.py."""

from __future__ import annotations

from dataclasses import replace

from repslate.model.notation_slips import rounds_by_time
from repslate.model.prescription import Counted, Prescription, Reps, Tally, TwoLevels, write
from repslate.model.quantity import Range, write_number, write_range
from repslate.model.tokens import Place, Reader

_TWO = Range(2, 2)


def find_contradictions(r: Reader, given: Prescription, line: Place) -> None:
    """Add an error for each contradiction and each doubt of a whole line, which stands at `line`."""
    if given.rest and given.rest_as_needed:
        message = "the rest stands twice in this line, as a time and as needed; expected once"
        r.error("notation-twice", line, message, "keep one of the two")
    if given.hold and not given.is_in_reps:
        message = "found a hold of each repetition, expected repetitions to hold"
        r.error("notation-contradiction", line, message, "write the reps first, as in “3 × 10, 5 s hold each”")
    _find_levels(r, given, line)
    if isinstance(given.work, Reps | Counted):
        _compare_sets(r, given, given.work, line)
        _compare_cluster(r, given, line)


def _find_levels(r: Reader, given: Prescription, line: Place) -> None:
    """Ask of two figures with a slash whether they are of two sets or of two levels, where both can be."""
    if isinstance(given.load, TwoLevels) and (given.sets == _TWO or len(given.each) == 2):
        both = f"{write_number(given.load.first)} and {write_number(given.load.second)} {given.load.unit}"
        message = f"found {both} in two sets, expected to know whether they are two levels"
        fix = "write each set as an exercise of its own if they are the loads of the two sets, else how many sets apart"
        r.error("notation-unclear", line, message, fix)
    if isinstance(given.work, Counted) and given.work.of is Tally.CALORIES and len(given.each) == 2 and not given.sets:
        message = f"“{write(Prescription(work=given.work))}” may be of two sets or of two levels, expected one of them"
        twice = write(replace(given, sets=_TWO))
        r.error(
            "notation-unclear",
            line,
            message,
            f"write “{twice}” for two sets, or the second level on a line of its own",
        )


def _compare_sets(r: Reader, given: Prescription, work: Reps | Counted, line: Place) -> None:
    each, count = work.each, len(work.each)
    per_side = ""
    if count == 2 and each[0] == each[1]:
        sided = write(replace(given, work=replace(work, each=each[:1]), per_side=True))
        per_side = f"write “{sided}” if it is {write_range(each[0])} for each side"
    if count > 1 and given.sets is not None and given.sets != Range(count, count):
        sets = write_range(given.sets)
        message = f"found {sets} sets and reps for {count}, expected reps for each set"
        usual = f"write reps for each of the {sets} sets, or leave the number of sets out"
        r.error("notation-contradiction", line, message, per_side or rounds_by_time(given, sets) or usual)
    elif per_side and not given.per_side:
        reps = write_range(each[0])
        r.note("notation-assumed", line, f"{reps}/{reps} is read as two sets of {reps}", per_side)


def _compare_cluster(r: Reader, given: Prescription, line: Place) -> None:
    total = sum(given.cluster)
    if given.cluster and not all(reps.low <= total <= reps.high for reps in given.each):
        message = f"the parts of the cluster make {total} reps, expected the reps of the set"
        fix = f"write {total} for the reps, or parts that make as many as stand there"
        r.error("notation-contradiction", line, message, fix)
