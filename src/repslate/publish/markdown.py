"""The trainer's Markdown made safe: as HTML, as Markdown for somebody else's editor, or as plain words.

Raw HTML is off everywhere, and links are judged by one rule; behind the HTML stands a second wall.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from repslate.publish.guard import allowed_link

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

TAGS = frozenset("a blockquote br code em hr li ol p pre strong table tbody td th thead tr ul".split())


@cache
def _markdown(*, tables: bool = True) -> MarkdownIt:
    from markdown_it import MarkdownIt

    # The commonmark preset has raw HTML on; it must be off before anything is rendered.
    parser = MarkdownIt("commonmark", {"html": False, "linkify": False, "typographer": False})
    parser.validateLink = allowed_link  # type: ignore[method-assign]
    return parser.enable("table") if tables else parser


def _tokens(markdown: str, *, tables: bool = True) -> list[Token]:
    """Parse blocks; images go (pictures are placed by the page), headings become paragraphs of their words.

    The page's own headings are the only ones, or their order would break.
    """
    tokens = _markdown(tables=tables).parse(markdown)
    for token in tokens:
        if token.children:
            token.children = [child for child in token.children if child.type != "image"]
        if token.type in {"heading_open", "heading_close"}:
            token.type = token.type.replace("heading", "paragraph")
            token.tag = "p"
    return [token for i, token in enumerate(tokens) if not _empty_paragraph(tokens, i)]


def to_html(markdown: str, *, inline: bool = False) -> str:
    """Render Markdown as HTML that holds nothing but text, links and simple structure; images are left out.

    `inline` renders a phrase without the paragraph around it.
    """
    import nh3

    parser = _markdown()
    tokens = parser.parseInline(markdown) if inline else _tokens(markdown)
    html = parser.renderer.render(tokens, parser.options, {})
    return nh3.clean(
        html,
        tags=set(TAGS),
        attributes={"a": {"href", "title"}, "ol": {"start"}},
        url_schemes={"http", "https", "mailto"},
        link_rel="noopener noreferrer",
        strip_comments=True,
        url_relative="pass_through",
    )


def to_markdown(markdown: str) -> str:
    """Return the text as plain CommonMark: what looked like HTML is escaped, a refused link is words, no images."""
    from mdformat.renderer import MDRenderer

    # Without the table extension a table's lines pass as they are, which is what an editor that knows tables wants.
    text = MDRenderer().render(_tokens(markdown, tables=False), {"parser_extension": [], "mdformat": {}}, {})
    return text.strip()


def escape(words: str) -> str:
    """Return plain words as CommonMark that shows them unchanged."""
    return re.sub(r"([\\`*_\[\]<~]|&(?=#?\w+;)|#(?=#*$))", r"\\\1", words)


def to_plain(markdown: str) -> str:
    """Return the words alone, one line a block: link texts without addresses, no emphasis marks, no images."""
    lines = []
    for token in _markdown().parse(markdown):
        if token.type == "inline":
            lines.append("".join(_words(child) for child in token.children or []).strip())
        elif token.type in {"fence", "code_block"}:
            lines.append(token.content.strip())
    return "\n".join(line for line in lines if line)


def _words(token: Token) -> str:
    if token.type in {"text", "code_inline"}:
        return token.content
    return " " if token.type in {"softbreak", "hardbreak"} else ""


def _empty_paragraph(tokens: list[Token], index: int) -> bool:
    """Tell whether the token belongs to a paragraph whose only content was an image."""
    for start in (index, index - 1, index - 2):
        if 0 <= start <= len(tokens) - 3 and tokens[start].type == "paragraph_open":
            inside = tokens[start + 1]
            if inside.type == "inline" and not any(_words(c).strip() for c in inside.children or []):
                return True
    return False
