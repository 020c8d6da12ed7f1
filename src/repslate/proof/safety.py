"""Cautions, the notice and the disclosure: each kept whole in meaning, however it is set, and in its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from repslate.proof.differences import DISCLOSURE, UNSEEN, Claim, Disagreement, quoted, shortened
from repslate.proof.expected import Expected, Needed
from repslate.proof.reading import Document, Piece, Place
from repslate.proof.wording import NEGATIONS, bag, content, key, meaning, negated, sentences

_FEW = 3  # words of a heading or a remark, which is no half of a caution
_LEADS = frozenset({"caution"})
_RELATED = 0.5  # share of a caution's words from which a piece is taken for it (our choice)
# What may come with a negation that was put into a caution: "Caution: you should not stop".
_WITH_NO = frozenset({"do", "can", "may", "must", "need", "should", "will", "would", "caution"})


def shortened_words(
    check: str, needed: Iterable[Needed], pieces: Sequence[Piece], where: Place, *, owners: bool = False
) -> Iterator[Disagreement]:
    """Yield the needed texts that are not there or have lost words; what was added to them does not count.

    `where` is where a missing one should stand. With `owners` each must name what it is for.
    """
    groups: dict[int, list[Needed]] = {}
    for one in needed:
        wanted = _wanted(one, owners=owners)
        shares = [(wanted & meaning(piece.text)).total() / max(1, wanted.total()) for piece in pieces]
        its = bag(_text(one, owners=owners))  # of pieces that share as many words, the one with the same figures
        figured = [(its & bag(piece.text)).total() for piece in pieces]
        best = max(range(len(pieces)), key=lambda at: (shares[at], figured[at], at not in groups), default=-1)
        if best < 0 or shares[best] < _RELATED:
            yield Disagreement(check, Claim(one.about, "", where), quoted(one.text), one.source)
        else:
            groups.setdefault(best, []).append(one)
    for at, group in groups.items():
        wanted = sum((_wanted(one, owners=owners) for one in group), Counter[str]())
        text = _joined(at, pieces, wanted, taken=frozenset(groups))
        lost = wanted - meaning(text)
        around = "\n".join(_text(one, owners=owners) for one in group)
        for one in group:
            own = _wanted(one, owners=owners) & lost
            lost -= own
            claim = Claim(one.about, pieces[at].text, pieces[at].place)
            if own:
                words = " and ".join(quoted(word) for word in _as_written(one, own))
                yield Disagreement(check, claim, f"also {words}", one.source)
            elif turned := _turned(_text(one, owners=owners), text, around):
                yield Disagreement(check, claim, quoted(turned), one.source)


def _joined(at: int, pieces: Sequence[Piece], wanted: Counter[str], *, taken: frozenset[int]) -> str:
    """Return the text of a piece, with that of those beside it which hold the rest of what was split."""
    text = pieces[at].text
    for beside in (at + 1, at - 1, at + 2):
        if wanted - meaning(text) and 0 <= beside < len(pieces) and beside not in taken:
            more = meaning(pieces[beside].text)
            is_lead = bool(more) and not (more - wanted).keys() - _LEADS  # "Caution: knees" over the caution
            if is_lead or (more.total() > _FEW and 2 * (more & wanted).total() > more.total()):
                text = f"{text}\n{pieces[beside].text}"
    return text


def _wanted(one: Needed, *, owners: bool) -> Counter[str]:
    return meaning(_text(one, owners=owners))


def _text(one: Needed, *, owners: bool) -> str:
    return f"{one.owner} {one.text}" if owners and one.owner else one.text


def _as_written(one: Needed, lost: Counter[str]) -> list[str]:
    """Return the lost words as the episode spells them, at most five."""
    words = f"{one.owner} {one.text}".replace("-", " ").split()
    return list(dict.fromkeys(word.strip(".,;:()!?") for word in words if content(word) & lost))[:5] or list(lost)[:5]


def _turned(wanted: str, text: str, around: str) -> str | None:
    """Return the first sentence whose figures differ, or which says no where the text says yes.

    `around` is all that should stand in the same piece, so that a sentence may run into the next.
    """
    said = sentences(text)
    for sentence in sentences(wanted):
        words = content(sentence)
        best = max(said, key=lambda other: (words & content(other)).total() - 0.01 * content(other).total(), default="")
        is_version = (words & content(best)).total() * 2 > words.total()
        if is_version and (negated(best) > negated(sentence) and _added_no(best, sentence)):
            return sentence
        differs = bag(sentence) - bag(text) or bag(best) - bag(around)
        if is_version and bag(sentence) != bag(best) and differs:
            return sentence
    return None


def _added_no(text: str, sentence: str) -> bool:
    """Tell whether a negation was put in among the words of a sentence, not in words added to it."""
    others = content(text) - content(sentence)
    return all(stem in NEGATIONS or stem in _WITH_NO for stem in others)


def disclosure(
    document: Document, expected: Expected, title: int | None, *, first_line: bool
) -> Iterator[Disagreement]:
    """Yield what is wrong with the disclosure: missing, changed, or not in front of the title (or in the first line).

    `title` is the index of the piece with the title, None where there is none.
    """
    text, source = expected.disclosure, expected.source("sponsor")
    around = expected.episode.series.disclosure.replace("{sponsor}", "")  # the name itself may stand in any other text
    visible = document.visible()
    wanted, frame = content(text), content(around)
    shares = [
        (at, piece, _shared(wanted, piece) if wanted else float(key(text) in key(piece.text))) for at, piece in visible
    ]
    whole = [(at, piece) for at, piece, share in shares if share == 1]
    about = "the disclosure"
    for at, piece, share in shares:
        is_one = not frame or _shared(frame, piece) > _RELATED
        if _RELATED <= share < 1 and is_one and (at, piece) not in whole:
            yield Disagreement(DISCLOSURE, Claim(about, piece.text, piece.place), quoted(text), source)
    top = visible[0][1].place if visible else Place(document.name)
    if not whole:
        if not any(share >= _RELATED for _, _, share in shares):
            yield Disagreement(DISCLOSURE, Claim(about, "", top), quoted(text), source)
        return
    at, piece = whole[0]
    is_first = at == visible[0][0] if first_line else title is None or at <= title
    if not is_first:
        where = "in the first line" if first_line else "before the title"
        yield Disagreement(DISCLOSURE, Claim(about, shortened(piece.text), piece.place), f"it {where}", source)


def unseen(document: Document) -> Iterator[Disagreement]:
    """Yield what of a page nobody can judge without running it, and what might hide the words that must be seen."""
    for datum in document.data:
        if datum.name in ("script", "stylesheet"):
            what = "a script" if datum.name == "script" else "a style sheet from elsewhere"
            claim = Claim(what, datum.value or what, datum.place)
            yield Disagreement(UNSEEN, claim, "a page without any, as only a browser shows what it hides")


def _shared(words: Counter[str], piece: Piece) -> float:
    return (words & content(piece.text)).total() / words.total()
