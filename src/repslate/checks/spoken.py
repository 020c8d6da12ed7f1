"""What is said on camera beside what is written: the figures that do not meet, the exercises that are missing.

Like is compared with like only, and a figure differs only where its range shares nothing with any written one: a missed
slip costs less than a false alarm about a film that is finished.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from repslate.model.episode import Block, Episode, Exercise
from repslate.model.library import Entry
from repslate.model.names import words
from repslate.model.prescription import Prescription, Weight, write
from repslate.model.quantity import Range, write_range, write_seconds
from repslate.model.sets import sets_of

if TYPE_CHECKING:
    from repslate.speech.heard import Heard, HeardFigure
    from repslate.speech.plan import Part, Subject, Topic, Written

Ranges = list[Range[Fraction]]
_SURE = Fraction(1, 2)  # a figure that is more likely none is left alone (our choice)
_DOSES = frozenset({"reps", "seconds", "metres"})
_COUNTS = frozenset({"sets", "rounds"})  # of one exercise both say how often
_ROUNDED = Range(Fraction(19, 20), Fraction(21, 20))  # 16 kg is called 35 lb
_WORDS = {
    "rpe": "RPE {}",
    "rir": "{} in reserve",
    "percent_1rm": "{} % 1RM",
    "percent_working": "{} % of working load",
    "kg": "{} kg",
    "lb": "{} lb",
    "metres": "{} m",
    "tempo_s": "{} s of a repetition",
    "drop_sets": "{} drops",
}


@dataclass(frozen=True, slots=True)
class Difference:
    """A figure as heard that meets no written one.

    `exercise` is whose figure it is, None where the block's heading gives it to several. `written` is how the page
    words it, `in_heading` whether it stands in the block's heading.
    """

    heard: HeardFigure
    block: Block
    exercise: Exercise | None
    written: str
    in_heading: bool


@dataclass(frozen=True, slots=True)
class _Place:
    """A figure of the page and whose it is; `words` are its own where the figure alone would not do."""

    figure: Range[Fraction]
    block: Block
    exercise: Exercise | None
    in_heading: bool
    words: str = ""


@dataclass(frozen=True, slots=True)
class _Written:
    """The ranges that may be said of a kind of figure, and where they are written, the likeliest place first."""

    ranges: Ranges
    places: list[_Place]


def differences(figures: Sequence[HeardFigure], episode: Episode) -> Iterator[Difference]:
    """Yield what differs, once for each exercise (or block) and kind of figure.

    A written figure that is said right somewhere is right in the viewer's ears too: then a differing one counts only if
    it was heard more surely. Of several that differ the surest is told, of equally sure ones the last.
    """
    from repslate.speech.plan import plan_of

    plan = plan_of(episode)
    said = [(one, _written(one, episode, plan)) for one in figures if one.confidence >= _SURE and not _is_single(one)]
    differ: dict[tuple[int, str, str], list[tuple[HeardFigure, _Place]]] = {}
    for heard, written in said:
        if written is None or not written.ranges or _meets(heard, written.ranges):
            continue
        places = [each for each in written.places if not any(_says(one, other, heard, each) for one, other in said)]
        if places:
            owner = places[0].exercise.id if places[0].exercise else ""
            differ.setdefault((places[0].block.span.line, owner, heard.field), []).append((heard, places[0]))
    for group in differ.values():
        heard, place = max(group, key=lambda one: (one[0].confidence, one[0].time))
        field = "rounds" if heard.field == "sets" and place.in_heading else heard.field
        yield Difference(
            heard, place.block, place.exercise, place.words or worded(field, place.figure), place.in_heading
        )


def _meets(heard: HeardFigure, ranges: Ranges) -> bool:
    return any(each.meets(Range(heard.low, heard.high)) for each in ranges)


def _is_single(heard: HeardFigure) -> bool:
    """Tell whether it is "once more" or "one set": a single one is seldom a prescription."""
    return heard.field in _COUNTS and heard.high <= 1


def _says(one: HeardFigure, written: _Written | None, differing: HeardFigure, place: _Place) -> bool:
    """Tell whether `one` says the written figure that `differing` may have been about, no less surely."""
    about = one.exercise is None or differing.exercise is None or one.exercise.id == differing.exercise.id
    return (
        written is not None
        and about
        and one.part == differing.part
        and (one.field == differing.field or {one.field, differing.field} == _COUNTS)
        and one.confidence >= differing.confidence
        and _meets(one, [place.figure])
    )


def worded(field: str, figure: Range[Fraction]) -> str:
    """Return a figure in the words of the page: "10–12 reps", "rest 60 s", "RPE 8"."""
    if field in {"rest_s", "seconds"}:
        return f"{'rest ' if field == 'rest_s' else ''}{write_seconds(figure)}"
    if figure.low == figure.high == 1 and field in {"reps", "sets", "rounds"}:
        return f"1 {field.removesuffix('s')}"
    return _WORDS.get(field, f"{{}} {field}").format(write_range(figure))


def _written(heard: HeardFigure, episode: Episode, plan: Sequence[Part]) -> _Written | None:
    """Return what the page says where the figure belongs; None where it belongs nowhere."""
    every = [
        (block, exercise, part, subject)
        for block, part in zip(episode.blocks, plan, strict=True)
        for exercise, subject in zip(block.exercises, part.subjects, strict=True)
    ]
    if heard.exercise is not None:
        own = next((one for one in every if one[1].id == heard.exercise.id), None)
        if own is None:
            return None
        written = _of_exercise(heard, *own)
        same = [one for one in every if one[1].movement == own[1].movement and one is not own]
        more = [r for one in same for r in _of_exercise(heard, *one).ranges] if written.ranges else []
        return _Written(written.ranges + more, written.places)
    if heard.part is None or not episode.blocks:
        return None
    block = episode.blocks[heard.part]
    each = [_of_exercise(heard, *one) for one in every if one[0] is block]
    if len(each) == 1:
        return each[0]
    places = [replace(place, exercise=None, in_heading=True) for one in each for place in one.places]
    return _Written([r for one in each for r in one.ranges], places)


def _of_exercise(heard: HeardFigure, block: Block, exercise: Exercise, part: Part, subject: Subject) -> _Written:
    """Return what is written for one exercise: its own figures, and those that its block gives it."""
    said = exercise.prescription
    fields = _COUNTS if heard.field in _COUNTS else {heard.field}
    own, shared = _ranges(subject.written, fields), _ranges(part.written, fields)
    if heard.field in _COUNTS and not own and (sets := sets_of(block, exercise)) and not shared:
        own = [Range(Fraction(sets.low), Fraction(sets.high))]  # "12/10/8" are three sets
    if any(line.prescription.words for line in exercise.lines):
        return _Written([], [])  # the talk may be of what stands there in words
    if (said.rest_pause or said.cluster) and heard.field in {"rest_s", "reps"}:
        return _Written([], [])  # the talk may be of the parts of a set and the short rests in it
    alone = exercise if len(block.exercises) == 1 else None
    shown = _in_line(heard, said)
    places = [_Place(r, block, exercise, in_heading=False, words=shown) for r in own]
    heading = [_Place(r, block, alone, in_heading=True) for r in shared]
    places = places + heading if heard.exercise else heading + places
    return _Written([*_allowed(heard, said, [place.figure for place in places])], places)


def _ranges(written: Sequence[Written], fields: Collection[str]) -> Ranges:
    return [Range(one.low, one.high) for one in written if one.field in fields]


def _in_line(heard: HeardFigure, said: Prescription) -> str:
    """Return the page's own words where the figure alone would not do."""
    if heard.field == "tempo_s":
        return write(Prescription(tempo=said.tempo))
    return write(Prescription(load=said.load)).removeprefix("@ ") if heard.field in {"kg", "lb"} else ""


