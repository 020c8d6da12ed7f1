"""Pictures that compute: the session to scale, sets per muscle, the body's front and back, each as one SVG.

Lengths along a drawing are parts of its width, everything else is in em: it fits a 320 px screen and A4, and its
text keeps the page's small size on both.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from html import escape
from itertools import accumulate, groupby
from typing import Literal

from repslate.model import library
from repslate.publish import body as figure

Kind = Literal["work", "rest", "set-up", "change-over"]

PHONE, WIDE = 19.4, 39.0  # em: the article's column at 320 px, and from 608 px on, over its small size of 14.4 px
POINT = 25.4 / 72  # mm
CARD, HALF_CARD = 186.0, 90.0  # mm between the card's margins, and one of two columns
SMALL = 8  # pt, the card's smallest text
LINE = 1.3  # em from one line of text to the next
BAR, PAPER_BAR = 2.2, 1.2  # em, the height of the session bar; ink is spared on paper
STEPS = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240)  # minutes from one figure of the scale to the next
STEP_APART = 3.8  # em: "0 min" and a gap
TICKS = 90  # minutes; over a longer session single minutes would run together
KINDS: dict[Kind, str] = {"work": "work", "rest": "rest", "set-up": "set-up", "change-over": "set-up"}
# em of the page's fonts, regular and semibold, measured and rounded up
WIDTHS = (("0123456789 –’", 0.52), ("iljtfrI.,:;'·()|-", 0.38), ("mwMW@%&—×¼½¾©®æÆ", 1.0))
LEVELS = ("none", "some", "more", "most")


@dataclass(frozen=True, slots=True)
class Bar:
    """A block's stretch: its name, the letter that stands for it, its time in words, its segments in seconds."""

    name: str
    letter: str
    time: str
    segments: tuple[tuple[Kind, Fraction], ...]


@dataclass(frozen=True, slots=True)
class MuscleRow:
    """A muscle's sets: `direct`, and `half` as they count (three sets at a half are 1½); `value` says it in words."""

    name: str
    direct: Fraction
    half: Fraction
    value: str


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What a drawing is drawn on: its ids' prefix, its colours, and for print its width in millimetres."""

    prefix: str
    width: float | None
    ink: str = "var(--ink, #1c1b1a)"
    paper: str = "var(--paper, #fff)"
    line: str = "var(--line, #c9c4bd)"
    accent: str = "var(--accent, #1c1b1a)"

    @property
    def room(self) -> float:
        """The width in em that text can count on."""
        return PHONE if self.width is None else self.width / POINT / SMALL

    @property
    def bar(self) -> float:
        """The height in em of the session bar."""
        return BAR if self.width is None else PAPER_BAR

    def svg(self, label: str, told: str, height: float, content: str) -> str:
        """Put a drawing `height` em high together; `told` is what it shows, in words."""
        names = f'role="img" aria-labelledby="{self.prefix}-title {self.prefix}-desc"'
        size = f'width="100%" height="{height:.2f}em" style="font-size:var(--small,.8rem)"'
        if self.width is not None:
            tall = height * SMALL * POINT
            family = "'Repslate Text','Repslate Text Ext',sans-serif"
            size = f'width="{self.width:g}mm" height="{tall:.2f}mm" font-size="{SMALL}pt" font-family="{family}"'
        words = f'<title id="{self.prefix}-title">{escape(label)}</title><desc id="{self.prefix}-desc">{told}</desc>'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" {names} {size} fill="{self.ink}">{words}'
            f"<defs>{self.hatch('hatch', 'em', 0.4)}</defs>{content}</svg>\n"
        )

    def hatch(self, name: str, unit: str, step: float) -> str:
        """Return a pattern of slanting lines, `step` apart, that prints where a grey would not."""
        side = f'height="{step:g}{unit}"'
        return (
            f'<pattern id="{self.prefix}-{name}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" '
            f'width="{step:g}{unit}" {side}><rect width="{step:g}{unit}" {side} fill="{self.paper}"/>'
            f'<rect width="{step * 0.22:.2f}{unit}" {side} fill="{self.ink}"/></pattern>'
        )

    def looks(self, pattern: str = "hatch") -> tuple[str, str, str, str]:
        """Return what fills a shape, from light to dark: nothing, a pattern, a grey, ink."""
        hatched = f'fill="url(#{self.prefix}-{pattern})"'
        return f'fill="{self.paper}"', hatched, f'fill="{self.ink}" fill-opacity=".5"', f'fill="{self.ink}"'


