"""The episode as the tool understands it: a listing for people, fields for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Any

from repslate.cut.chapters import Chapter
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.model.prescription import Distance, Maximum, Prescription, Reps, Timed, write
from repslate.model.quantity import Range
from repslate.publish.demands import halves
from repslate.publish.view import View, view
from repslate.training.numbers import Numbers, compute
from repslate.training.volume import Week

Number = int | float


def fields(facts: Facts, week: Week | None) -> dict[str, Any]:
    """Return the episode as JSON-ready fields: times in seconds, ranges [low, high], null for what is not said."""
    episode = facts.episode
    return {
        "title": episode.title,
        "slug": episode.slug,
        "episode": episode.number,
        "presenter": episode.presenter,
        "recorded": episode.recorded.isoformat() if episode.recorded else None,
        "published": episode.published.isoformat() if episode.published else None,
        "goal": episode.goal,
        "level": episode.level,
        "focus": [words.text for words in episode.focus],
        "equipment": [words.text for words in episode.equipment],
        "video": episode.video,
        "length": _number(episode.length),
        "sponsor": episode.sponsor,
        "hashtags": list(episode.hashtags),
        "blocks": [_block(block) for block in episode.blocks],
        "chapters": [
            {"time": _number(chapter.start), "title": chapter.title, "exercise": chapter.exercise}
            for chapter in facts.chapters
        ],
        "numbers": {**_numbers(compute(episode, facts.library)), "week": _week(week) if week else None},
    }


def _week(week: Week) -> dict[str, Any]:
    return {
        "monday": week.monday.isoformat(),
        "episodes": list(week.episodes),
        "muscles": [
            {"muscle": row.muscle, "shown": row.shown, "total_sets": _pair(row.total), "bands": list(row.bands)}
            for row in week.muscles
        ],
    }


def _numbers(numbers: Numbers) -> dict[str, Any]:
    """Return what was computed; seconds, sets, kilograms or pounds, kilocalories: the unit is in the name or beside."""
    time, spent = numbers.time, numbers.energy
    return {
        "time": {
            "total_seconds": _pair(time.total),
            "work_seconds": _pair(time.work),
            "rest_seconds": _pair(time.rest),
            "set_up_seconds": _pair(time.set_up),
            "blocks": [
                {"letter": block.letter, "total_seconds": _pair(block.total), "work_seconds": _pair(block.work)}
                for block in time.blocks
            ],
            "assumed": list(time.assumed),
        },
        "muscles": [
            {
                "muscle": row.muscle,
                "shown": row.shown,
                "direct_sets": _pair(row.direct),
                "half_counted_sets": _pair(row.half_counted),
                "total_sets": _pair(row.total),
                "exercises": list(row.exercises),
            }
            for row in numbers.muscles
        ],
        "not_counted": [{"exercise": one.exercise, "reason": one.reason} for one in numbers.not_counted],
        "loads": [
            {
                "exercise": exercise,
                "percent_of_1rm": _pair(loads.percent),
                "unit": loads.unit,
                "source": loads.source,
                "rows": [
                    {
                        "maximum": _exact(row.maximum),
                        "exact": _pair(row.exact),
                        "loaded": [_exact(each.load) for each in row.loaded] if row.loaded else None,
                    }
                    for row in loads.rows
                ],
            }
            for exercise, loads in numbers.loads.items()
        ],
        "energy": {
            "kilocalories": [_exact(spent.low), _exact(spent.high)],
            "estimate": True,
            "met": [_exact(spent.met_low), _exact(spent.met_high)],
            "codes": [one.code for one in spent.codes],
            "edition": spent.edition,
            "formula": spent.formula,
            "sources": list(spent.sources),
            "assumed": list(spent.assumed),
        }
        if spent
        else None,
    }


def _block(block: Block) -> dict[str, Any]:
    return {
        "name": block.name,
        "kind": block.kind,
        "letter": block.letter,
        "title": block.title,
        "rounds": _pair(block.rounds),
        "rest": _pair(block.rest),
        "clock": _number(block.clock),
        "cautions": [{"topic": caution.topic, "text": caution.words.text} for caution in block.cautions],
        "exercises": [_exercise(exercise) for exercise in block.exercises],
    }


def _exercise(exercise: Exercise) -> dict[str, Any]:
    given, work = exercise.prescription, exercise.prescription.work
    each = work.each if isinstance(work, Reps) else ()
    return {
        "id": exercise.id,
        "label": exercise.label,
        "name": exercise.name,
        "known_as": exercise.match.entry.name if exercise.match else None,
        "prescription": write(given),
        "sets": _pair(given.sets),
        "reps": [min(one.low for one in each), max(one.high for one in each)] if each else None,
        "reps_by_set": [_pair(one) for one in each] if len(each) > 1 else None,
        "seconds": _pair(work.seconds) if isinstance(work, Timed) else None,
        "metres": _pair(work.metres) if isinstance(work, Distance) else None,
        "as_many_as_possible": isinstance(work, Maximum),
        "per_side": given.per_side,
        "load": write(Prescription(load=given.load)).removeprefix("@ ") or None,
        "effort": write(Prescription(effort=given.effort)) or None,
        "tempo": write(Prescription(tempo=given.tempo)).removeprefix("tempo ") or None,
        "rest": _pair(given.rest),
        "drops": write(Prescription(drops=given.drops)) or None,
        "rest_pause": given.rest_pause,
        "cluster": list(given.cluster) or None,
        "cues": [words.text for words in exercise.cues],
        "easier": [words.text for words in exercise.easier],
        "harder": [words.text for words in exercise.harder],
        "cautions": [{"topic": caution.topic, "text": caution.words.text} for caution in exercise.cautions],
        "pictures": [picture.path for picture in exercise.pictures],
    }


def _pair(figures: Range[int] | Range[Fraction] | Range[Decimal] | None) -> list[Number] | None:
    return None if figures is None else [_exact(figures.low), _exact(figures.high)]


def _number(figure: int | Fraction | Decimal | None) -> Number | None:
    return None if figure is None else _exact(figure)


def _exact(figure: int | Fraction | Decimal) -> Number:
    """Return a JSON number: whole where it is; a float only here, where the exact figure leaves us."""
    return int(figure) if figure == int(figure) else float(figure)


def listing(facts: Facts, week: Week | None) -> Iterator[str]:
    """Yield the workout line by line, in the words of the published files."""
    words = view(facts)
    yield words.title
    for line in (" · ".join(words.origin), " · ".join(words.facts), f"Equipment: {words.equipment}"):
        if line:
            yield line
    width = max((_cells(exercise.name) for exercise in words.exercises), default=0)
    for block in words.blocks:
        yield ""
        yield " · ".join((block.name, *block.facts))
        for exercise in block.exercises:
            yield f"  {exercise.label:<4} {_padded(exercise.name, width)}  {exercise.prescription}".rstrip()
    yield from _sets(words, week)
    if facts.chapters:
        yield ""
        yield "Chapters"
        yield from _chapters(facts.chapters, words)


def _sets(words: View, week: Week | None) -> Iterator[str]:
    """Yield the sets of each muscle, and beside them those of the week where other episodes share it."""
    rows = words.demands.muscles
    if not rows:
        return
    shared = week if week and len(week.episodes) > 1 else None
    yield ""
    yield "Sets per muscle, a helping muscle counted half" + (f"; in the week of {shared.monday}" if shared else "")
    width = max(_cells(row.name) for row in rows)
    for row in rows:
        total = next((one for one in shared.muscles if one.shown == row.name), None) if shared else None
        beside = f"  {halves(total.total)} ({', '.join(total.bands)})" if total else ""
        yield f"  {_padded(row.name, width)}  {row.value:>6}{beside}".rstrip()


def _chapters(chapters: Iterable[Chapter], words: View) -> Iterator[str]:
    from repslate.cut.timecode import write_clock

    labels = {exercise.id: exercise.label for exercise in words.exercises}
    rows = [(write_clock(one.start, hours=one.start >= 3600), one) for one in chapters]
    for clock, chapter in rows:
        label = labels.get(chapter.exercise or "", "")
        yield f"  {clock:>7}  {label:<4} {chapter.title}".rstrip()


def _cells(text: str) -> int:
    from rich.cells import cell_len

    return cell_len(text)


def _padded(text: str, width: int) -> str:
    return text + " " * (width - _cells(text))
