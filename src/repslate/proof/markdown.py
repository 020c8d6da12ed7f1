"""The article as Markdown, read as an editor shows it; and the trainer's own Markdown as plain words."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from repslate.proof.html import LINE, read_html
from repslate.proof.reading import Document

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@cache
def _parser() -> MarkdownIt:
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark").enable(["table", "strikethrough"])


def read_markdown(name: str, data: bytes) -> Document:
    """Read CommonMark with tables and struck words as the page that it becomes, raw HTML in it included."""
    parser = _parser()
    tokens = parser.parse(data.decode("utf-8", "replace").removeprefix("\ufeff"))
    for token in tokens:
        if token.map and token.nesting >= 0:
            token.attrSet(LINE, str(token.map[0] + 1))
    page = parser.renderer.render(tokens, parser.options, {})
    return read_html(name, page.encode("utf-8", "replace"), of_markdown=True)


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


def _words(token: Token) -> str:
    parts = []
    for child in token.children or ():
        if child.type in ("text", "code_inline"):
            parts.append(child.content)
        elif child.type in ("softbreak", "hardbreak"):
            parts.append(" ")
    return "".join(parts)
