"""Chapters as files list them, held against those of the cut, each within the rounding that its format promises."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

from repslate.model.quantity import write_number
from repslate.proof.chapter_files import Mark
from repslate.proof.differences import EXTRA, MISSING, NAME, ORDER, TIME, Claim, Disagreement, quoted
from repslate.proof.expected import ExpectedChapter
from repslate.proof.front_facts import clock_words
from repslate.proof.reading import Place
from repslate.proof.sequences import align
from repslate.proof.wording import named

_LEAST = 1000  # ms that a last chapter is given whose end nobody knows


def compare_marks(
    name: str, found: Sequence[Mark], chapters: Sequence[ExpectedChapter], *, per_second: int
) -> Iterator[Disagreement]:
    """Yield what a list of chapters says other than the cut. Times are rounded down to 1/`per_second` s."""
    aligned = align([named(one.title) for one in chapters], [named(mark.title) for mark in found])
    for at, other in aligned.renamed:
        claim = Claim(f"the title of chapter {at + 1}", found[other].title, found[other].place)
        yield Disagreement(NAME, claim, quoted(chapters[at].title), chapters[at].source)
    for at, other in aligned.moved:
        claim = Claim(f"the place of the chapter {quoted(chapters[at].title)}", found[other].words, found[other].place)
        yield Disagreement(ORDER, claim, f"it as chapter {at + 1}", chapters[at].source)
    for at in aligned.missing:
        claim = Claim(f"the chapter {quoted(chapters[at].title)}", "", _before(name, found, aligned.pairs, at))
        yield Disagreement(MISSING, claim, quoted(_shown(chapters[at].start, per_second)), chapters[at].source)
    for other in aligned.more:
        claim = Claim(f"a chapter {quoted(found[other].title)}", found[other].words, found[other].place)
        yield Disagreement(EXTRA, claim, "only the chapters of the cut")
    for at, other in sorted((*aligned.pairs, *aligned.renamed, *aligned.moved)):
        yield from _times(found[other], chapters[at], per_second)


def _times(mark: Mark, chapter: ExpectedChapter, per_second: int) -> Iterator[Disagreement]:
    start = floor(chapter.start * per_second)
    if mark.start * per_second != start:
        claim = Claim(f"the start of {quoted(chapter.title)}", mark.words, mark.place)
        yield Disagreement(TIME, claim, quoted(_shown(chapter.start, per_second)), chapter.source)
    if mark.end is None:
        return
    end = start + _LEAST if chapter.end is None else max(floor(chapter.end * per_second), start + 1)
    if mark.end * per_second != end:
        claim = Claim(f"the end of {quoted(chapter.title)}", mark.words, mark.place)
        yield Disagreement(TIME, claim, quoted(_shown(Fraction(end, per_second), per_second)), chapter.source)


def _shown(seconds: Fraction, per_second: int) -> str:
    """Return a time as a clock, with what is left of the second where the format keeps it."""
    rest = Fraction(floor(seconds * per_second), per_second) % 1
    return clock_words(floor(seconds)) + (write_number(rest).removeprefix("0") if rest else "")


def _before(name: str, found: Sequence[Mark], pairs: Sequence[tuple[int, int]], at: int) -> Place:
    """Return the place of the last chapter that stands before a missing one."""
    before = [other for one, other in pairs if one < at]
    return found[max(before)].place if before else Place(name)