def _allowed(heard: HeardFigure, said: Prescription, ranges: Ranges) -> Iterator[Range[Fraction]]:
    """Yield what may be said of written ranges: one side or both, one bell or both, kilograms rounded to pounds."""
    yield from ranges
    if heard.field in {"reps", "seconds", "metres"} and heard.per_side != said.per_side:
        factor = Fraction(2) if said.per_side else Fraction(1, 2)
        yield from (Range(each.low * factor, each.high * factor) for each in ranges)
    if heard.field in {"kg", "lb"}:
        pieces = {1, said.load.pieces} if isinstance(said.load, Weight) else {1}
        yield from (
            Range(each.low * count * _ROUNDED.low, each.high * count * _ROUNDED.high)
            for each in ranges
            for count in pieces
        )
    if heard.field == "tempo_s" and said.tempo and None in said.tempo.phases:
        yield Range(Fraction(0), Fraction(1))  # as fast as possible


# ---- exercises


def topic_at(heard: Heard, word: int, episode: Episode) -> tuple[Block | None, Exercise | None]:
    """Return the block and the exercise that are spoken of at a word, None where the talk is of neither."""
    at = bisect_right(heard.topics, word, key=lambda topic: topic.word) - 1
    topic = heard.topics[at] if at >= 0 else None
    if topic is None or topic.part is None or not episode.blocks:  # without a plan, parts are those of the talk
        return None, None
    block = episode.blocks[topic.part]
    return block, None if topic.subject is None else block.exercises[topic.subject]


def unwritten(
    parts: Sequence[Part], topics: Sequence[Topic], heard: Heard, episode: Episode
) -> Iterator[tuple[Subject, Topic]]:
    """Yield, once each, what the talk takes for an exercise, with a figure of work, and the page does not know."""
    named = [topic.word for topic in heard.topics if topic.name]
    doses = [figure.first for figure in heard.figures if figure.field in _DOSES]
    starts = [*(topic.word for topic in topics), len(heard.words)]
    told: set[str] = set()
    for topic, end in zip(topics, starts[1:], strict=True):
        if topic.part is None or topic.subject is None:
            continue
        subject = parts[topic.part].subjects[topic.subject]
        if subject.entry is None or subject.entry.name in told or _is_known(subject.entry, episode):
            continue
        if any(topic.word <= word < end for word in doses) and not any(topic.word <= word < end for word in named):
            told.add(subject.entry.name)
            yield subject, topic


def _is_known(entry: Entry, episode: Episode) -> bool:
    """Tell whether an exercise of the page may be meant: the same movement, or a name that says as much or ends so."""
    said = words(entry.name)
    for _, exercise in episode.exercises():
        its = exercise.match.entry if exercise.match else None
        if its is not None and its.name == entry.name:
            return True
        for name in exercise.names:
            written = words(name)
            if written[-1:] == said[-1:] or set(written) <= set(said) or set(said) <= set(written):
                return True
    return False
