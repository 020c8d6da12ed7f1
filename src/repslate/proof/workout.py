"""A file that tells the workout to people, held against the episode: article, card, description and caption.

What each kind of file owes its reader stands in its rules; everything else is the same for all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from repslate.model.text_length import count
from repslate.proof import listing
from repslate.proof.chapter_files import listed
from repslate.proof.chapter_times import compare_marks
from repslate.proof.differences import CAUTION, NOTICE, Disagreement, excess
from repslate.proof.exercise_lines import Entry, Names, Part, entries, parts, split
from repslate.proof.expected import Expected, ExpectedBlock, Needed, Passage
from repslate.proof.front_facts import (
    compare_date,
    compare_facts,
    compare_items,
    compare_origin,
    compare_title,
    facts_in,
    title_piece,
)
from repslate.proof.left_out import no_loads
from repslate.proof.links import (
    compare_address,
    compare_cards,
    compare_inside,
    compare_jump,
    compare_next,
    compare_printed,
)
from repslate.proof.numbers import compare_drawings, compare_loads, compare_times
from repslate.proof.part_lines import brief, written
from repslate.proof.prose import changed_figures
from repslate.proof.reading import Document, Piece, Place, Role
from repslate.proof.safety import disclosure, shortened_words, unseen
from repslate.proof.structured import compare_json_ld, compare_meta
from repslate.proof.wording import normal


@dataclass(frozen=True, slots=True)
class Rules:
    """What one kind of file owes its reader.

    `articles` have a part for each exercise, `posts` a limit of length, which lets them leave things out, and the
    disclosure in their first line. `machines` reads meta tags and JSON-LD too.
    """

    article: bool = False
    machines: bool = False
    card: bool = False
    post: bool = False
    caption: bool = False


PAGE = Rules(article=True, machines=True)
ARTICLE = Rules(article=True)
CARD = Rules(card=True)
DESCRIPTION = Rules(post=True)
CAPTION = Rules(post=True, caption=True)


def compare_workout(document: Document, expected: Expected, rules: Rules) -> Iterator[Disagreement]:
    """Yield everything in which a file disagrees with the episode, in the order of the kinds of claims."""
    if over := excess(document):
        yield over
        return
    found = entries(document, Names(expected))
    listed_, headed = split(document, found) if rules.article else (found, ())
    top = min((entry.piece for entry in found), default=len(document.pieces))
    yield from _head(document, expected, rules, top)
    yield from _list(document, expected, rules, listed_)
    yield from _safety(document, expected, rules, listed_, headed)
    if rules.article:
        yield from listing.compare_parts(document, headed, expected)
        yield from _parts(document, expected, headed)
    title = title_piece(document, expected, top)
    yield from _prose(document, expected, listed_, headed, title)
    if rules.machines:
        yield from compare_inside(document, expected)
        yield from compare_cards(document)
        yield from compare_meta(document, expected)
        yield from compare_json_ld(document, expected)
    else:
        yield from _address(document, expected, rules)
    if rules.machines or rules.card:
        yield from compare_drawings(document, expected)
        yield from no_loads(document, expected)
    if rules.machines:
        yield from unseen(document)


def _head(document: Document, expected: Expected, rules: Rules, top: int) -> Iterator[Disagreement]:
    if expected.disclosure:
        title = title_piece(document, expected, top)
        before = top if title is None else title
        yield from disclosure(document, expected, before, first_line=rules.post)
    yield from compare_title(document, expected, top)
    if not (rules.card or rules.caption):
        yield from compare_origin(document, expected, top)
    if rules.article or rules.card:
        yield from compare_facts(document, expected, top)
    if not rules.caption and not (rules.post and _no_room(document, expected, rules, _equipment_words(expected))):
        yield from compare_items(document, "equipment", expected.equipment, top, expected.source("equipment"))
    if rules.article:
        yield from compare_items(document, "muscles", expected.muscles, top, expected.source("focus"))
    episode = expected.episode
    visible = [piece for _, piece in document.visible()]
    if rules.machines:
        yield from compare_date(document, "of publication", episode.published, visible, expected.source("published"))
    if rules.card:
        yield from compare_date(document, "of recording", episode.recorded, visible, expected.source("recorded"))
    if rules.post and not rules.caption:
        title = title_piece(document, expected, top)
        shown = [piece for at, piece in document.visible() if at != title]  # a title may begin with a clock
        marks = [mark for piece in shown if (mark := listed(piece.text, piece.place))]
        yield from compare_marks(document.name, marks, expected.chapters, per_second=1)


def _list(document: Document, expected: Expected, rules: Rules, found: Sequence[Entry]) -> Iterator[Disagreement]:
    """Compare the list of the workout; a post may end early, or leave details out, where its host leaves no room."""
    want = listing.wanted(expected)
    full = not rules.caption
    if rules.post:
        blocks = len(expected.blocks)
        if rules.caption:
            shown = {entry.key for entry in found}
            while blocks and not {listing.key(one) for one in _of_block(expected.blocks[blocks - 1])} & shown:
                blocks -= 1
        elif not found:
            blocks = 0
        if blocks < len(expected.blocks) and _no_room(document, expected, rules, _words(expected.blocks[blocks:])):
            want = listing.wanted(expected, blocks)
        if full and not listing.gives_details(found) and _no_room(document, expected, rules, _details(expected)):
            full = False
    yield from listing.compare_list(document, found, want, full=full)


def _safety(
    document: Document, expected: Expected, rules: Rules, found: Sequence[Entry], headed: Sequence[Part]
) -> Iterator[Disagreement]:
    visible = document.visible()
    pieces = [piece for _, piece in visible]
    start = Place(document.name)
    if rules.article or rules.card:
        scoped = headed if rules.article else parts(document, found)
        owned = {id(one): part for part, one in _owners(scoped, expected)}
        seen = dict(visible)
        for one in listing.wanted(expected):
            part, is_block = owned.get(id(one)), isinstance(one, ExpectedBlock)
            if part is None:  # anywhere, an exercise's with the name of what it is for
                yield from shortened_words(CAUTION, one.cautions, pieces, start, owners=not is_block)
                continue
            reach = _block_of(part, scoped) if rules.card and is_block else part.pieces
            near = [seen[at] for at in reach if at in seen]
            place = document.pieces[part.entry.piece].place
            yield from shortened_words(CAUTION, one.cautions, near, place)
    elif not rules.caption:
        cautions = tuple(_cautions(expected))
        written = sum(len(one.text) + len(one.owner) for one in cautions)
        said = [piece for piece in pieces if normal(piece.text).startswith("caution")]
        if said or not _no_room(document, expected, rules, written):
            yield from shortened_words(CAUTION, cautions, said, start, owners=True)
    notice = expected.notice_caption if rules.caption else expected.notice_short
    if rules.article:
        notice = (*expected.notice, *notice)
    if not rules.post:
        notice = (*notice, *expected.safety)
    yield from shortened_words(NOTICE, notice, _apart(found, headed, visible), start)


def _parts(document: Document, expected: Expected, headed: Sequence[Part]) -> Iterator[Disagreement]:
    """Compare what stands under each heading of an article: the way into the film, the words, the way on."""
    order = list(expected.exercises)
    for part, one in _owners(headed, expected):
        told = listing.dose_pieces(document, part, one)
        pieces = [document.pieces[at] for at in part.pieces if at not in told and _is_read(document.pieces[at])]
        yield from changed_figures(pieces, (*one.passages, *_as_passages(one.cautions)))
        if not isinstance(one, ExpectedBlock):
            following = order[order.index(one) + 1 :]
            yield from compare_jump(document, part, one, expected)
            yield from compare_next(document, part, following[0] if following else None)


def _prose(
    document: Document, expected: Expected, found: Sequence[Entry], headed: Sequence[Part], title: int | None
) -> Iterator[Disagreement]:
    """Compare the text that stands in no exercise's part: introduction, safety words, notes, what it takes."""
    inside = {at for part in headed for at in (part.entry.piece, *part.pieces)} | {entry.piece for entry in found}
    inside |= {at for at, piece in enumerate(document.pieces) if listed(piece.text, piece.place) or facts_in(piece) > 1}
    outside = [at for at, piece in enumerate(document.pieces) if at not in inside and at != title and _is_read(piece)]
    rest = [document.pieces[at] for at in outside]
    needed = (*expected.notice, *expected.notice_short, *expected.safety)
    passages = (*expected.passages, *_as_passages(needed))
    named = [piece for piece in rest if not normal(piece.text).startswith("caution, ")]  # by the name it is for
    yield from changed_figures(named, passages)
    spent = [piece for piece in rest if " of work" in normal(piece.text) or "kcal" in normal(piece.text)]
    yield from compare_times(spent, expected)
    yield from compare_loads([piece for piece in rest if piece.role in (Role.ROW, Role.CAPTION)], expected)


