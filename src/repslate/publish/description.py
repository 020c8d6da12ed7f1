"""The text under the video: disclosure first, then chapters, workout, notice, within the host's limit."""

from __future__ import annotations

from repslate.model.notice import CLOSING_DESCRIPTION, CLOSING_DESCRIPTION_BARE
from repslate.model.text_length import count
from repslate.publish.chapters import chapters_txt
from repslate.publish.look import Look
from repslate.publish.markdown import to_plain
from repslate.publish.typeset import isolated
from repslate.publish.view import BlockView, View


def render(view: View, _look: Look) -> bytes:
    """Render description.txt: the fullest form that fits the profile, whole paragraphs left out from the least needed.

    Disclosure, title, chapters, notice and address are never left out; a check tells where even they do not fit.
    """
    chapters = chapters_txt(view.chapters, view.cut_length).decode().strip()
    lead = "\n\n".join(to_plain(text) for text in view.lead)
    short = view.opening
    full = "\n\n".join(_block(block, detailed=True) for block in view.blocks)
    brief = "\n\n".join(_block(block, detailed=False) for block in view.blocks)
    needed = (view.disclosure, " · ".join(map(isolated, (view.title, *view.origin))))
    cautions = "\n".join(_cautions(view))
    words = CLOSING_DESCRIPTION if view.cards else CLOSING_DESCRIPTION_BARE
    closing = (view.notice_short, words.format(address=view.address) if view.address else "")
    tags = " ".join(f"#{tag}" for tag in view.hashtags)
    kit = f"You need: {isolated(view.equipment)}"
    forms = (
        (*needed, lead, kit, chapters, full, cautions, *closing, tags),
        (*needed, short, kit, chapters, full, cautions, *closing, tags),
        (*needed, short, kit, chapters, brief, cautions, *closing, tags),
        (*needed, short, kit, chapters, cautions, *closing, tags),
        (*needed, chapters, *closing),
    )
    texts = ["\n\n".join(part for part in form if part) + "\n" for form in forms]
    limit = view.series.host.description
    fitting = (t for t in texts if limit.maximum is None or count(t, limit) <= limit.maximum)
    return next(fitting, texts[-1]).encode()


def _block(block: BlockView, *, detailed: bool) -> str:
    head = " · ".join((isolated(block.name), *block.facts))
    lines = [f"{e.label} {isolated(e.name)}: {e.prescription if detailed else e.brief}" for e in block.exercises]
    return "\n".join((head, *lines))


def _cautions(view: View) -> list[str]:
    owners = [(b.name, b.cautions) for b in view.blocks] + [(e.name, e.cautions) for e in view.exercises]
    return [
        f"Caution, {isolated(name)}{f' ({c.topic})' if c.topic else ''}: {to_plain(c.words)}"
        for name, cautions in owners
        for c in cautions
    ]