def session_bar(blocks: Sequence[Bar], *, label: str, prefix: str, paper: bool = False) -> str:
    """Draw the session to scale: work dark, rest hatched, set-up left white, each block named under its stretch.

    For the page it is as wide as its column; with `paper` 186 mm, black and white. "" if no block takes any time.
    """
    total = sum((seconds for block in blocks for _, seconds in block.segments), Fraction(0))
    if not total:
        return ""
    sheet = _sheet(prefix, CARD if paper else None)
    ends = [Fraction(0), *accumulate(sum((s for _, s in block.segments), Fraction(0)) / total for block in blocks)]
    kinds = {KINDS[kind] for block in blocks for kind, seconds in block.segments if seconds}
    shown = [(word, look) for word, look in _kinds(sheet).items() if word in kinds]
    height, names = _names(blocks, ends, sheet.room, shown, sheet)
    if not paper:
        wide, wide_names = _names(blocks, ends, WIDE, shown, sheet)
        names = (
            f"<style>.{prefix}-wide{{display:none}}@media (min-width:38em){{.{prefix}-wide{{display:inline}}"
            f".{prefix}-slim{{display:none}}}}</style>"
            f'<g class="{prefix}-slim">{names}</g><g class="{prefix}-wide">{wide_names}</g>'
        )
        height = max(height, wide)
    told = ". ".join(f"{escape(block.name)}: {escape(block.time)}" for block in blocks)
    return sheet.svg(label, told, height, "".join([*_scale(total, sheet), *_segments(blocks, total, sheet), names]))


def muscle_bars(rows: Sequence[MuscleRow], *, label: str, prefix: str, paper: bool = False) -> str:
    """Draw a bar a muscle in the order given: direct sets solid, half-counted sets hatched, in words beside the name.

    For the page it is as wide as its column; with `paper` 90 mm, black and white. "" if there are no sets.
    """
    longest = max((row.direct + row.half for row in rows), default=Fraction(0))
    if not longest:
        return ""
    sheet = _sheet(prefix, HALF_CARD if paper else None)
    _, hatched, _, solid = sheet.looks()
    content, y = [], 0.0
    for row in rows:
        y += 1
        content.append(f'<text y="{y:.2f}em">{escape(row.name)}</text>')
        if _advance(row.name) + _advance(row.value) + 1 > sheet.room:
            y += LINE
        content.append(f'<text x="100%" y="{y:.2f}em" text-anchor="end">{escape(row.value)}</text>')
        if row.direct:
            content.append(_rect(Fraction(0), row.direct / longest, y + 0.4, 0.55, solid))
        if row.half:
            outlined = f'{hatched} stroke="{sheet.ink}" stroke-width=".06em"'
            content.append(_rect(row.direct / longest, row.half / longest, y + 0.43, 0.49, outlined))
        y += 1.55
    if any(row.half for row in rows):
        y += 1.2
        content += _key([("direct", solid), ("counted half", hatched)], y, sheet)
    told = ". ".join(f"{escape(row.name)}: {escape(row.value)}" for row in rows)
    return sheet.svg(label, told, y + 0.4, "".join(content))


def body(levels: Mapping[str, int], *, label: str, prefix: str, paper: bool = False) -> str:
    """Draw the body's front and back; `levels` gives 0 to 3 (none, some, more, most) to muscles of the library.

    A region is as dark as the most trained muscle it shows. For the page it is as wide as its column; with `paper`
    90 mm, black and white. KeyError for a name that is no muscle's.
    """
    sheet = _sheet(prefix, HALF_CARD if paper else None)
    regions: dict[str, int] = {}
    for name, level in levels.items():
        for region in figure.regions(name):
            regions[region] = max(level, regions.get(region, 0))
    tall, top = 21.5, LINE
    content = [f"<defs>{sheet.hatch('body', '', 3.6)}</defs>"]
    for x, caption, shapes in (("0", "Front", figure.FRONT), ("50%", "Back", figure.BACK)):
        middle = "25%" if x == "0" else "75%"
        content.append(f'<text x="{middle}" y="1em" text-anchor="middle">{caption}</text>')
        content.append(f'<svg x="{x}" y="{top:g}em" width="50%" height="{tall}em" viewBox="-68 -3 136 306">')
        content += _figure(shapes, regions, sheet, chin=caption == "Front")
        content.append("</svg>")
    key = top + tall + 1.6
    content += _key(list(zip(LEVELS, sheet.looks(), strict=True)), key, sheet)
    return sheet.svg(label, _levels_told(levels), key + 0.4, "".join(content))