def _address(document: Document, expected: Expected, rules: Rules) -> Iterator[Disagreement]:
    if rules.card:
        yield from compare_printed(document, expected, [piece.text for _, piece in document.visible()])
    if rules.post:
        series = expected.episode.series
        addresses = [link.address for link in document.links]
        yield from compare_address(document, expected.address, addresses, series.span or expected.episode.span)


def _owners(found: Sequence[Part], expected: Expected) -> Iterator[tuple[Part, listing.Wanted]]:
    by_piece = {part.entry.piece: part for part in found}
    for one, entry in listing.matched([part.entry for part in found], listing.wanted(expected)):
        yield by_piece[entry.piece], one


def _apart(found: Sequence[Entry], headed: Sequence[Part], visible: Sequence[tuple[int, Piece]]) -> list[Piece]:
    """Return the visible pieces that are neither in the list nor in an exercise's part, where the notice stands."""
    inside = {entry.piece for entry in found} | {at for part in headed[:-1] for at in part.pieces}
    return [piece for at, piece in visible if at not in inside and not normal(piece.text).startswith("caution")]


def _as_passages(needed: Sequence[Needed]) -> tuple[Passage, ...]:
    return tuple(Passage(one.about, one.text, one.source) for one in needed)


def _cautions(expected: Expected) -> Iterator[Needed]:
    for block in expected.blocks:
        yield from block.cautions
        for one in block.exercises:
            yield from one.cautions


