"""The episode written back as the one workout.md that says just what it says: each thing in its canonical spelling."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from repslate.model.block_heading import BlockHeading, write_heading
from repslate.model.block_parts import given, write_parts
from repslate.model.clock import write_clock
from repslate.model.episode import Block, Caution, Episode, Exercise, FrontMatter, Picture, Prose, Quiet, Words
from repslate.model.exercise import ExerciseHeading, assign_ids, read_exercise_heading
from repslate.model.hosted import hosted_heading
from repslate.model.parts import write_parts as write_lines
from repslate.model.prescription import write
from repslate.model.quantity import write_number
from repslate.source.markdown import Label
from repslate.source.models import keys
from repslate.source.page import Phrase
from repslate.source.span import Span

_NOWHERE = Span("")
_PLAIN = re.compile(r"[^\W\d_](?:[\w'’.&()–-]| (?! |$))*")
_MEAN_MORE = frozenset("none no nobody n false off null yes y true on".split())
_SHARES = frozenset({"training max"})


def write_plan(episode: Episode) -> str:
    """Write workout.md anew; read again it is the same episode, but for places and for what no output shows."""
    ids = _ids(episode)
    lines = [*_front(episode), "", *_prose(episode.lead), *_quiets(_at(episode, None))]
    for block in episode.blocks:
        lines += [f"## {_heading(block)}", "", *_prose(block.prose), *_cautions(block.cautions)]
        lines += _quiets(_at(episode, block.span))
        for exercise in block.exercises:
            lines += _exercise(exercise, ids[exercise.id], _at(episode, exercise.span))
    if episode.has_safety:
        lines += ["## Safety", "", *_prose(episode.safety)]
    for heading, prose in episode.notes:
        lines += [f"## {heading.text}", "", *_prose(prose)]
    return "\n".join(lines).rstrip("\n") + "\n"


# ---- front matter


def _front(episode: Episode) -> Iterator[str]:
    yield "---"
    yield f"format: {episode.format}"
    for key, name in keys(FrontMatter).items():
        if key in episode.places and key != "format":
            yield f"{key}: {_value(key, getattr(episode, name))}"
    yield "---"


def _value(key: str, value: object) -> str:
    """Return a value as YAML; a time in minutes and seconds, a share with its sign."""
    if isinstance(value, tuple):
        return f"[{', '.join(_text(one.text if isinstance(one, Words) else str(one)) for one in value)}]"
    if isinstance(value, Fraction):
        return write_clock(value)
    if isinstance(value, Decimal):
        return f"{write_number(value)} %" if key in _SHARES else write_number(value)
    if isinstance(value, (date, int, StrEnum)):
        return str(value)
    return "none" if value is None else _text(value.path if isinstance(value, Picture) else str(value))


def _text(text: str) -> str:
    """Return a text as YAML, in quotes where it could be read as anything else."""
    is_plain = _PLAIN.fullmatch(text) and text.casefold() not in _MEAN_MORE
    return text if is_plain else json.dumps(text, ensure_ascii=False)


# ---- blocks


def _heading(block: Block) -> str:
    """Return the first spelling of a heading that is read back as this block."""
    plain = write_heading(BlockHeading(block.kind, turn=block.turn))
    letter = block.name.removeprefix(plain).partition(":")[0].strip() if block.name.startswith(plain) else ""
    spellings = (
        write_heading(BlockHeading(block.kind, letter, block.title, **given(block))),
        " · ".join((block.name, *write_parts(block, block.form))),
        block.name,
    )
    return next((text for text in spellings if _is_read_as(block, text)), spellings[0])


def _is_read_as(block: Block, text: str) -> bool:
    heading, in_words, _ = hosted_heading(text, _NOWHERE)
    if heading is None:
        return block.in_words and block.name == text
    same = (heading.kind, heading.title, given(heading), in_words) == (
        block.kind, block.title, given(block), block.in_words,
    )  # fmt: skip
    return same and heading.name == block.name


# ---- exercises


def _ids(episode: Episode) -> dict[str, str]:
    """Return what stands behind each exercise's name: its id in braces where the name alone would give another."""
    exercises = [exercise for _, exercise in episode.exercises()]
    written: dict[str, str] = {}
    for _ in range(2):  # one that is written moves those that come by themselves
        headings = [
            ExerciseHeading(Phrase(one.name, _NOWHERE), written.get(one.id, ""), _NOWHERE, "") for one in exercises
        ]
        ids, _ = assign_ids(headings)
        written |= {one.id: one.id for one, id_ in zip(exercises, ids, strict=True) if one.id != id_}
    return {one.id: f" {{{one.id}}}" if one.id in written else "" for one in exercises}


