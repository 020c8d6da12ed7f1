"""What a published file looks like to a reader: pieces of text in order, each with its place and its role.

Stands first in the audit: HTML, Markdown, plain text and PDF all become this before anything is understood.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from repslate.source.span import Span

POINT = 25.4 / 72  # mm
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


@dataclass(frozen=True, slots=True)
class Piece:
    """A heading, a paragraph, a row, a line. `level` is 1 to 6 in a heading, else 0.

    `cells` are those of a row, empty ones left out, where the file parts them.
    """

    text: str
    place: Place
    role: Role = Role.TEXT
    level: int = 0
    cells: tuple[str, ...] = ()


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
    """A published file, read. `ids` are what links inside it can lead to, each with the index of the piece there."""

    name: str
    pieces: tuple[Piece, ...]
    links: tuple[Link, ...] = ()
    data: tuple[Datum, ...] = ()
    ids: Mapping[str, int] = field(default_factory=dict)

    def visible(self) -> tuple[tuple[int, Piece], ...]:
        """Return the pieces that every reader sees as text, with their indexes."""
        unseen = {Role.DRAWING, Role.ALT, Role.LABEL, Role.HIDDEN}
        return tuple((index, piece) for index, piece in enumerate(self.pieces) if piece.role not in unseen)
