"""The text that goes with the post on a social feed: disclosure in the first line, shortened by whole items only."""

from __future__ import annotations

from collections.abc import Callable

from repslate.model.notice import CLOSING_CAPTION, CLOSING_CAPTION_BARE, NOTICE_CAPTION
from repslate.model.text_length import count
from repslate.publish.look import Look
from repslate.publish.typeset import isolated
from repslate.publish.view import BlockView, View


def render(view: View, _look: Look) -> bytes:
    """Render caption.txt: the opening, then blocks, then hashtags, as many whole items as the profile lets in.

    Disclosure, title, notice and address are never left out; a check tells where even they do not fit.
    """
    profile = view.series.host.caption

    def fits(text: str) -> bool:
        return profile.maximum is None or count(text, profile) <= profile.maximum

    opening = view.opening if fits(_composed(view, view.opening, (), ())) else ""
    blocks = _most(tuple(map(_block, view.blocks)), lambda some: fits(_composed(view, opening, some, ())))
    tags = tuple(f"#{tag}" for tag in view.hashtags[: profile.hashtags])
    tags = _most(tags, lambda some: fits(_composed(view, opening, blocks, some)))
    return _composed(view, opening, blocks, tags).encode()


def _composed(view: View, opening: str, blocks: tuple[str, ...], tags: tuple[str, ...]) -> str:
    words = CLOSING_CAPTION if view.cards else CLOSING_CAPTION_BARE
    closing = words.format(address=view.address) if view.address else ""
    parts = (view.disclosure, view.title, opening, *blocks, NOTICE_CAPTION, closing, " ".join(tags))
    return "\n\n".join(filter(None, parts)) + "\n"


def _most(items: tuple[str, ...], fits: Callable[[tuple[str, ...]], bool]) -> tuple[str, ...]:
    """Return the longest beginning of `items` that fits."""
    return next((items[:n] for n in range(len(items), 0, -1) if fits(items[:n])), ())


def _block(block: BlockView) -> str:
    lines = (f"{e.label} {isolated(e.name)}" + (f": {e.brief}" if e.brief else "") for e in block.exercises)
    return "\n".join((" · ".join((isolated(block.name), *block.facts)), *lines))
