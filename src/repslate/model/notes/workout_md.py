"""Notes as a workout.md to go on with: the canonical notation, what was typed beside it, and the gaps.

Every line of the notes stands somewhere: read, as words in quotes, or in a remark that no output shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from repslate.model.block_heading import parse_heading
from repslate.model.episode import Goal, Level
from repslate.model.forms import noted
from repslate.model.notes.blocks import TypedBlock
from repslate.model.notes.canonical import canonical
from repslate.model.notes.dose import ONE, Dose, TypedExercise
from repslate.model.notes.gathered import TypedDay
from repslate.model.quantity import Range, write_number, write_range, write_seconds
from repslate.source.finding import Severity
from repslate.source.span import Span

_CLOCKED = frozenset({"amrap", "every-minute", "every-n", "ladder"})
_LONGEST_TITLE = 60


def workout_md(day: TypedDay, title: str) -> str:
    """Write one day; `title` is a working one, for where the notes have none."""
    lines = ["---", "format: 1"]
    named = _plain(day.title)[:_LONGEST_TITLE]
    lines.append(f"title: {_quoted(named or title)}" + ("" if named else "  # gap: a working title"))
    lines += [
        "# gap: presenter",
        f"# gap: goal, one of {', '.join(Goal)}",
        f"# gap: level, one of {', '.join(Level)}",
        "---",
        "<!-- A draft from notes. What was typed stands beside each line; words in quotes are published as they are",
        "and counted nowhere. Look at every line, add how it is done and what to beware of, delete the remarks. -->",
        "",
    ]
    for text in (text for number, text in day.unread if number == 0):
        lines += [_remark(text)]
    for block in day.blocks:
        lines += ["", f"## {heading(block)}", ""]
        lines += [_remark(words) for words in block.words]
        for exercise in _times_outer(block):
            lines += _exercise(exercise, block.work if block.rest is None and block.form != "intervals" else None)
    rest = [text for number, text in day.unread if number]
    if rest:
        lines += ["", "<!-- Not read as part of the plan:", *map(_safe, rest), "-->"]
    return "\n".join(lines).rstrip("\n") + "\n"


def _times_outer(block: TypedBlock) -> Iterator[TypedExercise]:
    """Yield the exercises; of "2 sets of (4 x 200 m)" all eight, with how they are grouped in words."""
    if not block.exercises and block.work:  # "5 x (3 min hard / 2 min easy)" names nothing
        yield TypedExercise(name=block.title or "Interval", parts=[Dose()])
    outer = None if block.work else block.outer_sets or _outer_rounds(block)
    for exercise in block.exercises:
        first, *others = exercise.parts
        if outer and not block.outer_sets and first.has_work and not first.sets:
            first.sets = ONE
        if outer and first.sets:
            sets = Range(outer.low * first.sets.low, outer.high * first.sets.high)
            words = [*first.words, f"{write_range(outer)} times {write_range(first.sets)}"]
            exercise = replace(exercise, parts=[replace(first, sets=sets, words=words), *others])  # noqa: PLW2901
        yield exercise


def _outer_rounds(block: TypedBlock) -> Range[Decimal] | None:
    """Return the rounds of a block whose exercises have sets of their own in each: "3 rounds: 4 x 50 m, 1 x 100 m"."""
    sets = [one.parts[0].sets for one in block.exercises]
    is_nested = any(one not in (None, ONE, block.rounds) for one in sets)
    return block.rounds if is_nested and block.form in ("", "straight", "circuit", "intervals") else None


def _exercise(exercise: TypedExercise, work: Range[Decimal] | None) -> Iterator[str]:
    """Write an exercise; `work` is the time in seconds that the heading gives to each."""
    name = _plain(exercise.name) or _plain(exercise.label) or "Exercise"
    yield f"### {name[0].upper()}{name[1:]}"  # a heading; in a message nobody types capitals
    first = exercise.parts[0]
    if work and not first.has_work and not first.sets:
        yield _seconds(work)
    for part in exercise.parts:
        if line := canonical(part):
            front = {"top": "Top set: ", "back-off": "Back-offs: ", "warm-up": "Warm-up sets: "}.get(part.role, "")
            yield (front if len(exercise.parts) > 1 else "") + line
    if exercise.typed:
        yield _remark("; ".join(exercise.typed))
    yield ""


def heading(block: TypedBlock) -> str:
    """Return the heading of a block in the canonical notation; what it has no part for stays in its title."""
    form = noted(block.form)
    kind = form.kind.value
    if form.names_turn and block.every is not None:
        kind += f" {_seconds(Range(block.every, block.every))}"
    if block.form in _CLOCKED and block.minutes and block.minutes.low == block.minutes.high:
        kind += f" {form.joint or 'for'} {_minutes(block.minutes)}"
    elif block.form in ("every-n", "every-minute") and block.rounds:
        kind += f" for {write_range(block.rounds)} rounds"
    if re.fullmatch("[A-Za-z]", block.label) and _reads(f"{kind} {block.label.upper()}"):
        kind += f" {block.label.upper()}"
    text = kind
    if _reads(f"{kind}: {_title(block)}") and _title(block):
        text = f"{kind}: {_title(block)}"
    for piece in _parts(block):
        if _reads(f"{text} · {piece}"):
            text += f" · {piece}"
    return text


def _parts(block: TypedBlock) -> Iterator[str]:
    if block.scheme:
        yield "-".join(map(write_number, block.scheme))
    if block.work and block.rest and block.form in ("intervals", "circuit", "finisher", "warm-up"):
        on_off = f"{_seconds(block.work)} on / {_seconds(block.rest)} off"
        times = block.rounds if block.form == "intervals" else None
        sets = f"{write_range(block.outer_sets)} sets of " if block.outer_sets else ""
        yield f"{sets}{write_range(times)} × {on_off}" if times else on_off
        if not times and block.rounds:
            yield f"{write_range(block.rounds)} rounds"
    elif block.rounds and block.form not in ("every-n", "every-minute") and not _outer_rounds(block):
        yield f"{write_range(block.rounds)} {'round' if block.rounds.high == 1 else 'rounds'}"
    if block.cap is not None:
        yield f"cap {_minutes(Range(block.cap, block.cap))}"
    if block.people:
        yield "in pairs" if block.people == 2 else f"in teams of {block.people}"
    rest = block.rest_between_rounds or (block.rest if not block.work else None)
    if rest:
        yield f"rest {_seconds(rest)}"


def _title(block: TypedBlock) -> str:
    title = _plain(block.title)
    if block.minutes and block.form not in _CLOCKED:
        title = f"{title} ({_minutes(block.minutes)})".strip()
    return title


def _reads(text: str) -> bool:
    found, findings = parse_heading(text, Span(""))
    return found is not None and all(one.severity is not Severity.ERROR for one in findings)


def _minutes(minutes: Range[Decimal]) -> str:
    return write_range(minutes, "min")


def _seconds(figures: Range[Decimal]) -> str:
    return write_seconds(Range(Fraction(figures.low), Fraction(figures.high)))


def _plain(text: str) -> str:
    """Return a text for one line of Markdown: no marks at its ends, no line feeds."""
    return " ".join(text.strip("#*_ ").split())


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _safe(text: str) -> str:
    """Return a text that cannot end the remark it stands in."""
    return " ".join(text.split()).replace("--", "—").replace(">", "›")


def _remark(text: str) -> str:
    return f"<!-- typed: {_safe(text)} -->"
