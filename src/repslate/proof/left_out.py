"""What an article or a card has beside the workout and its safety words, told where a template leaves it out.

None of it has to be there, so only what is gone as a whole counts: to cut a part of it is the author's business.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from repslate.model.episode import Prose, Words
from repslate.proof.differences import LEFT_OUT, Claim, Disagreement, lacking
from repslate.proof.expected import Expected
from repslate.proof.markdown import plain
from repslate.proof.numbers import load_row
from repslate.proof.reading import Document, Place, Role
from repslate.proof.wording import meaning, normal, shared

_SHOWN = 0.75  # share of a text's words that stand together somewhere on the page (our choice)


def left_out(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield each thing that an article shows nothing of."""
    said = [meaning(piece.text) for piece in document.pieces if piece.role not in (Role.LABEL, Role.HIDDEN)]
    for part, of, texts in _passages(expected):
        if texts and not any(_is_shown(meaning(text), said) for text in texts):
            yield _absent(document, part, of)
    spent = [normal(piece.text) for piece in document.pieces if piece.role is not Role.HIDDEN]
    if expected.numbers.time.total.high and not any(" of work" in text for text in spent):
        yield _absent(document, "times")
    if expected.numbers.muscles and not any("sets per muscle" in text for text in spent):
        yield _absent(document, "sets per muscle")


def no_loads(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield that an article or a card has no row of a table of loads."""
    if expected.numbers.loads and not any(load_row(piece) for piece in document.pieces):
        yield _absent(document, "loads")


def _is_shown(words: Counter[str], said: Iterable[Counter[str]]) -> bool:
    return any(shared(words, one) >= _SHOWN * words.total() for one in said)


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
