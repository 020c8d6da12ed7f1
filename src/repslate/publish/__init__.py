"""Facts to bytes: every figure is worded in view.py, every output is rendered from the view. OUTPUTS lists them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.cut.chapters import Chapter
from repslate.publish import article, article_markdown, caption, card, chapters, cut_page, description
from repslate.publish.look import Look
from repslate.publish.view import View


@dataclass(frozen=True, slots=True)
class Output:
    """One published file.

    `name` may hold "{slug}". `render` returns its bytes, or None where the episode has nothing to put in it.
    `needs_pango` marks what cannot be made on a machine without that library.
    """

    name: str
    render: Callable[[View, Look], bytes | None]
    needs_pango: bool = False


def _list(compose: Callable[[Sequence[Chapter], Fraction | None], bytes]) -> Callable[[View, Look], bytes | None]:
    return lambda view, _look: compose(view.chapters, view.cut_length) if view.chapters else None


#: Alone it can be written whatever errors the workout has: what is wrong with the cut is what its editor wants to see.
CUT_PAGE = Output("cut.html", cut_page.render)
#: First, because the other texts promise no more than it links.
ARTICLE = Output("article.html", article.render)
OUTPUTS = (
    ARTICLE,
    Output("article.md", article_markdown.render),
    Output("card-a4.pdf", card.render_a4, needs_pango=True),
    Output("card-letter.pdf", card.render_letter, needs_pango=True),
    Output("chapters.txt", _list(chapters.chapters_txt)),
    Output("chapters.vtt", _list(chapters.chapters_vtt)),
    Output("chapters.ffmeta", _list(chapters.chapters_ffmeta)),
    Output("description.txt", description.render),
    Output("caption.txt", caption.render),
    CUT_PAGE,
    Output("{slug}.jpg", lambda view, look: look.preview(view.picture) if view.picture else None),
)
