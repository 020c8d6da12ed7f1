"""What the commands print with --format json: a Result as one JSON document, its field names documented and stable."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from repslate.api import Audit, Build, Drafted, Moved, Result
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.model.notes.as_data import as_json
from repslate.model.prescription import (
    Complex,
    Counted,
    Distance,
    Maximum,
    MyoReps,
    Prescription,
    Reps,
    Tally,
    Timed,
    TwentyOnes,
    write,
)
from repslate.model.quantity import Range
from repslate.model.sets import told_sharing
from repslate.source.finding import Finding
from repslate.source.places import shown_path
from repslate.speech.heard import Heard
from repslate.training.numbers import Numbers
from repslate.training.volume import Week

Number = int | float


def to_json(result: Result[Any] | Finding, *, week: Week | None = None) -> str:
    """Return a result of any step, or one finding, as a JSON document in plain ASCII.

    Ranges are [low, high], times are seconds, what is not said is null; a figure that is not whole becomes a float.
    A `week` is added to the numbers of an episode. TypeError for a value that no step gives.
    """
    document = _finding(result) if isinstance(result, Finding) else _result(result, week)
    return _written(document)


def _written(document: object) -> str:
    # ASCII, so that no terminal's encoding can spoil it; of its characters JSON lets one through that cannot be seen.
    return json.dumps(document, indent=2).replace("\x7f", "\\u007f")


def findings_json(results: Iterable[Result[Any]]) -> str:
    """Return the findings of several results as one JSON document."""
    results = list(results)
    return _written(
        {
            "findings": [_finding(one) for result in results for one in result.findings],
            "quieted": [_quieted(one, reason) for result in results for one, reason in result.quieted],
        }
    )


def seen_from_here(result: Result[Any], folder: Path) -> Result[Any]:
    """Return a result whose findings name their files as seen from the current folder, not from `folder`."""

    def here(finding: Finding) -> Finding:
        return replace(finding, span=replace(finding.span, file=shown_path(folder, finding.span.file)))

    findings = tuple(here(one) for one in result.findings)
    return replace(result, findings=findings, quieted=tuple((here(one), why) for one, why in result.quieted))


def _result(result: Result[Any], week: Week | None) -> dict[str, Any]:
    return {**_value(result.value, week), "findings": [_finding(one) for one in result.findings]}


def _value(value: object, week: Week | None) -> dict[str, Any]:
    match value:
        case None:
            fields: dict[str, Any] = {}
        case Facts():
            fields = _facts(value, week)
        case Heard():
            fields = _heard(value)
        case Moved():
            fields = {"chapters": _moved(value), "kept_as": value.kept_as}
        case Audit():
            fields = {"files": value.files, "changed": value.changed, "stale": value.stale}
        case Build():
            fields = {"folder": str(value.folder), "written": value.written, "skipped": value.skipped}
        case Drafted():
            fields = _drafted(value)
        case _:
            raise TypeError(f"{type(value).__name__} is nothing that a step of repslate gives")
    return fields


def _drafted(value: Drafted) -> dict[str, Any]:
    """Of talk the files; of notes the plan as it was understood, and the lines that were not."""
    if value.draft is None:
        return as_json(value.days)
    return {"workout": value.draft.workout, "chapters": value.draft.chapters, "gaps": value.draft.gaps}


def plans_json(plans: Iterable[tuple[str, Result[Drafted]]]) -> str:
    """Return what was drafted from several files, each with its name, as one JSON document: a list in their order."""
    return _written([{"file": name, **_result(result, None)} for name, result in plans])


def _finding(finding: Finding) -> dict[str, Any]:
    span, about = finding.span, finding.about
    return {
        "check": finding.check,
        "severity": finding.severity.value,
        "file": span.file,
        "line": span.line,
        "column": span.column,
        "length": span.length,
        "message": finding.message,
        "help": finding.help,
        "because": finding.because,
        "exercise": about.exercise,
        "block": about.block,
        "field": about.field,
        "time": None if about.time is None else float(about.time),
    }


def _quieted(finding: Finding, reason: str) -> dict[str, Any]:
    return {**_finding(finding), "reason": reason}


def _moved(moved: Moved) -> list[dict[str, Any]]:
    return [
        {
            "title": one.title,
            "from": float(one.start),
            "to": _milliseconds(one.to),
            "reason": one.reason,
            "offer": _milliseconds(one.offer),
        }
        for one in moved.chapters
    ]


def _milliseconds(time: Fraction | None) -> float | None:
    return None if time is None else round(float(time), 3)


def _heard(heard: Heard) -> dict[str, Any]:
    return {
        "figures": [
            {
                "time": round(float(one.time), 3),
                "field": one.field,
                "low": _exact(one.low),
                "high": _exact(one.high),
                "per_side": one.per_side,
                "exercise": one.exercise.name if one.exercise else None,
                "block": heard.plan[one.part].name if one.part is not None else None,
                "quote": one.quote,
                "confidence": float(one.confidence),
            }
            for one in heard.figures
        ],
        "coarse": heard.coarse,
    }


def _facts(facts: Facts, week: Week | None) -> dict[str, Any]:
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
        "numbers": {**_numbers(facts.numbers), "week": _week(week) if week else None},
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
            for exercise, each in numbers.loads.items()
            for loads in each
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
        "turn": _number(block.turn_length),
        "cap": _number(block.cap),
        "reps_by_round": list(block.scheme.reps) if block.scheme else None,
        "goes_on": block.scheme is not None and block.scheme.goes_on,
        "on": _number(block.interval.on) if block.interval else None,
        "off": _number(block.interval.off) if block.interval else None,
        "intervals": block.interval.times if block.interval else None,
        "sharing": told_sharing(block),
        "people": block.people,
        "cautions": [{"topic": caution.topic, "text": caution.words.text} for caution in block.cautions],
        "exercises": [_exercise(exercise) for exercise in block.exercises],
    }


def _exercise(exercise: Exercise) -> dict[str, Any]:
    return {
        "id": exercise.id,
        "label": exercise.label,
        "name": exercise.name,
        "known_as": exercise.match.entry.name if exercise.match else None,
        **_dose(exercise.prescription),
        "parts": [
            {"name": part.name or None, "warm_up": part.is_warm_up, **_dose(part.prescription)}
            for part in exercise.parts
        ],
        "cues": [words.text for words in exercise.cues],
        "easier": [words.text for words in exercise.easier],
        "harder": [words.text for words in exercise.harder],
        "cautions": [{"topic": caution.topic, "text": caution.words.text} for caution in exercise.cautions],
        "pictures": [picture.path for picture in exercise.pictures],
    }


def _dose(given: Prescription) -> dict[str, Any]:
    work = given.work
    each = work.each if isinstance(work, Reps) else ()
    return {
        "prescription": write(given),
        "sets": _pair(given.sets),
        "reps": _widest(each),
        "reps_by_set": [_pair(one) for one in each] if len(each) > 1 else None,
        "seconds": _pair(work.seconds) if isinstance(work, Timed) else None,
        "metres": _pair(work.metres) if isinstance(work, Distance) else None,
        **{tally.name.lower(): None for tally in Tally},
        **({work.of.name.lower(): _widest(work.each)} if isinstance(work, Counted) else {}),
        "count_by_set": [_pair(one) for one in work.each] if isinstance(work, Counted) and len(work.each) > 1 else None,
        "complex": list(work.parts) if isinstance(work, Complex) else None,
        "twenty_ones": isinstance(work, TwentyOnes),
        "myo_reps": {"first": _pair(work.first), "small_sets": _pair(work.minis), "reps": _pair(work.reps)}
        if isinstance(work, MyoReps)
        else None,
        "partials": _pair(given.partials),
        "hold": _pair(given.hold),
        "last_set_max": given.open_last,
        "as_many_as_possible": isinstance(work, Maximum),
        "per_side": given.per_side,
        "load": write(Prescription(load=given.load)).removeprefix("@ ") or None,
        "effort": write(Prescription(effort=given.effort)) or None,
        "tempo": write(Prescription(tempo=given.tempo)).removeprefix("tempo ") or None,
        "rest": _pair(given.rest),
        "rest_as_needed": given.rest_as_needed,
        "drops": write(Prescription(drops=given.drops)) or None,
        "rest_pause": given.rest_pause,
        "cluster": list(given.cluster) or None,
        "words": list(given.words) or None,
    }


def _widest(each: tuple[Range[int], ...]) -> list[Number] | None:
    return [min(one.low for one in each), max(one.high for one in each)] if each else None


def _pair(figures: Range[int] | Range[Fraction] | Range[Decimal] | None) -> list[Number] | None:
    return None if figures is None else [_exact(figures.low), _exact(figures.high)]


def _number(figure: int | Fraction | Decimal | None) -> Number | None:
    return None if figure is None else _exact(figure)


def _exact(figure: int | Fraction | Decimal) -> Number:
    """Return a JSON number: whole where it is; a float only here, where the exact figure leaves us."""
    return int(figure) if figure == int(figure) else float(figure)