def _sheet(prefix: str, width: float | None) -> _Sheet:
    if width is None:
        return _Sheet(prefix, None)
    return _Sheet(prefix, width, ink="#000", paper="#fff", line="#777", accent="#000")


def _part(share: Fraction) -> str:
    return f"{float(share * 100):.3f}".rstrip("0").rstrip(".") + "%"


def _rect(x: Fraction, width: Fraction, y: float, height: float, look: str = "") -> str:
    return f'<rect x="{_part(x)}" y="{y:.2f}em" width="{_part(width)}" height="{height:.2f}em" {look}/>'


def _rule(x: Fraction, top: float, bottom: float, colour: str) -> str:
    at = _part(x)
    return f'<line x1="{at}" y1="{top:.2f}em" x2="{at}" y2="{bottom:.2f}em" stroke="{colour}" stroke-width=".07em"/>'


def _scale(total: Fraction, sheet: _Sheet) -> Iterator[str]:
    """Draw the minutes above the bar: a tick each, a figure as often as there is room."""
    minutes = total / 60
    step = next((one for one in STEPS if one / minutes * Fraction(sheet.room) >= STEP_APART), STEPS[-1])
    for minute in range(int(minutes) + 1):
        at, figured = minute / minutes, minute % step == 0
        if figured or minutes <= TICKS:
            yield _rule(at, 1.15 if figured else 1.35, 1.6, sheet.ink)
        if figured:
            near_end = (1 - at) * Fraction(sheet.room) < 1
            anchor = "end" if near_end and minute else "middle" if minute else "start"
            place = "100%" if anchor == "end" else _part(at)
            yield f'<text x="{place}" y=".85em" text-anchor="{anchor}">{minute or "0 min"}</text>'


def _kinds(sheet: _Sheet) -> dict[str, str]:
    """Return what fills each kind of time; set-up is the paper that is left."""
    nothing, hatched, _, solid = sheet.looks()
    return {"work": solid, "rest": hatched, "set-up": nothing}


def _segments(blocks: Sequence[Bar], total: Fraction, sheet: _Sheet) -> Iterator[str]:
    at, looks = Fraction(0), _kinds(sheet)
    for block in blocks:
        for word, run in groupby(block.segments, key=lambda segment: KINDS[segment[0]]):
            seconds = sum((length for _, length in run), Fraction(0))
            if word != "set-up" and seconds:
                yield _rect(at / total, seconds / total, 1.6, sheet.bar, looks[word])
            at += seconds
    yield _rect(Fraction(0), Fraction(1), 1.6, sheet.bar, f'fill="none" stroke="{sheet.ink}" stroke-width=".07em"')


@dataclass(frozen=True, slots=True)
class _Label:
    """A block's name under the bar, in em: its rule at `rule`, down to line `depth`, its words on line `row`."""

    text: str
    short: bool
    rule: float
    left: float
    right: float
    row: int = 0
    depth: int = 0

    def clear_of(self, other: _Label) -> bool:
        """Tell whether these words meet neither the words nor the rule of another block."""
        beside = self.row != other.row or self.right <= other.left or other.right <= self.left
        return beside and not (self.left <= other.rule < self.right and other.depth >= self.row)


def _labels(blocks: Sequence[Bar], starts: Sequence[float], room: float, *, paper: bool) -> list[_Label]:
    """Place the blocks' names in a drawing `room` em wide, the last block first; `starts` has the end as well.

    A stretch that is too short for its block's name gets the name up to its colon, or its letter; too short for that,
    the letter stands lower, at the end of a longer rule. On `paper` only names are drawn whose letters stand side by
    side from the left: the renderer sets those of a drawing one by one.
    """
    heads = [block.name.partition(":")[0] for block in blocks]
    placed: list[_Label] = []
    for index in reversed(range(len(blocks))):
        block, x, width = blocks[index], starts[index], starts[index + 1] - starts[index]
        names = [block.name, heads[index]] if heads.count(heads[index]) == 1 else [block.name]
        names = [name for name in names if not paper or not any(map(_is_joined, name))]
        text = next((name for name in names if _advance(name) + 0.6 <= width), block.letter)
        needs = _advance(text) + 0.6
        left = min(x, room - needs)
        label = _Label(text, text not in names, x, left, left + needs)
        while not all(label.clear_of(other) for other in placed):
            label = replace(label, row=label.row + 1)
        cut = left < x or any(other.left < x < other.right and other.row <= label.row for other in placed)
        placed.append(replace(label, depth=-1 if cut else label.row))
    return placed[::-1]


