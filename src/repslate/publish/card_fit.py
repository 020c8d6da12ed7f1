"""How tightly a card must be set: estimates its height, so that as a rule one layout is computed and then proved."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from repslate.publish.markdown import to_plain
from repslate.publish.view import CautionView, ExerciseView, View

ONE_PAGE = 12  # exercises that must fit one page
MARGINS = 24  # mm, left and right together
LABEL_WIDTH = 10.5
BOX, BOX_HEIGHT, BOX_GAP = 10.4, 7.2, 0.8  # mm; a pen wants at least 9 × 7
BOXES_ABREAST = 5
NAME_SHARE = 0.42
POINT = 25.4 / 72  # mm
SMALL = 8  # pt, the smallest text
LEADING, SMALL_LEADING = 1.28, 1.22
LOADS = 11.5  # mm that a table of loads takes
AIR = 3.0  # mm above a drawing
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


@dataclass(frozen=True, slots=True)
class Setting:
    """One way to set a card: how tightly, and which of the drawings "time" and "muscles" it has room for."""

    paper: Paper
    density: Density
    shown: tuple[str, ...]


A4 = Paper("A4", 210, 276)
LETTER = Paper("letter", 215.9, 258.4)
DENSITIES = (Density(11, 2), Density(10.5, 1.4), Density(10, 1), Density(9.5, 0.7), Density(9, 0.45), Density(8, 0.2))
# What is shown, and the smallest text it may cost: a drawing is worth less than a line one can read at arm's length.
SHOWN = ((("time", "muscles"), 9.5), (("time",), 9.0), ((), 8.0))


def settings(view: View, paper: Paper, drawings: Mapping[str, str]) -> Iterator[Setting]:
    """Yield the settings that are likely to fit one page, the fullest and loosest first, at last the tightest."""
    for shown, smallest in SHOWN:
        room = paper.height - sum(_drawn(drawings[name]) for name in shown)
        for density in DENSITIES:
            if density.size >= smallest and _height(view, paper, density) <= room:
                yield Setting(paper, density, shown)
    yield Setting(paper, DENSITIES[-1], ())


def widths(view: View, paper: Paper) -> tuple[float, float, float]:
    """Return the widths of the columns of names, of prescriptions and of boxes, in millimetres."""
    abreast = min(BOXES_ABREAST, max((len(e.boxes) for e in view.exercises), default=1))
    boxes = max(abreast, 2) * (BOX + BOX_GAP) + 0.4
    rest = paper.width - MARGINS - LABEL_WIDTH - boxes
    return round(rest * NAME_SHARE, 1), round(rest * (1 - NAME_SHARE), 1), round(boxes, 1)


def _height(view: View, paper: Paper, density: Density) -> float:
    """Estimate the card's height in millimetres without drawings; counts lines by the mean width of a glyph."""
    name_width, dose_width, boxes_width = widths(view, paper)
    line = density.size * POINT * LEADING
    small = SMALL * POINT * SMALL_LEADING
    whole = paper.width - MARGINS

    def lines(text: str, width: float, size: float) -> int:
        return max(1, math.ceil(len(text) * GLYPH * size * POINT / width))

    def note(cautions: tuple[CautionView, ...], width: float) -> float:
        text = "  ".join(f"Caution ({c.topic}): {c.words}" for c in cautions)
        return (lines(text, width, SMALL) * small + 0.2 + density.air) if text else 0

    def row(exercise: ExerciseView) -> float:
        text = max(
            lines(exercise.name, name_width - 3, density.size),
            sum(lines(each, dose_width - 2, density.size) for each in _doses(exercise)),
        )
        boxes = math.ceil(len(exercise.boxes) / BOXES_ABREAST) * (BOX_HEIGHT + BOX_GAP) + density.air
        words = text * line + note(exercise.cautions, whole - LABEL_WIDTH - boxes_width - 2)
        return density.air + max(words, boxes)

    head = 20.0 + (5 if view.disclosure else 0) + (lines(" · ".join(facts(view)), whole, 9) - 1) * 4
    bands = sum(10 * POINT * LEADING + density.air + 0.6 + note(b.cautions, whole - LABEL_WIDTH) for b in view.blocks)
    loads = len(view.demands.loads) * LOADS
    foot = max(23.0, lines(foot_words(view), whole - 25, SMALL) * small + 9) + 6
    return head + bands + sum(map(row, view.exercises)) + loads + foot


def _doses(exercise: ExerciseView) -> tuple[str, ...]:
    """Return what stands on lines of their own under "What to do"."""
    return tuple(part.whole for part in exercise.parts) or (exercise.prescription,)


def facts(view: View) -> tuple[str, ...]:
    """Return what stands in the line under the title."""
    return tuple(filter(None, (*view.facts, view.recorded, f"equipment: {view.equipment}")))


def foot_words(view: View) -> str:
    """Return what stands at the foot, in one paragraph."""
    return " ".join((view.notice_short, *(to_plain(text).replace("\n", " ") for text in view.safety)))


def _drawn(svg: str) -> float:
    """Return the height of a drawing for paper with the air around it; 0 for none."""
    height = re.search(r'height="([\d.]+)mm"', svg)
    return float(height[1]) + AIR if height else 0.0
