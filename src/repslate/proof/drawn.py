"""Two cards, or two pictures, drawn and compared dot by dot: the built one and the one that was published.

Runs in a process of its own, as the published one is anybody's. What differs less than by a dot's breadth, or by little
grey, is how programs draw and save; the rest is told by its place.
"""

from __future__ import annotations

import ctypes
import io
import json
import struct
import sys
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from repslate.proof.pdf import Line, Unreadable, leaves, links, opened, read_page, text_of
from repslate.source.apart import confine, run

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from pypdfium2 import PdfDocument, PdfPage  # type: ignore[import-untyped]

    Dots = NDArray[Any]

#: Points across a cell, the smallest place that is told.
CELL = 6 * 72 / 300
_DPI = 300  # a dot is a tenth of a stroke of 9 points long: an 8 differs from a 6 by six
_DOTS = 6  # across a cell
_NEAR = 4  # cells across a square; squares side by side that differ are one region: 2 mm
_GREYS = 8  # of 255 that a dot may be off besides: less is seen by nobody
_AROUND = 4  # dots around those that differ at all, which tell whether they differ too much
_SPECK = 4  # dots that a region has at least
_THROUGHOUT = 0.4  # share of the cells with ink that differ where a page is another, or moved
_REGIONS = 60  # on a page that is not another throughout
_THUMB = 16  # dots across a block of a page seen from afar, to tell which page it is
_SAME = 0.05  # greys between a page from afar and the same page once more
_READ = 3  # pages whose words are read, for the time it takes
_FURTHER = 3  # pages more than were built that are looked at
_NOTES = 500  # annotations of a page
_NOTE = 2000  # letters of one that are read
_HIGH = 100.0  # points that the letters of one have at most
_LETTERS = 500_000  # of what is copied; a full card of sixty pages has fewer
_BLOCKS = 96  # across a picture, and down
_PDF = b"%PDF"


def compare_drawn(built: bytes, published: bytes) -> Any:
    """Compare two PDFs or two JPEGs; return a dictionary as `_cards` or `_pictures` make it, or why it cannot be done.

    The reason goes on from "found". Time and memory are limited.
    """
    answer = run(Path(__file__), struct.pack(">Q", len(built)) + built + published)
    return f"a file that needs {answer} to be drawn" if isinstance(answer, str) else json.loads(answer)


def _cards(built: bytes, published: bytes) -> dict[str, Any] | str:
    """Tell of each published page which built one it is and where they differ, and of the file what is not drawn.

    `pages`: `built` (index or None), `again` (an index: this page once more), `size` in points where it is another,
    `regions` (cells as column and row), `throughout`, `page` (its words, of some). `gone` are the built pages that have
    none. `copied` and `links` are pairs: built, published.
    """
    from pypdfium2 import PdfiumError

    try:
        with opened(built) as one, opened(published) as other:
            if isinstance(one, Unreadable) or isinstance(other, Unreadable):
                return other.found if isinstance(other, Unreadable) else "a card that was not built"
            looked = min(len(other), len(one) + _FURTHER)
            pairs = _paired(one, other, looked)
            pages: list[dict[str, Any]] = []
            for at, (match, again) in enumerate(pairs):
                told = {"built": match, "again": again, **({} if match is None else _page(one[match], other[at]))}
                if (match is None or len(told) > 2) and sum("page" in page for page in pages) < _READ:
                    told["page"] = asdict(_read(other, at))
                pages.append(told)
            both = one, other
            return {
                "pages": pages + [{"built": None, "again": None}] * (len(other) - looked),
                "gone": sorted({*range(len(one))} - {match for match, _ in pairs}),
                "copied": [" ".join(_copied(each))[:_LETTERS] for each in both],
                "links": [[link for page in each for link in links(each, page)] for each in both],
            }
    except PdfiumError:
        return "a PDF with a damaged page"


def _paired(one: PdfDocument, other: PdfDocument, looked: int) -> list[tuple[int | None, int | None]]:
    """Return for each published page the built one that it is, or else the one that it repeats."""
    if len(one) == len(other):
        return [(at, None) for at in range(looked)]
    afar = [[_afar(each[at]) for at in range(count)] for each, count in ((one, len(one)), (other, looked))]
    apart = sorted(
        (_distance(built, found), abs(to - at), to, at)
        for at, built in enumerate(afar[0])
        for to, found in enumerate(afar[1])
    )
    matches: dict[int, int] = {}
    for _, _, to, at in apart:
        if to not in matches and at not in matches.values():
            matches[to] = at
    repeats = {to: at for distance, _, to, at in apart if distance <= _SAME and to not in matches}
    return [(matches.get(to), repeats.get(to)) for to in range(looked)]


