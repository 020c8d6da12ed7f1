"""What a published text says, and where it says something else than the episode: data, turned into findings here."""

from __future__ import annotations

from dataclasses import dataclass

from repslate.proof.reading import Document, Place
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

_SHOWN = 90  # characters of a quotation in a message

FIGURE, MISSING, EXTRA, ORDER, NAME = "audit-figure", "audit-missing", "audit-extra", "audit-order", "audit-name"
CAUTION, NOTICE, DISCLOSURE = "audit-caution", "audit-notice", "audit-disclosure"
TIME, LINK, UNREADABLE = "audit-time", "audit-link", "audit-unreadable"
PROSE, LEFT_OUT, UNSEEN = "audit-prose", "audit-left-out", "audit-unseen"
HIDDEN, TALK, WORDING, OTHER = "audit-hidden", "audit-talk", "audit-wording", "audit-other-text"
DRAWN, ADDED, COPIED, RESIZED = "audit-drawn", "audit-added", "audit-copied", "audit-resized"

# What to do, by check; every one ends with the way back to agreement.
FIX = {
    FIGURE: "put the figure right in this file, or change it in workout.md and build again",
    MISSING: "put it back, or take it out of workout.md and build again",
    EXTRA: "take it out of this file, or add it to workout.md and build again",
    ORDER: "put it back in its place, or change the order in workout.md and build again",
    NAME: "write it as the episode has it, or change it in workout.md and build again",
    CAUTION: "put the caution's words back; a caution may be added to, and never shortened",
    NOTICE: "put the notice's words back; it may be added to, and never shortened",
    DISCLOSURE: "put the disclosure back, whole and in front of everything else",
    TIME: "put the time right in this file, or change it in the chapters or in workout.md and build again",
    LINK: "put the address right in this file, or change it in workout.md or series.yaml and build again",
    UNREADABLE: "build again, or undo what was changed in this file",
    PROSE: "put the figure right in this file, or in workout.md and build again",
    HIDDEN: "show it to everybody, unfolded, on every device, or build again",
    TALK: "if it is meant, write it in workout.md and build again; else put it back as it was",
    WORDING: "",
    OTHER: "is it the text of another episode, or an early one? give the one that belongs to this episode",
    DRAWN: "take it off again, or build again; if it is meant, write it in workout.md",
    ADDED: "nothing, if it is meant; else take it off again, or build again",
    COPIED: "build again, or save the card with a program that keeps its text",
    RESIZED: "",
    UNSEEN: "look at the page in a browser, in its dark colours and in print too, before you publish it",
}


@dataclass(frozen=True, slots=True)
class Claim:
    """What a published text says of something.

    `subject` is what it speaks of ("A1 Goblet squat", "the chapter “Welcome”"), `words` are its own.
    """

    subject: str
    words: str
    place: Place


@dataclass(frozen=True, slots=True)
class Omission:
    """What is not there: `parts`, by the names that verdict.py has them under, of an exercise, a block or the file.

    `among` says where in an article something is missing that it has twice, in its list or in its parts.
    """

    parts: frozenset[str]
    of: str = ""
    among: str = ""


def lacking(*parts: str, of: str = "", among: str = "") -> Omission:
    """Return what is not there."""
    return Omission(frozenset(parts), of, among)


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A claim that is not what the episode says: `expected` in words, `source` where the episode says it.

    A claim without words is one that is not made; its place is then where it was looked for. `lacks` names what is
    left out where a file may do without it, as some may: verdict.py says which.
    """

    check: str
    claim: Claim
    expected: str
    source: Span | None = None
    lacks: Omission | None = None

    def finding(self) -> Finding:
        """Return it as a finding that names both places, both values and what to do."""
        claim = self.claim
        paper = claim.place.on_paper()
        said = f"found “{shortened(claim.words)}”" if claim.words else "found nothing of it"
        source = f" as {self.source.file}, line {self.source.line}, has it" if self.source else ""
        message = f"{f'{paper}: ' if paper else ''}{claim.subject}: {said}, expected {self.expected}{source}"
        return Finding(self.check, Severity.ERROR, claim.place.span(len(claim.words)), message, FIX[self.check])


def excess(document: Document) -> Disagreement | None:
    """Return that a file holds too much to be compared; None for any honest one."""
    over = document.excess()
    return Disagreement(UNREADABLE, Claim("the file", over[0], Place(document.name)), over[1]) if over else None


def shortened(text: str) -> str:
    """Return a text on one line, cut to what a message can hold."""
    line = " ".join(text.split())
    return line if len(line) <= _SHOWN else f"{line[: _SHOWN - 1].rstrip()}…"


def quoted(text: str) -> str:
    """Return a text in quotation marks, cut to what a message can hold."""
    return f"“{shortened(text)}”"