def _is_joined(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("R", "AL") or unicodedata.category(letter).startswith("M")


def _names(
    blocks: Sequence[Bar], ends: Sequence[Fraction], room: float, key: Sequence[tuple[str, str]], sheet: _Sheet
) -> tuple[float, str]:
    """Draw the names below the bar, and the key below them; return how far down that reaches, and both."""
    labels = _labels(blocks, [float(end) * room for end in ends], room, paper=sheet.width is not None)
    under, drawn = 1.6 + sheet.bar, []
    for label, start in zip(labels, ends, strict=False):
        y = under + 1 + label.row * LINE
        look = f' font-weight="600" fill="{sheet.accent}"' if label.short else ""
        place = f'x="{_part(start)}" dx=".3em"' if label.left == label.rule else 'x="100%" text-anchor="end"'
        drawn.append(_rule(start, under, under + (0.2 if label.depth < 0 else 1 + label.depth * LINE), sheet.ink))
        drawn.append(f'<text {place} y="{y:.2f}em"{look}>{escape(label.text)}</text>')
    bottom = under + 1 + (max(label.row for label in labels) + 1) * LINE + 0.6
    return bottom + 0.4, "".join([*drawn, *_key(key, bottom, sheet)])


def _key(items: Sequence[tuple[str, str]], y: float, sheet: _Sheet) -> Iterator[str]:
    """Draw a swatch a word, side by side."""
    x = 0.05
    for word, look in items:
        yield (
            f'<rect x="{x:.2f}em" y="{y - 0.8:.2f}em" width="1em" height=".8em" {look} stroke="{sheet.ink}" '
            f'stroke-width=".06em"/><text x="{x + 1.4:.2f}em" y="{y:.2f}em">{escape(word)}</text>'
        )
        x += 1.4 + _advance(word) + 1


def _figure(shapes: figure.Shapes, regions: Mapping[str, int], sheet: _Sheet, *, chin: bool) -> Iterator[str]:
    outline = figure.smooth((*figure.OUTLINE, *figure.mirrored(figure.OUTLINE)[-2:0:-1]), closed=True)
    yield f'<path d="{outline}" fill="{sheet.paper}" stroke="{sheet.ink}" stroke-width="1"/>'
    if chin:
        line = figure.smooth((*figure.CHIN, *figure.mirrored(figure.CHIN)[-2::-1]), closed=False)
        yield f'<path d="{line}" fill="none" stroke="{sheet.line}" stroke-width=".8"/>'
    strokes = (sheet.line, sheet.ink, sheet.ink, sheet.paper)
    looks = [f'{look} stroke="{line}"' for look, line in zip(sheet.looks("body"), strokes, strict=True)]
    for region, outlines in shapes.items():
        both = (shape for one in outlines for shape in (one, figure.mirrored(one)))
        path = "".join(figure.smooth(shape, closed=True) for shape in both)
        yield f'<path d="{path}" {looks[regions.get(region, 0)]} stroke-width=".7" stroke-linejoin="round"/>'


def _levels_told(levels: Mapping[str, int]) -> str:
    muscles = library.load().muscles
    told = []
    for level in (3, 2, 1):
        if names := [muscles[name].shown for name, found in levels.items() if found == level]:
            told.append(f"{LEVELS[level].capitalize()}: {escape(', '.join(names))}")
    return ". ".join(told) or "None"


def _advance(text: str) -> float:
    """Return a width in em that `text` does not exceed: upper bounds for the page's fonts, semibold included."""
    return sum(next((width for letters, width in WIDTHS if letter in letters), _widest(letter)) for letter in text)


def _widest(letter: str) -> float:
    if letter > "ÿ":
        return 1.1
    return 0.68 if letter.isupper() else 0.61
