"""The printed card: lines of text at their places on paper become the rows, cautions and paragraphs that a reader sees.

A card as it was built tells which texts are one cell or one paragraph. In one that has lost this, columns are found by
where the table's head stands, so that a name and a dose over two lines are each read whole.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise

from repslate.proof.differences import UNREADABLE, Claim, Disagreement
from repslate.proof.expected import Expected
from repslate.proof.links import CODE
from repslate.proof.pdf import FIGURE, Line, Page, Tag, Unreadable, read_pdf
from repslate.proof.reading import POINT, Document, Link, Piece, Place, Role
from repslate.proof.workout import CARD, compare_workout

_LABEL = re.compile(r"([A-Z]{1,2}\d{1,2})(?:\s+(\S.*))?")
_CAUTION = re.compile(r"(?=\bCaution(?: \([^()]*\))?:)")
_HEAD = ("no.", "exercise", "what to do")
_SCALE = re.compile(r"\d*\s*min")  # where the scale of the time bar begins
_MAXIMUM = "your 1rm"
_PEN = "Done on"  # stands beside the first line of the title, for a date in handwriting
_NEAR = 3.0  # points by which a text may stand beside its column
_LEADING = 1.45  # sizes from one line of a paragraph to the next, at most
_SHORT = 0.7  # of the next line: so short a line ends its paragraph
_BESIDE = 1.5  # sizes by which the first lines of cells beside each other may differ: fonts sit differently
_HEADING = re.compile(r"H([1-6])")


@dataclass(slots=True)
class _Row:
    """Texts on one line of a page, from left to right."""

    page: int
    cells: list[Line]

    @property
    def text(self) -> str:
        """All of it as one text."""
        return " ".join(" ".join(cell.text for cell in self.cells).split())

    @property
    def x(self) -> float:
        """Where it begins."""
        return self.cells[0].x

    @property
    def y(self) -> float:
        """How far down it stands."""
        return self.cells[0].y

    @property
    def size(self) -> float:
        """The size of its first text."""
        return self.cells[0].size


@dataclass(slots=True)
class _Exercise:
    """A row of the table that is being read: the texts of its columns, and its cautions with their rows."""

    place: Place
    label: str
    columns: dict[int, list[str]] = field(default_factory=dict)
    notes: list[_Row] = field(default_factory=list)


def compare_card(
    name: str,
    data: bytes,
    expected: Expected,
    *,
    read: Callable[[bytes], tuple[Page, ...] | Unreadable] = read_pdf,
) -> Iterator[Disagreement]:
    """Yield what a card says other than the episode, or that it cannot be read."""
    pages = read(data)
    if isinstance(pages, Unreadable):
        yield Disagreement(UNREADABLE, Claim("the card", pages.found, Place(name)), "a PDF whose text can be read")
        return
    yield from compare_workout(card_document(name, pages), expected, CARD)


def card_document(name: str, pages: Sequence[Page]) -> Document:
    """Return the text of a card in the order it is read; links and codes stand behind it all."""
    told = all(map(_is_told, pages))
    card = _Told(name) if told else _Card(name)
    for page in pages:
        card.page(page)
    card.close()
    end = len(card.pieces)
    links = [Link(address, "", Place(name, page=page.number), end) for page in pages for address in page.links]
    codes = [Link(address, CODE, Place(name, page=page.number), end) for page in pages for address in page.codes]
    return Document(name, tuple(card.pieces), (*links, *codes))


def _is_told(page: Page) -> bool:
    """Tell whether a page says of all its text to what it belongs, and its tables are drawn as it says."""
    return all(line.within for line in page.lines) and all(map(_is_level, _cells(page).values()))


def _is_level(cells: Mapping[Tag, Sequence[Line]]) -> bool:
    """Tell whether the cells of a row are drawn beside each other, from left to right."""
    first = [lines[0] for lines in cells.values()]
    return all(
        one.x < other.x and abs(one.y - other.y) <= _BESIDE * max(one.size, other.size)
        for one, other in pairwise(first)
    )


def _cells(page: Page) -> dict[Tag, dict[Tag, list[Line]]]:
    """Return the rows of a page's tables, each by its cells, both in the order that the file gives them."""
    rows: dict[Tag, dict[Tag, list[Line]]] = {}
    for line in sorted(page.lines, key=lambda line: line.within[-1][1]):
        row = next((tag for tag in line.within if tag[0] == "TR"), None)
        if row:
            rows.setdefault(row, {}).setdefault(line.within[-1], []).append(line)
    return rows


