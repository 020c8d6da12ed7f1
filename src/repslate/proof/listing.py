"""The workout as a file lists it, exercise by exercise: what is there, in which order, and what each is told to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from repslate.model.episode import Part as Dosed
from repslate.model.prescription import Prescription
from repslate.proof.differences import (
    EXTRA,
    FIGURE,
    MISSING,
    NAME,
    ORDER,
    Claim,
    Disagreement,
    Omission,
    lacking,
    quoted,
)
from repslate.proof.doses import (
    BlockFacts,
    Dose,
    block_differences,
    differences,
    has_details,
    has_main,
    read_block_facts,
    read_dose,
)
from repslate.proof.exercise_lines import Entry, Part
from repslate.proof.expected import Expected, ExpectedBlock, ExpectedExercise
from repslate.proof.part_lines import part_differences, read_parts, split, written
from repslate.proof.reading import Document, Piece, Place
from repslate.proof.sequences import align
from repslate.proof.wording import figures
from repslate.proof.wording import key as as_key
from repslate.source.span import Span

Wanted = ExpectedBlock | ExpectedExercise
LIST, PARTS = "its list", "its parts"  # where an article speaks of an exercise; any other file has a list alone
EXERCISE, BLOCK = "exercise", "block"
_ITEM = 40  # letters of a detail that stands alone
_LEAD = 4  # words in front of a dose
_NEAR = 4  # pieces behind a heading among which its prescription is looked for


def wanted(expected: Expected, blocks: int | None = None) -> tuple[Wanted, ...]:
    """Return blocks and exercises in their order, of the first `blocks` alone if that is given."""
    found: list[Wanted] = []
    for block in expected.blocks[:blocks]:
        found += [block, *block.exercises]
    return tuple(found)


def key(one: Wanted) -> str:
    """Return the name as it compares."""
    return as_key(one.block.name if isinstance(one, ExpectedBlock) else one.exercise.name)


def called(one: Wanted) -> str:
    """Return the name as a reader finds it."""
    return one.block.name if isinstance(one, ExpectedBlock) else one.called


def compare_list(
    document: Document, found: Sequence[Entry], want: Sequence[Wanted], *, full: bool
) -> Iterator[Disagreement]:
    """Yield what a list of the workout says other than `want`; details may be left out unless it is a `full` one."""
    yield from _order(document, found, want, LIST)
    for one, entry in matched(found, want):
        yield from _label(document, entry, one)
        text, place = _behind(document, entry, words_of(one))
        yield from told(one, text, place, LIST, full=full)


def matched(found: Sequence[Entry], want: Sequence[Wanted]) -> Iterator[tuple[Wanted, Entry]]:
    """Yield what is wanted with the entry that speaks of it, under whatever name and at whatever place."""
    aligned = align([key(one) for one in want], [entry.key for entry in found])
    for at, other in sorted((*aligned.pairs, *aligned.renamed, *aligned.moved)):
        yield want[at], found[other]


def told(one: Wanted, text: str, place: Place, among: str, *, full: bool) -> Iterator[Disagreement]:
    """Yield what the words behind a name say other than the episode; `among` is where the name stands."""
    if isinstance(one, ExpectedBlock):
        facts = read_block_facts(text) if text else BlockFacts()
        if facts is None:
            yield _unlike(one, text, place, among)
            return
        found = block_differences(facts, one.block)
        source = one.block.span
    else:
        if one.exercise.parts:
            yield from _told_parts(one, text, place, among, full=full)
            return
        prescription = one.exercise.prescription
        if not text and (prescription == Prescription() or not (full or has_main(prescription))):
            return
        dose = _dose(text, prescription.words) if text else None
        source = one.exercise.prescription_span or one.exercise.span
        if dose is None:
            yield _unlike(one, text, place, among)
            return
        found = differences(dose, prescription, full=full)
    for each in found:
        lacks = None if each.found else lacking(each.what, of=called(one), among=among)
        claim = Claim(f"{called(one)}, {each.what}", text if each.found else "", place)
        yield Disagreement(FIGURE if each.found else MISSING, claim, quoted(each.expected), source, lacks)


def _told_parts(one: ExpectedExercise, text: str, place: Place, among: str, *, full: bool) -> Iterator[Disagreement]:
    parts = one.exercise.parts
    doses = read_parts(split(text, parts), parts)
    if doses is None:
        yield _unlike(one, text, place, among)
        return
    for name, each in part_differences(doses, parts, full=full):
        lacks = None if each.found else lacking(each.what, of=called(one), among=among)
        claim = Claim(f"{called(one)}, {name}, {each.what}", text if each.found else "", place)
        source = next((part.span for part in parts if part.name == name), one.exercise.span)
        yield Disagreement(FIGURE if each.found else MISSING, claim, quoted(each.expected), source, lacks)


def _dose(text: str, words: tuple[str, ...]) -> Dose | None:
    """Return the dose that a text is, with or without words that lead to it; `words` are those that it has as typed."""
    return read_dose(text, words) or read_dose(_told(text), words) or read_dose(text) or read_dose(_told(text))


def _unlike(one: Wanted, text: str, place: Place, among: str) -> Disagreement:
    if isinstance(one, ExpectedBlock):
        return Disagreement(FIGURE, Claim(called(one), text, place), "its rounds, rest and time", one.block.span)
    expected = quoted(written(one.exercise)) if written(one.exercise) else "no figures"
    source = one.exercise.prescription_span or one.exercise.span
    lacks = None if text else _without(one, among)
    return Disagreement(FIGURE if text else MISSING, Claim(called(one), text, place), expected, source, lacks)


def _without(one: Wanted, among: str, *more: str) -> Omission:
    """Return what is not there of an exercise or a block that has no figures, and what `more` is not."""
    if isinstance(one, ExpectedBlock):
        parts = [each.what for each in block_differences(BlockFacts(), one.block)]
    else:
        parts = [each.what for each in differences(Dose(Prescription(), ()), one.exercise.prescription, full=True)]
    return lacking(*parts, *more, of=called(one), among=among)


def dose_of(entry: Entry) -> Dose | None:
    """Return what an exercise's line in a list tells to do."""
    return None if entry.is_block or not entry.rest else read_dose(entry.rest)


