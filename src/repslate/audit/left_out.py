"""What an article or a card has beside the workout and its safety words: told where a template leaves it out.

Nothing of it has to be there, so only its absence as a whole counts. A part of it is the author's to cut.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from repslate.audit.claims import LEFT_OUT, Claim, Disagreement, lacking
from repslate.audit.expected import Expected
from repslate.audit.markdown import plain
from repslate.audit.reading import Document, Place, Role
from repslate.audit.wording import meaning, normal
from repslate.model.episode import Prose, Words

_SHOWN = 0.5  # share of a passage's words that stand somewhere on the page (our choice)


def left_out(document: Document, expected: Expected, *, card: bool) -> Iterator[Disagreement]:
    """Yield each thing that a page shows nothing of; a card owes its reader the tables of loads alone."""
    rows = [normal(piece.text) for piece in document.pieces if piece.role in (Role.ROW, Role.CAPTION)]
    if expected.numbers.loads and not any("1rm" in row for row in rows):
        yield _absent(document, "loads")
    if card:
        return
    words: Counter[str] = Counter()
    for piece in document.pieces:
        if piece.role not in (Role.LABEL, Role.HIDDEN):
            words |= meaning(piece.text)

    def shown(text: str) -> bool:
        wanted = meaning(text)
        return (wanted & words).total() >= _SHOWN * wanted.total()

    for part, of, texts in _passages(expected):
        if texts and not any(map(shown, texts)):
            yield _absent(document, part, of)
    spent = [normal(piece.text) for piece in document.pieces if piece.role is not Role.HIDDEN]
    if expected.numbers.time.total.high and not any(" of work" in text for text in spent):
        yield _absent(document, "times")
    if expected.numbers.muscles and not any("sets per muscle" in text for text in spent):
        yield _absent(document, "sets per muscle")


def _passages(expected: Expected) -> Iterator[tuple[str, str, list[str]]]:
    """Yield what is said in words: the part, whose it is, and its texts."""
    episode = expected.episode
    yield "introduction", "", list(_prose(episode.lead))
    yield "pictures", "", [episode.picture.description] if episode.picture else []
    for block in expected.blocks:
        yield "instructions", block.block.name, list(_prose(block.block.prose))
        for one in block.exercises:
            exercise = one.exercise
            yield "instructions", one.called, list(_prose(exercise.prose))
            yield "cues", one.called, list(_words(exercise.cues))
            yield "easier", one.called, list(_words(exercise.easier))
            yield "harder", one.called, list(_words(exercise.harder))
            yield "pictures", one.called, [picture.description for picture in exercise.pictures]
    for title, prose in episode.notes:
        yield "notes", title.text, list(_prose(prose))


def _prose(texts: Iterable[Prose]) -> Iterator[str]:
    return (plain(text.markdown) for text in texts)


def _words(texts: Iterable[Words]) -> Iterator[str]:
    return (plain(text.text) for text in texts)


def _absent(document: Document, part: str, of: str = "") -> Disagreement:
    claim = Claim(part, "", Place(document.name))
    return Disagreement(LEFT_OUT, claim, "it somewhere on the page", lacks=lacking(part, of=of))
