"""The episode as the tool understands it: a listing for people, fields for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from repslate.cut.chapters import Chapter
from repslate.facts import Facts
from repslate.publish.demands import halves
from repslate.publish.view import View, view
from repslate.training.volume import Week


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
            first, *others = [part.whole for part in exercise.parts] or [exercise.prescription]
            yield f"  {exercise.label:<4} {_padded(exercise.name, width)}  {first}".rstrip()
            yield from (f"  {'':<4} {' ' * width}  {one}" for one in others)
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
    from repslate.model.clock import write_clock

    labels = {exercise.id: exercise.label for exercise in words.exercises}
    rows = [(write_clock(one.start), one) for one in chapters]
    for clock, chapter in rows:
        label = labels.get(chapter.exercise or "", "")
        yield f"  {clock:>7}  {label:<4} {chapter.title}".rstrip()


def _cells(text: str) -> int:
    from rich.cells import cell_len

    return cell_len(text)


def _padded(text: str, width: int) -> str:
    return text + " " * (width - _cells(text))
