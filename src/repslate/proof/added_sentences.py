"""Sentences that somebody added to a published text, where they name a figure of the prescription plainly.

What the trainer wrote was compared before it was built; only words that are not the trainer's are read here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from repslate.model.episode import Block
from repslate.model.prescription import Bodyweight, Prescription, Reps, Timed, Weight
from repslate.model.prose_figures import Said, said_in
from repslate.model.quantity import Range, write_range
from repslate.model.sets import sets_of
from repslate.proof.differences import PROSE, Claim, Disagreement, quoted
from repslate.proof.expected import Expected, ExpectedBlock, ExpectedExercise, Passage
from repslate.proof.reading import Document
from repslate.proof.wording import named, normal, sentences
from repslate.source.span import Span

_VARIANTS = ("easier", "harder", "caution", "make it easier", "make it harder")
_UNITS = {"rest": "s", "hold": "s", "load": "kg"}
_Ranges = list[Range[Fraction]]
_Pair = tuple[Block, ExpectedExercise]


def contradictions(
    document: Document, pieces: Iterable[int], own: Sequence[Passage], about: Sequence[_Pair]
) -> Iterator[Disagreement]:
    """Yield figures in added sentences that none of the exercises spoken of has.

    A sentence that names some of the exercises in `about` speaks of these, any other of all of them.
    """
    written = {normal(sentence) for passage in own for sentence in sentences(passage.text)}
    for at in pieces:
        piece = document.pieces[at]
        if _is_variant(document, at):
            continue
        for sentence in sentences(piece.text):
            if normal(sentence) in written:
                continue
            meant = [pair for pair in about if named(pair[1].exercise.name) in named(sentence)] or list(about)
            for said in said_in(sentence, Span(document.name)):
                allowed = [one for pair in meant for one in _prescribed(said.what, *pair)]
                if allowed and not any(one.low <= said.low and said.high <= one.high for one in allowed):
                    claim = Claim(f"the {said.what} in a sentence", said.words, piece.place)
                    source = meant[0][1].exercise.prescription_span or meant[0][1].exercise.span
                    yield Disagreement(PROSE, claim, quoted(_shown(said, allowed)), source)


def pairs(expected: Expected, one: ExpectedBlock | ExpectedExercise | None = None) -> tuple[_Pair, ...]:
    """Return each exercise with its block: of the whole episode, of a block, or of an exercise alone."""
    return tuple(
        (block.block, exercise)
        for block in expected.blocks
        for exercise in block.exercises
        if one is None or one is block or one is exercise
    )


def _is_variant(document: Document, at: int) -> bool:
    """Tell whether a piece is an easier or harder version or a caution, which may name other figures."""
    heads = [document.pieces[at].text, document.pieces[at - 1].text if at else ""]
    return normal(heads[0]).startswith(_VARIANTS) or normal(heads[1]).strip(" :") in _VARIANTS


def _prescribed(what: str, block: Block, one: ExpectedExercise) -> _Ranges:
    """Return every range that a sentence may name for a kind of figure; empty where nothing is prescribed."""
    said = one.exercise.prescription
    if what in ("sets", "rounds"):
        found = [sets for sets in (sets_of(block, one.exercise), block.rounds) if sets is not None]
        return [Range(Fraction(sets.low), Fraction(sets.high)) for sets in found]
    if what == "reps":
        return _reps(said)
    if what == "hold":
        return [said.work.seconds] if isinstance(said.work, Timed) else []
    if what == "load":
        return _loads(said)
    if said.rest_pause or said.cluster or block.form.by_minute:
        return []  # a sentence may speak of the short rests inside a set
    return [rest for rest in (said.rest, block.rest) if rest is not None]


def _reps(said: Prescription) -> _Ranges:
    """Return the repetitions of a set, of one side and of both, of each part of a cluster and of all of it."""
    counts = list(said.work.each) if isinstance(said.work, Reps) else []
    if counts:
        counts.append(Range(min(one.low for one in counts), max(one.high for one in counts)))
    counts += [Range(part, part) for part in (*said.cluster, sum(said.cluster)) if part]
    sides = (1, 2) if said.per_side else (1,)
    return [Range(Fraction(one.low * side), Fraction(one.high * side)) for one in counts for side in sides]


def _loads(said: Prescription) -> _Ranges:
    """Return the load in kilograms, of a piece and of all; a twentieth either way, for it may be said in pounds."""
    load = said.load
    if isinstance(load, Weight):
        masses = [(load.mass.in_unit("kg"), count) for count in {1, load.pieces}]
    elif isinstance(load, Bodyweight) and load.added is not None:
        masses = [(load.added.in_unit("kg"), 1)]
    else:
        masses = []
    near = (Fraction(19, 20), Fraction(21, 20))
    return [Range(mass.low * count * near[0], mass.high * count * near[1]) for mass, count in masses]


def _shown(said: Said, allowed: _Ranges) -> str:
    unit = _UNITS.get(said.what, said.what)
    first = allowed[0]
    if said.what == "load":  # the middle: the twentieth either way is no figure of the episode's
        low, high = (round(end * 100) for end in (first.low / Fraction(19, 20), first.high / Fraction(21, 20)))
        first = Range(Fraction(low, 100), Fraction(high, 100))
    return write_range(first, unit)
