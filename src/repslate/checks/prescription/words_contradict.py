"""What the text says in figures agrees with the prescription.

Why: "do fifteen" in the text under 10–12 reps leaves two orders on one page, and the presenter gets the letters.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10–12, rest 90 s

    Sit down between your heels. Do 15 reps and rest a minute.
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10–12, rest 90 s

    Sit down between your heels. Two hands on the bell, toes out 30 degrees, first 5 reps slow. Do 12 reps.
Fix: correct the text, or leave the figure out of it: the prescription says it already. Only plain forms are read (do
    12, 3 sets of 12, three sets, 4 rounds, rest a minute, hold 30 seconds, use a 24 kg kettlebell); easier, harder and
    caution lines may differ. Another load is only a warning.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, repetitions, unread
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Prose, Words
from repslate.model.names import KIT
from repslate.model.prescription import Bodyweight, Complex, MyoReps, Prescription, Timed, TwentyOnes, Weight, write
from repslate.model.prose_figures import Said, said_in
from repslate.model.quantity import Range, write_range, write_seconds
from repslate.model.sets import done, sets_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

Ranges = list[Range[Fraction]]
_LESS = Fraction(19, 20)  # of the load, before and after what is said of it is taken roughly
_LOADS = frozenset({"load", "drop", "drop each"})
#: What may as well be said of something else; a warning.
_MILDLY = frozenset({"load", "drop", "drop each", "time", "times", "counted", "total", "down", "up", "clock"})
_FEWEST = 3  # of a noun; "two rows" may be of anything
_SHORTEST = 10  # seconds; a shorter time in the text of a hold is one within it
_SHORTEST_NOUN = 2  # letters; shorter words of a name name nothing
_INTERVALS = frozenset({"sprint", "interval", "bout", "effort"})


def find(facts: Facts) -> Iterator[Finding]:
    """Yield figures in an exercise's text, cues and picture descriptions, and in a block's text, that contradict."""
    for block, exercise in facts.episode.exercises():
        if unread(exercise) or any(line.prescription.words for line in exercise.lines):
            continue  # the text may speak of what stands there in words
        written = {
            what: [r for line in (exercise, *exercise.lines) for r in _written(what, block, line)]
            for what in ("reps", "sets", "rest", "hold")
        }
        written["rounds"] = written["sets"]
        written["load"] = [r for line in exercise.lines for r in _loads(line.prescription)]
        written |= _more(block, exercise, written)
        shown = (Words(picture.description, picture.span) for picture in exercise.pictures)
        texts: list[Prose | Words] = [*exercise.prose, *exercise.cues, *shown]
        for text in texts:
            yield from _compare(text, written, called(exercise), write(Prescription(load=exercise.prescription.load)))
    for block in facts.episode.blocks:
        if block.in_words or any(line.prescription.words for one in block.exercises for line in one.lines):
            continue
        together: dict[str, Ranges] = {
            what: [r for one in block.exercises for line in (one, *one.lines) for r in _written(what, block, line)]
            for what in ("reps", "sets", "rest", "hold")
        }
        together["rounds"] = together["sets"]
        together["load"] = []  # a block's text may speak of any of its exercises
        together["clock"] = _clock(block)
        for prose in block.prose:
            yield from _compare(prose, together, called(block))


def _compare(text: Prose | Words, written: dict[str, Ranges], name: str, load: str = "") -> Iterator[Finding]:
    source = text.markdown if isinstance(text, Prose) else text.text
    for said in said_in(source, text.span):
        if said.noun and not _names(said.noun, name):
            continue
        is_bout = any(word.rstrip("s") in _INTERVALS for word in said.noun.casefold().split())
        allowed = written.get("intervals" if is_bout else said.what, [])
        if not allowed or any(r.low <= said.low and said.high <= r.high for r in allowed):
            continue
        yield Finding(
            "words-contradict",
            Severity.WARNING if said.what in _MILDLY else SEVERITY,
            said.span,
            f"the text says “{said.words}” where {name} has {load if said.what in _LOADS else _worded(said, allowed)}, "
            "expected the same figure",
            "correct the text, or leave the figure out of it: the prescription says it already",
        )


def _more(block: Block, exercise: Exercise, written: dict[str, Ranges]) -> dict[str, Ranges]:
    """Return what the text may say in other words: a count of what the exercise is called, a time, a tempo, a drop."""
    said = done(block, exercise)
    often = block.interval.times if block.interval else None
    intervals = [Range(Fraction(often), Fraction(often))] if often is not None else []
    times = said.work.seconds if isinstance(said.work, Timed) else None
    all_reps = repetitions(block, exercise)
    found: dict[str, Ranges] = {
        "counted": [] if block.interval else written["reps"],
        "intervals": intervals,
        "times": [*written["reps"], *written["sets"]] if written["reps"] else [],
        "sided": [*written["reps"], Range(all_reps.low / 2, all_reps.high / 2)] if written["reps"] else [],
        "total": [all_reps] if all_reps.high and not block.is_open else [],
        "time": [times, *written["rest"], *written["hold"], *_clock(block)] if times and _is_long(times) else [],
        "clock": _clock(block),
    }
    if loads := written["load"]:
        found["drop"] = [Range(Fraction(0), max(r.high for r in loads) * _LESS)]
        found["drop each"] = [Range(Fraction(0), min(r.high for r in loads) * _LESS)]
    if said.tempo is not None:
        for way, phase in (("down", said.tempo.phases[0]), ("up", said.tempo.phases[2])):
            found[way] = [Range(Fraction(phase), Fraction(phase))] if isinstance(phase, int) else []
    return found


def _is_long(times: Range[Fraction] | None) -> bool:
    return times is not None and times.high >= _SHORTEST


def _clock(block: Block) -> Ranges:
    """Return the time of the clock, and that of a round."""
    on = block.interval.on if block.interval else None
    times = [one for one in (block.clock, block.turn_length, on) if one is not None]
    return [Range(one, one) for one in times]


def _names(noun: str, name: str) -> bool:
    """Tell whether words that are counted are what an exercise is called, or its intervals."""
    called_so = {word.rstrip("s") for word in name.casefold().split() if len(word) > _SHORTEST_NOUN and word not in KIT}
    return any(word.rstrip("s") in called_so | _INTERVALS for word in noun.casefold().split())


def _written(what: str, block: Block, exercise: Exercise) -> Ranges:
    """Return every range that the text may name for this kind of figure; empty where nothing is prescribed."""
    said = done(block, exercise)
    if what == "sets":
        sets = [r for r in (sets_of(block, exercise), block.rounds) if r is not None]
        return [Range(Fraction(r.low), Fraction(r.high)) for r in sets]
    if what == "reps":
        return _reps(said)
    if what == "hold":
        return [*([said.work.seconds] if isinstance(said.work, Timed) else []), *([said.hold] if said.hold else [])]
    if said.rest_pause or said.cluster or block.form.by_turns:
        return []  # here the text may speak of the short rests inside a set
    off = Range(block.interval.off, block.interval.off) if block.interval else None
    return [r for r in (said.rest, block.rest, off) if r is not None]


def _reps(said: Prescription) -> Ranges:
    """Return the repetitions of one set: one side, both sides together, each part and the whole of a cluster."""
    if said.open_last or isinstance(said.work, Complex | TwentyOnes | MyoReps):
        return []  # the text may speak of the last set, or of a part
    counts = list(said.reps)
    counts += [said.partials] if said.partials else []
    if counts:
        counts.append(Range(min(r.low for r in counts), max(r.high for r in counts)))
    if said.cluster:
        counts += [Range(part, part) for part in (*said.cluster, sum(said.cluster))]
    if said.per_side:
        counts += [Range(2 * r.low, 2 * r.high) for r in counts]
    return [Range(Fraction(r.low), Fraction(r.high)) for r in counts]


def _loads(said: Prescription) -> Ranges:
    """Return the load in kilograms: of one piece, and of all together; a twentieth beside it, for 16 kg is 35 lb."""
    masses: Ranges = []
    if isinstance(said.load, Weight):
        one = said.load.mass.in_unit("kg")
        masses = [Range(one.low * count, one.high * count) for count in {1, said.load.pieces}]
    elif isinstance(said.load, Bodyweight) and said.load.added is not None:
        masses = [said.load.added.in_unit("kg")]
    return [Range(mass.low * Fraction(19, 20), mass.high * Fraction(21, 20)) for mass in masses]


def _worded(said: Said, allowed: Ranges) -> str:
    """Return the prescribed figure as the trade writes it."""
    first = allowed[0]
    if said.what in ("rest", "hold"):
        return f"{said.what} {write_seconds(first)}"
    if said.what in ("time", "clock", "down", "up"):
        return f"{write_seconds(first)}{f' {said.what}' if said.what in ('down', 'up') else ''}"
    counted = {"counted": "reps", "times": "reps", "sided": "reps", "total": "reps in all"}
    return f"{write_range(first)} {counted.get(said.what, said.what)}"