def gives_details(found: Sequence[Entry]) -> bool:
    """Tell whether a list says more than sets, work and sides of any exercise."""
    return any(dose is not None and has_details(dose.prescription) for dose in map(dose_of, found))


def compare_parts(document: Document, found: Sequence[Part], expected: Expected) -> Iterator[Disagreement]:
    """Yield what the headings of an article's parts, and the prescriptions under them, say other than the episode."""
    want = wanted(expected)
    heads = [part.entry for part in found]
    yield from _order(document, heads, want, PARTS)
    by_piece = {part.entry.piece: part for part in found}
    for one, entry in matched(heads, want):
        yield from _label(document, entry, one)
        text, place = _under(document, by_piece[entry.piece], one)
        yield from told(one, text, place, PARTS, full=True)


def words_of(one: Wanted) -> tuple[str, ...]:
    """Return the words that stand in a prescription as typed."""
    return () if isinstance(one, ExpectedBlock) else one.exercise.prescription.words


def dose_pieces(document: Document, part: Part, one: Wanted) -> range:
    """Return the indexes of the pieces under a heading that hold the prescription or a block's rounds and rest."""
    if isinstance(one, ExpectedExercise) and one.exercise.parts:
        return _part_pieces(document, part, one.exercise.parts)
    near = [at for at in part.pieces[:_NEAR] if document.pieces[at].seen]
    for at in near:
        text = document.pieces[at].seen
        facts = read_block_facts(text) if part.entry.is_block else None
        if (facts is not None and facts != BlockFacts()) if part.entry.is_block else _dose(text, words_of(one)):
            return range(at, at + 1)
    return range(0)


def _part_pieces(document: Document, part: Part, doses: tuple[Dosed, ...]) -> range:
    """Return the piece that holds all parts of an exercise, or those that hold one each."""
    for at in part.pieces[:_NEAR]:
        if read_parts(split(document.pieces[at].seen, doses), doses) is not None:
            return range(at, at + 1)
        each = range(at, min(at + len(doses), part.pieces.stop))
        if read_parts([document.pieces[one].seen for one in each], doses) is not None:
            return each
    return range(0)


def _told(text: str) -> str:
    """Return a dose without the words that may lead to it: "To do: 10 reps"."""
    lead, colon, dose = text.partition(":")
    return dose.strip() if colon and len(lead.split()) <= _LEAD and not figures(lead) else text