def _draw(page: PdfPage, mode: str | None = None) -> Dots:
    drawn: Dots = page.render(scale=_DPI / 72, grayscale=True, optimize_mode=mode).to_numpy()
    return drawn


def _afar(page: PdfPage) -> Dots:
    afar: Dots = _blocks(_draw(page), _THUMB).mean(axis=(1, 3))
    return afar


def _blocks(dots: Dots, size: int) -> Dots:
    """Return dots in blocks of `size`, as rows, dots down, columns, dots across; the margin is filled up with white."""
    import numpy

    down, across = (-length % size for length in dots.shape)
    whole = numpy.pad(dots, ((0, down), (0, across)), constant_values=255 if dots.dtype == numpy.uint8 else 0)
    blocks: Dots = whole.reshape(whole.shape[0] // size, size, whole.shape[1] // size, size)
    return blocks


def _distance(one: Dots, other: Dots) -> float:
    return float(abs(one - other).mean()) if one.shape == other.shape else 255.0


def _page(one: PdfPage, other: PdfPage) -> dict[str, Any]:
    """Return how a published page differs from the built one; nothing where it does not."""
    import numpy

    sizes = [page.get_size() for page in (one, other)]
    if any(abs(built - found) > 1 for built, found in zip(*sizes, strict=True)):
        return {"size": sizes[1]}
    built = _draw(one)
    shown, printed = _draw(other), _draw(other, "print")
    differs = _differing(built, shown)
    if not numpy.array_equal(shown, printed):
        differs |= _differing(built, printed)
    notes = [*_notes(other)]  # what is pinned to a page may wait for a click
    if not notes and not differs.any():
        return {}
    counts = _blocks(differs, _DOTS).sum(axis=(1, 3))
    inked = _blocks(built, _DOTS).min(axis=(1, 3)) < 255 - 2 * _GREYS
    down, across = (most - 1 for most in counts.shape)
    for note in notes:
        row, column = int((note.y - note.size) / CELL), int(note.x / CELL)
        counts[min(max(0, row), down), min(max(0, column), across)] += _SPECK
    regions = list(_regions(counts))
    if len(regions) > _REGIONS or int((counts > 0).sum()) > _THROUGHOUT * max(int(inked.sum()), 2000):
        return {"throughout": True}
    return {"regions": regions} if regions else {}


def _differing(one: Dots, other: Dots) -> Dots:
    """Return which dots of either page are nowhere among those beside the same place of the other page.

    Lines between two rows of dots are drawn half as dark: half of what the dots around differ by is no difference.
    """
    import numpy

    down, across = (min(lengths) for lengths in zip(one.shape, other.shape, strict=True))
    pair = one[:down, :across], other[:down, :across]
    found = numpy.zeros((down, across), bool)
    rough = numpy.maximum(*pair) - numpy.minimum(*pair) > _GREYS
    if not rough.any():
        return found
    where = tuple(_stretch(rough.any(axis)) for axis in (1, 0))
    pair = pair[0][where], pair[1][where]
    least, most = ([_beside(each, choose) for each in pair] for choose in (numpy.minimum, numpy.maximum))
    contrast = _beside(numpy.maximum(*most), numpy.maximum) - _beside(numpy.minimum(*least), numpy.minimum)
    allowed = contrast // 2 + contrast // 32 + _GREYS  # at most 142
    for at in (0, 1):
        found[where] |= (least[at] > pair[1 - at]) & (least[at] - pair[1 - at] > allowed)
        found[where] |= (pair[1 - at] > most[at]) & (pair[1 - at] - most[at] > allowed)
    return found


def _stretch(differs: Any) -> slice:
    """Return the stretch from the first to the last that differs, and some around."""
    places = differs.nonzero()[0]
    return slice(max(0, int(places[0]) - _AROUND), int(places[-1]) + 1 + _AROUND)


def _beside(dots: Dots, least_or_most: Any) -> Dots:
    """Return of each dot the least, or the most, of it and the eight around it."""
    found = dots.copy()
    least_or_most(found[1:], dots[:-1], out=found[1:])
    least_or_most(found[:-1], dots[1:], out=found[:-1])
    rows = found.copy()
    least_or_most(found[:, 1:], rows[:, :-1], out=found[:, 1:])
    least_or_most(found[:, :-1], rows[:, 1:], out=found[:, :-1])
    return found


def _regions(counts: Dots) -> Iterator[list[tuple[int, int]]]:
    """Yield the cells of each region, as column and row, from the top down."""
    squares: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for row, column in zip(*(axis.tolist() for axis in counts.nonzero()), strict=True):
        squares.setdefault((row // _NEAR, column // _NEAR), []).append((column, row))
    while squares:
        waiting, cells = [next(iter(squares))], []
        while waiting:
            down, across = waiting.pop()
            cells += squares.pop((down, across), [])
            around = ((down + y, across + x) for y in (-1, 0, 1) for x in (-1, 0, 1))
            waiting += (square for square in around if square in squares)
        if sum(int(counts[row, column]) for column, row in cells) >= _SPECK:
            yield cells


def _read(document: PdfDocument, at: int) -> Any:
    """Read a page with what is pinned to it."""
    page = read_page(document, at)
    return replace(page, lines=(*page.lines, *_notes(document[at])))


def _notes(page: PdfPage) -> Iterator[Line]:
    """Yield the words of each annotation that is no link, at its place (ISO 32000-1, 12.5)."""
    from pypdfium2 import raw

    left, _, _, top = page.get_cropbox()
    for at in range(min(raw.FPDFPage_GetAnnotCount(page), _NOTES)):
        note, box = raw.FPDFPage_GetAnnot(page, at), raw.FS_RECTF()
        if not note or raw.FPDFAnnot_GetSubtype(note) in (raw.FPDF_ANNOT_LINK, raw.FPDF_ANNOT_POPUP):
            continue
        raw.FPDFAnnot_GetRect(note, box)
        said = [_note_text(note, key) for key in (b"Contents", b"V")]
        text = " ".join(" ".join(said).split())
        high = min(abs(box.top - box.bottom), _HIGH)
        yield Line(text[:_NOTE], box.left - left, top - box.top + high, high, right=box.right - left)


def _note_text(note: object, key: bytes) -> str:
    from pypdfium2 import raw

    def ask(one: Any, text: Any, length: int) -> int:
        return int(raw.FPDFAnnot_GetStringValue(one, key, ctypes.cast(text, ctypes.POINTER(raw.FPDF_WCHAR)), length))

    return text_of(ask, note)


def _copied(document: PdfDocument) -> Iterator[str]:
    """Yield what is copied out of a document, and what is read aloud: its title, words in place of those drawn."""
    yield document.get_metadata_value("Title")
    for page in document:
        yield page.get_textpage().get_text_range()
        yield from (leaf.actual for _, leaf in leaves(page))


def _pictures(built: bytes, published: bytes) -> dict[str, Any] | str:
    """Tell the `sizes` of two pictures in dots, and how far their blocks are apart, of 255: `mean` and `most`."""
    import numpy
    from PIL import Image, ImageOps

    sizes: list[tuple[int, int]] = []
    blocks: list[Dots] = []
    for data in (built, published):
        try:
            with Image.open(io.BytesIO(data)) as opened_picture:
                picture = ImageOps.exif_transpose(opened_picture).convert("RGB")
        except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
            return "a file that is no whole picture"
        sizes.append(picture.size)
        blocks.append(numpy.asarray(picture.resize((_BLOCKS, _BLOCKS), Image.Resampling.BOX), dtype=float))
    apart = abs(blocks[0] - blocks[1])
    return {"sizes": sizes, "mean": float(apart.mean()), "most": float(apart.max())}


def _answer(data: bytes) -> None:
    """Compare what standard input holds, and write what `compare_drawn` is to return."""
    (length,) = struct.unpack(">Q", data[:8])
    built, published = data[8 : 8 + length], data[8 + length :]
    compare = _cards if built.startswith(_PDF) else _pictures
    sys.stdout.write(json.dumps(compare(built, published)))


if __name__ == "__main__":
    confine()
    _answer(sys.stdin.buffer.read())
