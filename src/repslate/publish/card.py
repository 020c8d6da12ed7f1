"""The card: one printed page for the gym floor, with a box for every set and room for a pen."""

from __future__ import annotations

import io
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from repslate.publish.card_fit import (
    A4,
    DENSITIES,
    LETTER,
    ONE_PAGE,
    SHOWN,
    Paper,
    Setting,
    facts,
    foot_words,
    settings,
    widths,
)
from repslate.publish.drawings import body, muscle_bars, session_bar
from repslate.publish.look import LAYOUT_FAULTS, Look, UnlaidError
from repslate.publish.markdown import to_plain
from repslate.publish.view import CautionView, View

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

# Characters of a title, and the size in points that sets it in two lines as a rule.
TITLE_SIZES = ((45, 19.0), (80, 16.0), (float("inf"), 13.0))
MOST_PAGES = 6  # what takes more when set most loosely is not tried again: no setting brings it onto one
MOST_MUSCLES = 10  # rows as tall as the body figure beside them


def render_a4(view: View, look: Look) -> bytes:
    """Render card-a4.pdf."""
    return render(view, look, A4)


def render_letter(view: View, look: Look) -> bytes:
    """Render card-letter.pdf."""
    return render(view, look, LETTER)


def render(view: View, look: Look, paper: Paper) -> bytes:
    """Render the card as tagged PDF on one page, set as loosely as fits; over 12 exercises may take more pages.

    The time bar, the muscles and the body are on it where there is room for them. OSError where Pango is missing.
    """
    drawings = _drawings(view)
    for setting in settings(view, paper, drawings):
        document = look.document(_page(view, look, setting, drawings))
        if len(document.pages) == 1 or len(document.pages) > MOST_PAGES:
            break
    else:
        if len(view.exercises) > ONE_PAGE:  # two pages anyway: loose ones
            document = look.document(_page(view, look, Setting(paper, DENSITIES[1], SHOWN[0][0]), drawings))
    out = io.BytesIO()
    try:
        document.write_pdf(out, finisher=_tell, pdf_variant="pdf/ua-1", custom_metadata=False)
    except LAYOUT_FAULTS as error:
        raise UnlaidError(repr(error)) from error
    return out.getvalue()


def _tell(document: Any, pdf: Any) -> None:
    """Say beside the shapes of each text which letters they are (ISO 32000-1, 14.9.4).

    A shape stands for the letters that it was first drawn for, so that whoever listens to a card or searches it would
    get other words in many scripts, and those that are read from the right turned round.
    """
    from weasyprint.formatting_structure.boxes import TextBox

    def texts(box: Any) -> Iterator[str]:
        if isinstance(box, TextBox):
            yield box.text
        for child in getattr(box, "children", ()):
            yield from texts(child)

    written = [text for page in document.pages for text in texts(page._page_box)]
    marked = [one for one in pdf.objects if isinstance(one, dict) and one.get("S") == "/Span" and _is_marked(one)]
    if len(written) == len(marked):  # both in the order of the page
        import pydyf  # type: ignore[import-untyped]

        for text, element in zip(written, marked, strict=True):
            element["ActualText"] = pydyf.String(text)


def _is_marked(element: Any) -> bool:
    return len(element["K"]) == 1 and isinstance(element["K"][0], int)


def _drawings(view: View) -> dict[str, str]:
    """Draw for paper: the session to scale, and where the work is."""
    asked = view.demands
    rows = asked.muscles[:MOST_MUSCLES]
    pair = ""
    if rows:
        figure = body(asked.levels, label="Where the work is", prefix="body", paper=True)
        pair = figure + muscle_bars(rows, label="Sets per muscle", prefix="sets", paper=True)
    bar = session_bar(asked.bars, label=f"The session: about {asked.session}", prefix="time", paper=True)
    return {"time": bar, "muscles": pair}


def _page(view: View, look: Look, setting: Setting, drawings: dict[str, str]) -> str:
    from markupsafe import Markup

    name_width, _, boxes_width = widths(view, setting.paper)
    style = look.environment.get_template("card.css").render(
        paper=setting.paper.css,
        size=setting.density.size,
        air=setting.density.air,
        title_size=next(size for most, size in TITLE_SIZES if len(view.title) <= most),
        name_width=name_width,
        boxes_width=boxes_width,
    )
    link = view.address or view.video
    return look.fill(
        "card.html",
        view=view,
        css=Markup("".join(look.font_faces(embedded=False)) + style),  # noqa: S704 - our own style sheet
        facts=facts(view),
        drawings={name: Markup(svg if name in setting.shown else "") for name, svg in drawings.items()},  # noqa: S704 - drawn by us, texts escaped
        notes={e.id: _plain(e.cautions) for e in view.exercises},
        block_notes={b.id: _plain(b.cautions) for b in view.blocks},
        foot=foot_words(view),
        link=link,
        link_words="Page with the film:" if view.address else "The film:",
        link_shown=link.removeprefix("https://").removesuffix("/") if link else "",
        qr=_qr(link) if link else "",
    )


def _plain(cautions: Iterable[CautionView]) -> tuple[tuple[str, str], ...]:
    return tuple((c.topic, to_plain(c.words).replace("\n", " ")) for c in cautions)


@lru_cache(maxsize=1)  # both cards of an episode show the same
def _qr(address: str) -> str:
    """Return the address as a QR code (ISO/IEC 18004, error level M), an SVG in a data: address."""
    import segno

    return segno.make(address, error="m", micro=False, boost_error=False).svg_data_uri(border=2, omitsize=True)