class _Told:
    """Collects pieces by the elements that a page's lines are within."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.pieces: list[Piece] = []
        self.notes: list[_Row] = []
        self.maxima: list[str] = []

    def page(self, page: Page) -> None:
        """Read the elements of a page, in the order that the file gives them."""
        elements: dict[tuple[Tag, ...], list[Line]] = {}
        for line in sorted(page.lines, key=lambda line: line.within[-1][1]):
            row = next((at for at, tag in enumerate(line.within) if tag[0] == "TR"), None)
            elements.setdefault(line.within if row is None else line.within[: row + 1], []).append(line)
        for within, lines in elements.items():
            kind = within[-1][0]
            if kind == "TR":
                head = any(tag[0] == "THead" for tag in within)
                self._row(page, [list(cell) for _, cell in groupby(lines, key=lambda line: line.within)], head=head)
                continue
            self.close()
            if kind == FIGURE:
                for line in lines:
                    self._add(line.text.strip(), page, line, Role.DRAWING)
            elif heading := _HEADING.fullmatch(kind):
                self._add(_text(lines), page, lines[0], Role.HEADING, level=int(heading[1]))
            else:
                self._add(_text(lines), page, lines[0])

    def close(self) -> None:
        """End the cautions that are being read."""
        self.pieces += _cautions(self.name, self.notes)
        self.notes = []

    def _row(self, page: Page, cells: Sequence[list[Line]], *, head: bool) -> None:
        first, texts = cells[0][0], [_text(cell) for cell in cells]
        text = " ".join(texts)
        if len(texts) == 1 and first.within[-1][0] == "TD":
            self.notes += [_Row(page.number, [line]) for line in cells[0]]
            return
        self.close()
        if head and all(word in text.casefold() for word in _HEAD):
            return
        if self.maxima:
            for maximum, load in zip(self.maxima, texts[1:], strict=False):
                self._add(f"{maximum} {load}", page, first, Role.ROW)
            self.maxima = []
        elif _MAXIMUM in texts[0].casefold():
            self.maxima = texts[1:]
            self._add(texts[0], page, first, Role.CAPTION)
        elif len(texts) == 1:
            self._add(text, page, first)
        else:
            place = Place(self.name, page=page.number, x=first.x * POINT, y=first.y * POINT)
            self.pieces.append(Piece(text, place, Role.ROW, cells=tuple(texts)))

    def _add(self, text: str, page: Page, line: Line, role: Role = Role.TEXT, level: int = 0) -> None:
        place = Place(self.name, page=page.number, x=line.x * POINT, y=line.y * POINT)
        self.pieces.append(Piece(text, place, role, level))


def _text(lines: Iterable[Line]) -> str:
    return " ".join(" ".join(line.text for line in lines).split())


def _cautions(name: str, rows: Sequence[_Row]) -> Iterator[Piece]:
    """Yield the cautions of an exercise, each where it begins."""
    text = " ".join(row.text for row in rows)
    for part in filter(None, map(str.strip, _CAUTION.split(text))):
        start = next((row for row in rows if part[:20] in row.text), rows[0])
        yield Piece(part, Place(name, page=start.page, x=start.x * POINT, y=start.y * POINT))


class _Card:
    """Collects pieces row by row, from where texts stand alone."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.pieces: list[Piece] = []
        self.columns: tuple[float, ...] = ()
        self.exercise: _Exercise | None = None
        self.paragraph: list[_Row] = []
        self.maxima: _Row | None = None

    def page(self, page: Page) -> None:
        """Read the rows of a page."""
        rows = list(_rows(page))
        heads = [row for row in rows if all(word in row.text.casefold() for word in _HEAD)]
        top = heads[0].y if heads else 0.0
        if heads:
            self.columns = tuple(cell.x for cell in heads[0].cells)
        scale = next((row.y for row in rows if row.y < top and _SCALE.fullmatch(row.cells[0].text.strip())), None)
        for row in rows:
            if heads and row is heads[0]:
                self.close()
            elif row.y < top and scale is not None and row.y >= scale - row.size:
                self._drawn(row)
            elif row.y < top or not self.columns:
                self._left(row)
            else:
                self._table(row)

    def close(self) -> None:
        """End the exercise or the paragraph that is being read."""
        if self.exercise is not None:
            one = self.exercise
            text = " ".join([one.label, *(part for at in sorted(one.columns) for part in one.columns[at])])
            self.pieces.append(Piece(" ".join(text.split()), one.place, Role.ROW))
            self.pieces += _cautions(self.name, one.notes)
            self.exercise = None
        if self.paragraph:
            text = " ".join(row.text for row in self.paragraph)
            self.pieces.append(Piece(text, self._place(self.paragraph[0])))
            self.paragraph = []

    def _table(self, row: _Row) -> None:
        column = self._column(row.x)
        first = _LABEL.fullmatch(row.cells[0].text.strip())
        if _MAXIMUM in row.text.casefold() or self.maxima is not None:
            self._loads(row)
        elif column == 0 and first:
            self.close()
            self.exercise = _Exercise(self._place(row), first[1])
            self._add(self.exercise, row, first[2] or "")
        elif column == 0:
            self._left(row)
        elif column is None or self.exercise is None:
            self._drawn(row)
        elif self.exercise.notes or row.text.startswith("Caution"):
            self.exercise.notes.append(row)
        else:
            self._add(self.exercise, row, "")

    def _add(self, exercise: _Exercise, row: _Row, behind: str) -> None:
        """Add the cells of a row to an exercise; `behind` is what stood behind its label in the same cell."""
        if behind:
            exercise.columns.setdefault(1, []).append(behind)
        skipped = 1 if _LABEL.fullmatch(row.cells[0].text.strip()) and row.x <= self.columns[0] + _NEAR else 0
        for cell in row.cells[skipped:]:
            at = max((at for at, x in enumerate(self.columns) if x <= cell.x + _NEAR), default=1)
            exercise.columns.setdefault(at, []).append(cell.text)

    def _left(self, row: _Row) -> None:
        """Add a row to the paragraph above it, or begin one."""
        if self.exercise is not None:
            self.close()
        last = self.paragraph[-1] if self.paragraph else None
        if last is not None and not _goes_on(last, row):
            self.close()
        self.paragraph.append(row)

    def _drawn(self, row: _Row) -> None:
        self.close()
        for cell in row.cells:
            place = Place(self.name, page=row.page, x=cell.x * POINT, y=cell.y * POINT)
            self.pieces.append(Piece(cell.text.strip(), place, Role.DRAWING))

    def _loads(self, row: _Row) -> None:
        """Pair the maxima of a table of loads with the loads in the row below."""
        self.close()
        if self.maxima is None:
            self.maxima = row
            self.pieces.append(Piece(row.cells[0].text.strip(), self._place(row), Role.CAPTION))
            return
        place = self._place(row)
        for maximum, load in zip(self.maxima.cells[1:], row.cells[1:], strict=False):
            self.pieces.append(Piece(f"{maximum.text.strip()} {load.text.strip()}", place, Role.ROW))
        self.maxima = None

    def _column(self, x: float) -> int | None:
        return next((at for at, left in enumerate(self.columns) if abs(left - x) < _NEAR), None)

    def _place(self, row: _Row) -> Place:
        return Place(self.name, page=row.page, x=row.x * POINT, y=row.y * POINT)


def _goes_on(last: _Row, row: _Row) -> bool:
    """Tell whether a row is the next line of the paragraph that `last` belongs to."""
    is_beside = last.page == row.page and abs(last.size - row.size) < 0.1 and abs(last.x - row.x) < _NEAR
    return is_beside and row.y - last.y < _LEADING * row.size and len(last.text) > _SHORT * len(row.text)


def _rows(page: Page) -> Iterator[_Row]:
    """Yield the rows of a page from the top, each with its texts from left to right."""
    seen: Iterable[Line] = (line for line in page.lines if line.text.strip() and line.text != _PEN)
    ordered = sorted(seen, key=lambda line: (round(line.y), line.x))
    for _, cells in groupby(ordered, key=lambda line: round(line.y)):
        yield _Row(page.number, list(cells))
