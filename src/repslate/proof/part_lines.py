"""An exercise in several parts as it is published: each part read back by itself, in its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from repslate.model.episode import Exercise, Part
from repslate.model.parts import write_parts
from repslate.model.prescription import Prescription, write
from repslate.proof.doses import Difference, Dose, differences, read_dose
from repslate.proof.wording import behind, standing

_KEPT = "\ufffc"  # for what separates parts where it stands in words as typed


def split(text: str, parts: Sequence[Part]) -> tuple[str, ...]:
    """Split a line at what separates parts, but not in the words that they carry."""
    for part in parts:
        for words in part.prescription.words:
            if (place := standing(words, text)) is not None:
                kept = text[place.start : place.stop].replace(";", _KEPT)
                text = f"{text[: place.start]}{kept}{text[place.stop :]}"
    return tuple(one.replace(_KEPT, ";").strip() for one in text.split(";"))


def read_parts(said: Sequence[str], parts: Sequence[Part]) -> tuple[Dose, ...] | None:
    """Read what is said of each part; None where there are others, under other names, or where one is no dose."""
    if len(said) != len(parts):
        return None
    doses = []
    for text, part in zip(said, parts, strict=True):
        told: str | None = text
        if part.name:
            told = behind(part.name, text)
        if told is None or (part.name and not told.lstrip().startswith(":")):
            return None
        told = told.strip().removeprefix(":").strip()
        dose = read_dose(told, part.prescription.words) or read_dose(told)
        if dose is None:
            return None
        doses.append(dose)
    return tuple(doses)


def part_differences(doses: Sequence[Dose], parts: Sequence[Part], *, full: bool) -> Iterator[tuple[str, Difference]]:
    """Yield what each part says other than expected, with what to call the part."""
    for number, (dose, part) in enumerate(zip(doses, parts, strict=True), 1):
        for one in differences(dose, part.prescription, full=full):
            yield part.name or f"part {number}", one


def written(exercise: Exercise) -> str:
    """Write all that an exercise prescribes, "" where that is nothing."""
    if exercise.parts:
        return "; ".join(write_parts(exercise.parts))
    return write(exercise.prescription)


def brief(exercise: Exercise) -> str:
    """Write what it prescribes without details."""
    said = [line.prescription for line in exercise.lines]
    return "; ".join(
        write(Prescription(sets=one.sets, work=one.work, per_side=one.per_side, words=one.words)) for one in said
    )