def _exercise(exercise: Exercise, id_: str, quiets: Iterable[Quiet]) -> Iterator[str]:
    heading = f"{exercise.name}{id_}"
    read, _ = read_exercise_heading(Phrase(heading, _NOWHERE))
    if read.name.text != exercise.name:
        heading = f"{exercise.label} {heading}"  # a name that begins as a label does
    yield f"### {heading}"
    if exercise.parts:
        yield from write_lines(exercise.parts)
    elif exercise.prescription_span is not None:
        yield write(exercise.prescription)
    yield ""
    yield from _prose(exercise.prose)
    yield from _pictures(exercise)
    for label, words in (
        (Label.CUES, exercise.cues), (Label.EASIER, exercise.easier), (Label.HARDER, exercise.harder),
    ):  # fmt: skip
        yield from _labelled(label, words)
    yield from _cautions(exercise.cautions)
    for label, words in ((Label.MUSCLES, exercise.muscles), (Label.EQUIPMENT, exercise.equipment)):
        if words:
            yield from (f"{label}: {', '.join(one.text for one in words)}", "")
    yield from _quiets(quiets)


def _pictures(exercise: Exercise) -> Iterator[str]:
    """Yield the pictures that stand alone; those in the midst of words are written with them."""
    said = "\n".join([*(prose.markdown for prose in exercise.prose), *(one.text for one in _said(exercise))])
    for picture in exercise.pictures:
        if f"]({picture.path}" not in said:
            yield from (f"![{picture.description}]({picture.path})", "")


def _said(exercise: Exercise) -> Iterator[Words]:
    yield from (*exercise.cues, *exercise.easier, *exercise.harder)
    yield from (caution.words for caution in exercise.cautions)


# ---- words


def _prose(prose: Iterable[Prose]) -> Iterator[str]:
    for one in prose:
        yield from (*one.markdown.split("\n"), "")


def _labelled(label: Label, words: tuple[Words, ...]) -> Iterator[str]:
    if len(words) == 1:
        yield from (f"{label}: {_on_one_line(words[0].text)}", "")
    elif words:
        yield from (f"{label}:", *(f"- {_on_one_line(one.text)}" for one in words), "")


def _cautions(cautions: Iterable[Caution]) -> Iterator[str]:
    for caution in cautions:
        topic = f" ({caution.topic})" if caution.topic else ""
        yield from (f"{Label.CAUTION}{topic}: {_on_one_line(caution.words.text)}", "")


def _quiets(quiets: Iterable[Quiet]) -> Iterator[str]:
    for quiet in quiets:
        yield from (f"{Label.QUIET} ({quiet.check}): {_on_one_line(quiet.reason)}", "")


def _at(episode: Episode, heading: Span | None) -> list[Quiet]:
    """Return the checks that are silenced under a heading; with None those before the first one."""
    lines = {block.span.line for block in episode.blocks} | {one.span.line for _, one in episode.exercises()}
    if heading is None:
        return [quiet for quiet in episode.quiets if quiet.first not in lines]
    return [quiet for quiet in episode.quiets if quiet.first == heading.line]


def _on_one_line(text: str) -> str:
    return " ".join(text.split("\n"))
