"""Notes as plain data: the blocks of all days with what each exercise asks, and the lines that nothing reads."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from repslate.model.notes.blocks import TypedBlock
from repslate.model.notes.dose import ONE, Dose, Figures, TypedExercise, TypedLoad
from repslate.model.notes.gathered import TypedDay
from repslate.model.quantity import Range


def as_json(days: Sequence[TypedDay]) -> dict[str, object]:
    """Return the plan as plain data, one day after the other."""
    return {
        "blocks": [_block(block) for day in days for block in day.blocks],
        "unread": [{"line": number, "text": text} for day in days for number, text in day.unread],
    }


def _pair(figures: Figures | None) -> list[int | float] | None:
    return None if figures is None else [_plain(figures.low), _plain(figures.high)]


def _plain(value: Decimal) -> int | float:
    rounded = round(value, 2)
    return int(rounded) if rounded == rounded.to_integral() else float(rounded)


def _present(fields: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in fields.items() if value not in (None, "", [], (), False)}


def _block(block: TypedBlock) -> dict[str, object]:
    return {
        "form": block.form or "straight",
        **_present({
            "letter": block.label,
            "title": block.title,
            "rounds": _pair(block.rounds),
            "outer_sets": _pair(block.outer_sets),
            "minutes": _pair(block.minutes),
            "work_s": _pair(block.work),
            "rest_s": _pair(block.rest or _rest_of_only(block)),
            "rest_between_rounds_s": _pair(block.rest_between_rounds),
            "every_s": None if block.every is None else _plain(block.every),
            "cap_minutes": None if block.cap is None else _plain(block.cap),
            "scheme": [_plain(one) for one in block.scheme],
            "people": block.people,
            "alternating": block.alternating,
            "as_typed": block.words,
        }),
        "exercises": [_exercise(one) for one in block.exercises],
    }  # fmt: skip


def _rest_of_only(block: TypedBlock) -> Figures | None:
    """Return the rest of an exercise that is all of a round, which is that between rounds."""
    if len(block.exercises) != 1 or not block.rounds or block.rest_between_rounds:
        return None
    return block.exercises[0].parts[-1].rest


def _exercise(exercise: TypedExercise) -> dict[str, object]:
    parts = [_part(part) for part in exercise.parts]
    head: dict[str, object] = {"name": exercise.name, "letter": exercise.label}
    if len(parts) == 1:
        return _present(head | parts[0])
    shared = exercise.parts[0].load
    if shared is not None and all(part.load is shared for part in exercise.parts):  # typed once, for all parts
        head["load"] = [part.pop("load") for part in parts].pop()
    return _present(head | _whole(exercise.parts) | {"parts": parts})


def _worked(parts: list[Dose]) -> list[Dose]:
    """Return the parts that are work, no warm-up sets."""
    return [part for part in parts if part.role != "warm-up"]


def _whole(parts: list[Dose]) -> dict[str, object]:
    """Return what all parts come to: the sets, the repetitions of each, and its load."""
    worked = _worked(parts)
    sets = [part.sets or ONE for part in worked]
    total = Range(sum((one.low for one in sets), Decimal(0)), sum((one.high for one in sets), Decimal(0)))
    fields: dict[str, object] = {"sets": _pair(total)}
    if all(one.low == one.high for one in sets):
        reps = [
            reps
            for part, count in zip(worked, sets, strict=True)
            for reps in (part.reps if len(part.reps) > 1 else part.reps * int(count.low))
        ]
        if len(set(reps)) == 1 and len(reps) == total.low:
            fields["reps"] = _pair(reps[0])
        elif len(reps) == total.low:
            fields["reps_by_set"] = [_pair(one) for one in reps]
    for key in ("rest_s", "per_side", "tempo", "reps_open_last", "max_last"):
        found = [value for part in parts if (value := _part(part).get(key))]
        if found:
            fields[key] = found[-1]
    return fields


def _part(part: Dose) -> dict[str, object]:
    load = part.load or part.effort
    words = list(part.words)
    if part.load and part.effort:
        words.append(f"{part.effort.kind} {_pair(part.effort.value)}")
    return _present({
        "role": part.role,
        "sets": _pair(part.sets),
        "reps": _pair(part.reps[0]) if len(part.reps) == 1 else None,
        "reps_by_set": [_pair(one) for one in part.reps] if len(part.reps) > 1 else None,
        "seconds": _pair(part.seconds),
        "metres": _pair(part.metres and Range(_whole_metres(part.metres.low), _whole_metres(part.metres.high))),
        "calories": _pair(part.calories),
        "breaths": _pair(part.breaths),
        "steps": _pair(part.steps),
        "rest_s": _pair(part.rest),
        "intra_rest_s": _pair(part.intra_rest),
        "rest_metres": _pair(part.rest_metres),
        "rest_words": "as needed" if part.rest_as_needed else None,
        "hold_s": _pair(part.hold),
        "per_side": part.per_side,
        "alternating": part.alternating,
        "max": part.is_max,
        "max_last": part.max_last,
        "reps_open_last": part.open_last,
        "complex": list(part.complex),
        "cluster": list(part.cluster),
        "partials": _pair(part.partials) if isinstance(part.partials, Range) else part.partials,
        "tempo": "-".join(part.tempo),
        "drops": part.drops,
        "drop_set": part.drop_set,
        "drops_last_set": part.drop_last,
        "rest_pause": part.rest_pause,
        "myo_reps": part.myo,
        "mini_sets": _pair(part.mini_sets),
        "mini_reps": _pair(part.mini_reps),
        "every_s": None if part.every is None else _plain(part.every),
        "for_minutes": None if part.clock is None else _plain(part.clock / 60),
        "per_day": part.per_day,
        "load": _load(load),
        "as_typed": "; ".join(words),
    })  # fmt: skip


def _whole_metres(metres: Decimal) -> Decimal:
    """Return a length of a kilometre or more without its decimals, which only a mile has."""
    return metres.quantize(Decimal(1)) if metres >= 1000 else metres


def _load(load: TypedLoad | None) -> dict[str, object] | None:
    if load is None:
        return None
    return {
        "kind": load.kind,
        **_present({
            "value": _pair(load.value),
            "by_set": [_plain(one) for one in load.by_set],
            "two_levels": [_plain(one) for one in load.two_levels],
            "words": load.words,
        }),
    }  # fmt: skip
