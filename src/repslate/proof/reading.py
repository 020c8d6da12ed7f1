"""What a published file looks like to a reader: pieces of text in order, each with its place and its role."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from repslate.source.span import Span

POINT = 25.4 / 72  # mm
# A workout of the 120 exercises that one may have, each with all that can be said of it, comes to a third of these.
_PIECES = 4_000
_REFERENCES = 8_000
_LETTERS = 200_000
_LONGEST = 10_000  # letters of one piece
Excess = tuple[str, str]  # what there is too much of, and how much may be
#: Soft hyphens, and what joins, parts or turns letters round: nobody sees them.
UNSEEN = "\u00ad\u061c\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff"
_NOTHING = dict.fromkeys(map(ord, UNSEEN))


def seen(text: str) -> str:
    """Return a text on one line without what nobody sees."""
    return " ".join(text.translate(_NOTHING).split())


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands in a published file.

    `line` and `column` count from 1. On paper `page` counts from 1, and `x` and `y` are millimetres from the left and
    from the top of the page.
    """

    file: str
    line: int = 1
    column: int = 1
    page: int | None = None
    x: float = 0.0
    y: float = 0.0

    def span(self, length: int) -> Span:
        """Return the place as a finding has it."""
        return Span(self.file, self.line, self.column, max(1, length))

    def on_paper(self) -> str:
        """Say where on the page: "page 1, 14 mm from the left, 88 mm from the top"; "" for a file of lines."""
        if self.page is None:
            return ""
        return f"page {self.page}, {self.x:.0f} mm from the left, {self.y:.0f} mm from the top"


def too_many(pieces: int, references: int) -> Excess | None:
    """Say which of the two a file has too many of; None for any honest file."""
    if pieces > _PIECES:
        return f"more than {_PIECES:,} paragraphs, rows and lines", "fewer"
    return (f"more than {_REFERENCES:,} links and tags for machines", "fewer") if references > _REFERENCES else None


class Role(StrEnum):
    """What a piece of text is on its page."""

    HEADING = "heading"
    ROW = "row of a table"
    ITEM = "list item"
    CAPTION = "caption of a table"
    TEXT = "text"
    DRAWING = "text in a drawing"
    ALT = "description of a picture"
    LABEL = "label for screen readers"
    HIDDEN = "hidden text"


_UNSEEN = frozenset({Role.DRAWING, Role.ALT, Role.LABEL, Role.HIDDEN})


@dataclass(frozen=True, slots=True)
class Piece:
    """A heading, a paragraph, a row, a line. `level` is 1 to 6 in a heading, else 0.

    `sure` is what of its text every reader sees, on screen and on paper, where that is known to be less.
    `cells` are those of a row, empty ones left out, where the file parts them. `around` tells what a website puts
    around a text: its menu, its foot, its lists of other posts.
    """

    text: str
    place: Place
    role: Role = Role.TEXT
    level: int = 0
    sure: str | None = None
    cells: tuple[str, ...] = ()
    around: bool = False

    @property
    def seen(self) -> str:
        """What every reader sees of it as text; "" for what only some see, or none."""
        return "" if self.role in _UNSEEN else self.text if self.sure is None else self.sure


@dataclass(frozen=True, slots=True)
class Link:
    """An address that a text leads to; `piece` is the index of the piece that it stands in."""

    address: str
    words: str
    place: Place
    piece: int


@dataclass(frozen=True, slots=True)
class Datum:
    """What only machines read: `name` is a path such as "og:title" or "video/hasPart/0/startOffset"."""

    name: str
    value: str
    place: Place
    piece: int = 0


@dataclass(frozen=True, slots=True)
class Document:
    """A published file, read. `ids` are what links inside it can lead to, each with the index of the piece there.

    `unread` says why reading stopped before the end, None where all was read.
    """

    name: str
    pieces: tuple[Piece, ...]
    links: tuple[Link, ...] = ()
    data: tuple[Datum, ...] = ()
    ids: Mapping[str, int] = field(default_factory=dict)
    unread: Excess | None = None

    def excess(self) -> Excess | None:
        """Say what there is too much of to be compared; None for any honest file."""
        letters = sum(len(piece.text) for piece in self.pieces)
        longest = max((len(piece.text) for piece in self.pieces), default=0)
        found = self.unread or too_many(len(self.pieces), len(self.links) + len(self.data))
        if not found and letters > _LETTERS:
            return f"{letters:,} letters", f"at most {_LETTERS:,}"
        if not found and longest > _LONGEST:
            return f"a paragraph of {longest:,} letters", f"at most {_LONGEST:,}"
        return found

    def visible(self) -> tuple[tuple[int, Piece], ...]:
        """Return the pieces that every reader sees as text, of each what they see of it, with their indexes."""
        return tuple(
            (index, piece if piece.sure in (None, piece.text) else replace(piece, text=piece.sure or "", cells=()))
            for index, piece in enumerate(self.pieces)
            if piece.seen or (piece.sure is None and piece.role not in _UNSEEN)
        )
