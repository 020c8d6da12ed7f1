"""The card: one printed page for the gym floor, with a box for every set and room for a pen."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from repslate.publish.look import Look
from repslate.publish.markdown import to_plain
from repslate.publish.typeset import unbroken
from repslate.publish.view import CautionView, ExerciseView, View

if TYPE_CHECKING:
    from collections.abc import Iterable

ONE_PAGE = 12  # exercises that must fit one page
MARGINS = 24  # mm, left and right together
LABEL_WIDTH = 10.5
BOX, BOX_HEIGHT, BOX_GAP = 10.4, 7.2, 0.8  # mm; a pen wants at least 9 × 7
BOXES_ABREAST = 5
NAME_SHARE = 0.42
POINT = 25.4 / 72  # mm
SMALL = 8  # pt, the smallest text
LEADING, SMALL_LEADING = 1.28, 1.22
GLYPH = 0.43  # em: the mean advance of running text in the card's font, measured over the samples


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size: its CSS name, its width in millimetres, and the height left between the margins."""

    css: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Density:
    """How tightly a card is set: text size in points (never below 8), air above and below a row in millimetres."""

    size: float
    air: float


A4 = Paper("A4", 210, 276)
LETTER = Paper("letter", 215.9, 258.4)
DENSITIES = (Density(11, 2), Density(10.5, 1.4), Density(10, 1), Density(9.5, 0.7), Density(9, 0.45), Density(8, 0.2))


def render_a4(view: View, look: Look) -> bytes:
    """Render card-a4.pdf."""
    return render(view, look, A4)


def render_letter(view: View, look: Look) -> bytes:
    """Render card-letter.pdf."""
    return render(view, look, LETTER)


def render(view: View, look: Look, paper: Paper) -> bytes:
    """Render the card as tagged PDF on one page, set as loosely as fits; over 12 exercises may take more pages.

    OSError where Pango is missing.
    """
    likely = [d for d in DENSITIES if _height(view, paper, d) <= paper.height]
    for density in likely or DENSITIES[-1:]:
        document = look.document(_page(view, look, paper, density))
        if len(document.pages) == 1:
            break
    else:
        tightest = len(view.exercises) <= ONE_PAGE
        document = look.document(_page(view, look, paper, DENSITIES[-1 if tightest else 1]))
    out = io.BytesIO()
    document.write_pdf(out, pdf_variant="pdf/ua-1", custom_metadata=False)
    return out.getvalue()


def _widths(view: View, paper: Paper) -> tuple[float, float, float]:
    """Return the widths of the columns of names, of prescriptions and of boxes, in millimetres."""
    abreast = min(BOXES_ABREAST, max((len(e.boxes) for e in view.exercises), default=1))
    boxes = max(abreast, 2) * (BOX + BOX_GAP) + 0.4
    rest = paper.width - MARGINS - LABEL_WIDTH - boxes
    return round(rest * NAME_SHARE, 1), round(rest * (1 - NAME_SHARE), 1), round(boxes, 1)


def _page(view: View, look: Look, paper: Paper, density: Density) -> str:
    from markupsafe import Markup

    name_width, _, boxes_width = _widths(view, paper)
    environment = look.environment(nb=unbroken)
    style = environment.get_template("card.css").render(
        paper=paper.css, size=density.size, air=density.air, name_width=name_width, boxes_width=boxes_width
    )
    link = view.address or view.video
    return environment.get_template("card.html").render(
        view=view,
        css=Markup("".join(look.font_faces(embedded=False)) + style),  # noqa: S704 - our own style sheet
        facts=_facts(view),
        notes={e.id: _plain(e.cautions) for e in view.exercises},
        block_notes={b.id: _plain(b.cautions) for b in view.blocks},
        foot=_foot(view),
        link=link,
        link_words="Page with the film:" if view.address else "The film:",
        link_shown=link.removeprefix("https://").removesuffix("/") if link else "",
        qr=_qr(link) if link else "",
    )


def _height(view: View, paper: Paper, density: Density) -> float:
    """Estimate the card's height in millimetres, so that as a rule only one layout is computed and then proved.

    Counts lines by the mean width of a glyph; the page count of the real layout has the last word.
    """
    name_width, dose_width, boxes_width = _widths(view, paper)
    line = density.size * POINT * LEADING
    small = SMALL * POINT * SMALL_LEADING
    whole = paper.width - MARGINS

    def lines(text: str, width: float, size: float) -> int:
        return max(1, math.ceil(len(text) * GLYPH * size * POINT / width))

    def note(cautions: tuple[CautionView, ...], width: float) -> float:
        text = "  ".join(f"Caution ({topic}): {words}" for topic, words in _plain(cautions))
        return (lines(text, width, SMALL) * small + 0.2 + density.air) if text else 0

    def row(exercise: ExerciseView) -> float:
        text = max(
            lines(exercise.name, name_width - 3, density.size),
            lines(exercise.prescription, dose_width - 2, density.size),
        )
        boxes = math.ceil(len(exercise.boxes) / BOXES_ABREAST) * (BOX_HEIGHT + BOX_GAP) + density.air
        words = text * line + note(exercise.cautions, whole - LABEL_WIDTH - boxes_width - 2)
        return density.air + max(words, boxes)

    head = 20.0 + (5 if view.disclosure else 0) + (lines(" · ".join(_facts(view)), whole, 9) - 1) * 4
    bands = sum(10 * POINT * LEADING + density.air + 0.6 + note(b.cautions, whole - LABEL_WIDTH) for b in view.blocks)
    foot = max(23.0, lines(_foot(view), whole - 25, SMALL) * small + 9) + 6
    return head + bands + sum(map(row, view.exercises)) + foot


def _facts(view: View) -> tuple[str, ...]:
    return tuple(filter(None, (*view.facts, view.recorded, f"equipment: {view.equipment}")))


def _foot(view: View) -> str:
    return " ".join((view.notice_short, *(to_plain(text).replace("\n", " ") for text in view.safety)))


def _plain(cautions: Iterable[CautionView]) -> tuple[tuple[str, str], ...]:
    return tuple((c.topic, to_plain(c.words).replace("\n", " ")) for c in cautions)


def _qr(address: str) -> str:
    """Return the address as a QR code (ISO/IEC 18004, error level M), an SVG in a data: address."""
    import segno

    return segno.make(address, error="m", micro=False, boost_error=False).svg_data_uri(border=2, omitsize=True)
