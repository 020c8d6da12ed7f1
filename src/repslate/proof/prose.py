"""Running text: sentences may be reworded as long as each keeps its figures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.proof.differences import PROSE, Claim, Disagreement, quoted
from repslate.proof.expected import Passage
from repslate.proof.reading import Piece
from repslate.proof.wording import bag, meaning, normal, sentences, shared

ALIKE = 0.6  # share of content words from which two sentences are versions of one (our choice, tried on the samples)
ALMOST = 0.85  # the same where one of the two has no figure at all: a short phrase may share its few words by chance
_CLOSE = 0.1  # shares this near to each other say nothing of which is meant


@dataclass(frozen=True, slots=True)
class _Known:
    """A sentence of the episode."""

    text: str
    words: Counter[str]
    passage: Passage


def changed_figures(pieces: Iterable[Piece], passages: Sequence[Passage]) -> Iterator[Disagreement]:
    """Yield the sentences that are those of a passage with other figures; new sentences and reworded ones are fine."""
    known = [
        _Known(sentence, meaning(sentence), passage) for passage in passages for sentence in sentences(passage.text)
    ]
    exact = {normal(one.text) for one in known}
    others = sum((bag(passage.text) for passage in passages), Counter[tuple[Fraction, str]]())
    for piece in pieces:
        for sentence in sentences(piece.text):
            if normal(sentence) in exact:
                continue
            like = _nearest(sentence, known)
            if like is not None and _differs(sentence, piece, like, others):
                claim = Claim(like.passage.about, sentence, piece.place)
                yield Disagreement(PROSE, claim, f"its figures as in {quoted(like.text)}", like.passage.source)


def _nearest(sentence: str, known: Sequence[_Known]) -> _Known | None:
    """Return the sentence that another is a version of; of several that are as near, one with its figures."""
    words = meaning(sentence)
    if words.total() < 2 and not bag(sentence):  # one word, such as "Done on", is no version of a sentence
        return None
    near = [(share, one) for one in known if (share := _share(words, one.words)) >= ALIKE]
    if not near:
        return None
    best = max(share for share, _ in near)
    same = (one for share, one in near if share > best - _CLOSE and bag(one.text) == bag(sentence))
    return next(same, None) or next(one for share, one in near if share == best)


def _differs(sentence: str, piece: Piece, like: _Known, others: Counter[tuple[Fraction, str]]) -> bool:
    """Tell whether figures differ; those that only moved to or came from a neighbouring sentence do not."""
    said, meant = bag(sentence), bag(like.text)
    if said == meant or (not (said and meant) and _share(meaning(sentence), like.words) < ALMOST):
        return False
    return bool(meant - bag(piece.text)) or bool(said - bag(like.passage.text) - others)


def _share(one: Counter[str], other: Counter[str]) -> float:
    sizes = one.total(), other.total()
    if 2 * min(sizes) < ALIKE * sum(sizes) or not any(sizes):
        return 0.0
    return 2 * shared(one, other) / sum(sizes)
