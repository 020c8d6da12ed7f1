"""The article as Markdown, read as an editor shows it; and the trainer's own Markdown as plain words."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from repslate.proof.reading import Document, Link, Piece, Place, Role, seen

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@cache
def _parser() -> MarkdownIt:
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark").enable("table")


def read_markdown(name: str, data: bytes) -> Document:
    """Read CommonMark with tables: each heading, paragraph, list item and table row is a piece."""
    page = _Page(name)
    for token in _parser().parse(data.decode("utf-8", "replace").removeprefix("\ufeff")):
        page.take(token)
    return Document(name, tuple(page.pieces), tuple(page.links))


@lru_cache(maxsize=8192)
def plain(markdown: str) -> str:
    """Return the words of the trainer's Markdown, one line a block, without marks, addresses and pictures."""
    lines = []
    for token in _parser().parse(markdown):
        if token.type == "inline":
            lines.append(" ".join(_words(token).split()))
        elif token.type in ("fence", "code_block", "html_block"):
            lines.append(token.content.strip())
    return "\n".join(filter(None, lines))


class _Page:
    """Collects pieces from the parser's tokens."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.pieces: list[Piece] = []
        self.links: list[Link] = []
        self._level = 0
        self._items = 0
        self._row: list[str] | None = None
        self._line = 1

    def take(self, token: Token) -> None:
        """Take the next token of a block."""
        if token.map:
            self._line = token.map[0] + 1
        if token.type in ("heading_open", "heading_close"):
            self._level = int(token.tag[1]) if token.nesting > 0 else 0
        elif token.type in ("list_item_open", "list_item_close"):
            self._items += token.nesting
        elif token.type == "tr_open":
            self._row = []
        elif token.type == "tr_close":
            cells = tuple(filter(None, map(seen, self._row or ())))
            self._add(" ".join(cells), Role.ROW, cells)
            self._row = None
        elif token.type == "inline":
            self._inline(token)
        elif token.type in ("fence", "code_block", "html_block"):
            self._add(token.content, Role.TEXT)

    def _inline(self, token: Token) -> None:
        words = _words(token)
        at = len(self.pieces)
        self.links += [Link(address, text, Place(self.name, self._line), at) for address, text in _links(token)]
        if self._row is not None:
            self._row.append(words)
            return
        self._add(words, Role.HEADING if self._level else Role.ITEM if self._items else Role.TEXT)

    def _add(self, text: str, role: Role, cells: tuple[str, ...] = ()) -> None:
        words = seen(text)
        if words:
            self.pieces.append(Piece(words, Place(self.name, self._line), role, self._level, cells=cells))


def _words(token: Token) -> str:
    parts = []
    for child in token.children or ():
        if child.type in ("text", "code_inline"):
            parts.append(child.content)
        elif child.type in ("softbreak", "hardbreak"):
            parts.append(" ")
    return "".join(parts)


def _links(token: Token) -> Iterator[tuple[str, str]]:
    address, words = "", ""
    for child in token.children or ():
        if child.type == "link_open":
            address, words = str(child.attrs.get("href", "")), ""
        elif child.type == "link_close":
            yield address, words
        else:
            words += child.content