def _block_of(part: Part, scoped: Sequence[Part]) -> range:
    """Return the pieces up to the next block: a card has a block's cautions behind its exercises."""
    later = [other.entry.piece for other in scoped if other.entry.is_block and other.entry.piece > part.entry.piece]
    return range(part.entry.piece + 1, later[0] if later else scoped[-1].pieces.stop)


def _of_block(block: ExpectedBlock) -> tuple[listing.Wanted, ...]:
    return (block, *block.exercises)


def _is_read(piece: Piece) -> bool:
    return piece.role not in (Role.DRAWING, Role.LABEL, Role.HIDDEN)


# ---- what a host's limit lets out


_SLACK = 1.05  # for what the words are joined with: better silent than loud where it is close


def _no_room(document: Document, expected: Expected, rules: Rules, more: int) -> bool:
    """Tell whether about `more` characters would go over the limit of the host that a post is for."""
    series = expected.episode.series
    profile = series.host.caption if rules.caption else series.host.description
    if profile.maximum is None:
        return False
    text = "\n\n".join(piece.text for piece in document.pieces)
    return (count(text, profile) + more) * _SLACK > profile.maximum


def _equipment_words(expected: Expected) -> int:
    return sum(len(item.text) for item in expected.equipment)


def _words(blocks: Sequence[ExpectedBlock]) -> int:
    """Return about how many characters blocks take in a list."""
    lines = [f"{block.block.name} · 3 rounds · rest 60–90 s after each round" for block in blocks]
    for block in blocks:
        for one in block.exercises:
            lines.append(f"{one.called}: {brief(one.exercise)}")
    return len("\n".join(lines))


def _details(expected: Expected) -> int:
    """Return about how many characters the details of all prescriptions take."""
    return sum(len(written(one.exercise)) - len(brief(one.exercise)) for one in expected.exercises)