def _under(document: Document, part: Part, one: Wanted) -> tuple[str, Place]:
    if part.entry.rest:
        return part.entry.rest, document.pieces[part.entry.piece].place
    found = dose_pieces(document, part, one)
    if not found:
        bare = isinstance(one, ExpectedBlock) and not any(block_differences(BlockFacts(), one.block))
        first = document.pieces[part.pieces[0]] if part.pieces and not bare else None
        if first is not None and figures(first.seen) and _is_short(first):
            return first.seen, first.place
        return "", document.pieces[part.entry.piece].place
    place = document.pieces[found.start].place
    if isinstance(one, ExpectedExercise) and one.exercise.parts:
        return "; ".join(document.pieces[at].seen for at in found), place
    return _in_items(document, part, found.start, words_of(one)), place


def _in_items(document: Document, part: Part, at: int, words: tuple[str, ...]) -> str:
    """Return a prescription with what of it stands in the pieces behind, as items of a list do."""
    text = document.pieces[at].seen
    text = text if read_dose(text, words) else _told(text)
    for piece in document.pieces[at + 1 : min(at + 1 + _NEAR, part.pieces.stop)]:
        more = f"{text}, {piece.seen}"
        if part.entry.is_block or not piece.seen or len(piece.seen) > _ITEM or not read_dose(more, words):
            break
        text = more
    return text


def _is_short(piece: Piece) -> bool:
    """Tell whether a piece can be a prescription that is spoilt, not a paragraph or the link to the film."""
    return len(piece.text) < 120 and not any(figure.unit == "clock" for figure in figures(piece.text))


def _behind(document: Document, entry: Entry, words: tuple[str, ...]) -> tuple[str, Place]:
    """Return what stands behind a name in a list, in the next line where its own has nothing."""
    place = document.pieces[entry.piece].place
    if entry.rest or entry.piece + 1 >= len(document.pieces):
        return entry.rest, place
    below = document.pieces[entry.piece + 1]
    is_told = read_block_facts(below.seen) if entry.is_block and figures(below.seen) else read_dose(below.seen, words)
    return (below.seen, below.place) if is_told else ("", place)


def _label(document: Document, entry: Entry, one: Wanted) -> Iterator[Disagreement]:
    if isinstance(one, ExpectedExercise) and entry.label and entry.label != one.exercise.label:
        piece = document.pieces[entry.piece]
        claim = Claim(f"the label of {one.exercise.name}", entry.label, piece.place)
        yield Disagreement(NAME, claim, quoted(one.exercise.label), one.exercise.span)


def _order(document: Document, found: Sequence[Entry], want: Sequence[Wanted], among: str) -> Iterator[Disagreement]:
    """Yield what is missing, more, renamed or at another place."""
    aligned = align([key(one) for one in want], [entry.key for entry in found])
    at_found = dict(sorted((*aligned.pairs, *aligned.renamed, *aligned.moved)))
    for at, other in aligned.renamed:
        claim = Claim(f"a name at the place of {called(want[at])}", found[other].name, _place(document, found[other]))
        yield Disagreement(NAME, claim, quoted(called(want[at])), _source(want[at]))
    for at, other in aligned.moved:
        claim = Claim(f"the place of {called(want[at])}", found[other].name, _place(document, found[other]))
        before = f"it behind {quoted(called(want[at - 1]))}" if at else "it first"
        yield Disagreement(ORDER, claim, before, _source(want[at]))
    for at in aligned.missing:
        last = next((found[at_found[other]] for other in range(at - 1, -1, -1) if other in at_found), None)
        place = _place(document, last) if last else Place(document.name)
        lacks = _without(want[at], among, BLOCK if isinstance(want[at], ExpectedBlock) else EXERCISE)
        yield Disagreement(MISSING, Claim(called(want[at]), "", place), "it in its place", _source(want[at]), lacks)
    for other in aligned.more:
        claim = Claim(
            f"an exercise or block at {quoted(found[other].name)}", found[other].name, _place(document, found[other])
        )
        yield Disagreement(EXTRA, claim, "only what the episode has")


def _place(document: Document, entry: Entry) -> Place:
    return document.pieces[entry.piece].place


def _source(one: Wanted) -> Span:
    return one.block.span if isinstance(one, ExpectedBlock) else one.exercise.span
