"""Cautions, the notice and the disclosure: each there word by word, and in its place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from repslate.proof.differences import DISCLOSURE, UNSEEN, Claim, Disagreement, quoted, shortened
from repslate.proof.expected import Expected, Needed
from repslate.proof.html import BOX
from repslate.proof.matching import match
from repslate.proof.reading import Document, Piece, Place
from repslate.proof.words import Kind, Word, words

_RELATED = 0.5  # share of a text's words from which a piece is taken for it (our choice)
_NAMED = 5  # lost words that a message names
# What a script does to what is shown; none of it is in the address of one from elsewhere.
_CHANGES = re.compile(
    r"\.remove\(|\.hidden\b|\.(?:inner|outer)(?:HTML|Text)|\.textContent|\.replaceWith|document\.write|"
    r"\.style\b|\.cssText|adoptedStyleSheets|insertRule|classList"
)
_Keys = list[str]


def shortened_words(
    check: str, needed: Iterable[Needed], pieces: Sequence[Piece], where: Place, *, owners: bool = False
) -> Iterator[Disagreement]:
    """Yield the needed texts that do not stand there whole, over as many pieces as they may take.

    `where` is where a missing one should stand. With `owners` each must name what it is for.
    """
    needed = tuple(needed)
    keys, starts = _joined(pieces)
    figures = {word.key for one in needed for word in words(one.text) if word.kind is Kind.NUMBER}
    taken: set[int] = set()
    for one in needed:
        topic, colon, body = one.text.partition(": ") if one.owner else ("", "", one.text)
        text = body if colon else one.text
        lead = [word for part in (topic if colon else "", one.owner if owners else "") for word in words(part)]
        wanted = [word for line in text.split("\n") for word in words(line)]
        places = [at for at in _standing(keys, [word.key for word in wanted]) if at not in taken]
        if not wanted or any(not _lacking(lead, keys, starts, at) for at in places):
            there = [at for at in places if not _lacking(lead, keys, starts, at)][:1]
            taken.update(there)
            for at in there:
                piece = pieces[sum(start <= at for start in starts) - 1]
                behind = words(piece.text)[at - max(start for start in starts if start <= at) + len(wanted) :]
                if any(word.kind is Kind.NUMBER and word.key not in figures for word in behind):
                    yield Disagreement(check, Claim(one.about, piece.text, piece.place), quoted(one.text), one.source)
        elif places:
            lost = _lacking(lead, keys, starts, places[0])
            piece = pieces[sum(start <= places[0] for start in starts) - 1]
            yield Disagreement(check, Claim(one.about, piece.text, piece.place), _also(lost), one.source)
        else:
            yield _changed(check, one, [*lead, *wanted], pieces, where)


def _joined(pieces: Sequence[Piece]) -> tuple[_Keys, list[int]]:
    """Return the words of pieces in a row, and where each piece begins among them."""
    keys: _Keys = []
    starts: list[int] = []
    for piece in pieces:
        starts.append(len(keys))
        keys += [word.key for word in words(piece.text)]
    return keys, starts


def _standing(keys: _Keys, wanted: _Keys) -> list[int]:
    size = len(wanted)
    return [
        at for at in range(len(keys) - size + 1) if keys[at : at + 1] == wanted[:1] and keys[at : at + size] == wanted
    ]


def _lacking(lead: Sequence[Word], keys: _Keys, starts: Sequence[int], at: int) -> list[Word]:
    """Return the words of a lead that stand neither before a text in its piece nor in the piece before.

    What parts them from the text, such as "do not", makes another text of it: then the lead is lacking as a whole.
    """
    begins = [start for start in starts if start <= at]
    if lead and begins[-1] != at and keys[at - 1] not in ("caution", *(word.key for word in lead)):
        return list(lead)
    near = keys[begins[-2] if len(begins) > 1 and begins[-1] == at else begins[-1] : at]
    return [word for word in lead if word.key not in near]


def _changed(check: str, one: Needed, wanted: Sequence[Word], pieces: Sequence[Piece], where: Place) -> Disagreement:
    """Return what is wrong with a text that stands nowhere whole."""
    sought = [word.key for word in wanted]
    best, kept = None, frozenset[int]()
    for piece in pieces:
        said = [word.key for word in words(piece.text)]
        same = frozenset(run.old + step for run in match(sought, said) for step in range(run.length))
        if len(same) > len(kept):
            best, kept = piece, same
    if best is None or len(kept) < _RELATED * len(sought):
        return Disagreement(check, Claim(one.about, "", where), quoted(one.text), one.source)
    lost = [word for at, word in enumerate(wanted) if at not in kept]
    claim = Claim(one.about, best.text, best.place)
    return Disagreement(check, claim, _also(lost) if lost else quoted(one.text), one.source)


def _also(lost: Sequence[Word]) -> str:
    named = dict.fromkeys(word.written for word in lost)
    return "also " + " and ".join(quoted(word) for word in list(named)[:_NAMED])


def disclosure(
    document: Document, expected: Expected, title: int | None, *, first_line: bool
) -> Iterator[Disagreement]:
    """Yield what is wrong with the disclosure: missing, changed, or not in front of the title (or in the first line).

    `title` is the index of the piece with the title, None where there is none.
    """
    text, source = expected.disclosure, expected.source("sponsor")
    visible = document.visible()
    wanted = [word.key for word in words(text)]
    top = visible[0][1].place if visible else Place(document.name)
    whole = [(at, piece) for at, piece in visible if _standing([word.key for word in words(piece.text)], wanted)]
    changed = [(at, piece) for at, piece in visible if (at, piece) not in whole and _related(piece, wanted)]
    for _, piece in changed:
        yield Disagreement(DISCLOSURE, Claim("the disclosure", piece.text, piece.place), quoted(text), source)
    if not whole:
        if not changed:
            yield Disagreement(DISCLOSURE, Claim("the disclosure", "", top), quoted(text), source)
        return
    at, piece = whole[0]
    is_first = at == visible[0][0] if first_line else title is None or at <= title
    if not is_first:
        where = "in the first line" if first_line else "before the title"
        claim = Claim("the disclosure", shortened(piece.text), piece.place)
        yield Disagreement(DISCLOSURE, claim, f"it {where}", source)


def _related(piece: Piece, wanted: _Keys) -> bool:
    said = [word.key for word in words(piece.text)]
    return sum(run.length for run in match(wanted, said)) > _RELATED * len(wanted)


def unseen(document: Document, *, copied: bool = False) -> Iterator[Disagreement]:
    """Yield what of a page nobody can judge without running it, and what might hide the words that must be seen.

    Every website has scripts and style sheets: of a page that is `copied` those are told that change what is shown.
    """
    for datum in document.data:
        if datum.name == BOX:
            claim = Claim("a box that may cover text", f"<{datum.value}>", datum.place)
            yield Disagreement(UNSEEN, claim, "none, as only a browser shows what it covers")
        if datum.name in ("script", "stylesheet") and (not copied or _CHANGES.search(datum.value)):
            what = "a script" if datum.name == "script" else "a style sheet from elsewhere"
            claim = Claim(what, datum.value or what, datum.place)
            yield Disagreement(UNSEEN, claim, "a page without any, as only a browser shows what it hides")
