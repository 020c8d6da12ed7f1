"""A PDF read back as a person sees it: its lines where they stand, its links, and its QR codes off the drawn page.

Lines come from where each glyph is drawn, not from the order or the spaces of the file, which a reader never sees.
"""

from __future__ import annotations

import ctypes
import json
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from statistics import median_low
from typing import TYPE_CHECKING

from repslate.source.apart import confine, run

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument, PdfPage, PdfTextPage  # type: ignore[import-untyped]

_BASELINE = 1.0  # points by which the feet of letters on one line may differ
_WORDS = 0.1  # sizes between two words that no space parts
_CELLS = 0.6  # sizes between two cells: texts drawn apart; the wide space within one, after a dose, stays below
_WIDE = 1.0  # sizes that part cells whatever stands between them; justified spaces stay below
_FULL = 1.6  # sizes to the next cell from a word that fills its own: the padding between them and most of a letter
_LEADING = 1.7  # sizes from one line of a paragraph to the next, at most
_PAPER = 3371  # points of the longer side of A0 (ISO 216), the largest page that is drawn: 62 MB at _DOTS
_DOTS = 200  # dots an inch for the codes: five to a module of a 22 mm code with an ordinary address
_PAGES = 60  # of a PDF; a card has one, with a hundred exercises nine
_LETTERS_MOST = 200_000  # on all pages; sixty pages that are full have as many
_LARGEST = 16 * 1024 * 1024  # bytes; a card with every picture that fits on it has one or two million
_INVISIBLE = (3, 7)  # text rendering modes that draw nothing (ISO 32000-1, table 106)
_HYPHEN = "\x02"  # what PDFium returns for a hyphen that ends a line
_UNSEEN = "\u00ad\u200b\u200c\u200d\u2060\ufeff"  # soft hyphen, and what only joins or parts letters
_AS_READ = str.maketrans({**dict.fromkeys(_UNSEEN, ""), _HYPHEN: "-"})
#: A word that goes on in the next line. The true hyphen U+2010 is what hyphenation draws; writers type "-".
_BROKEN = re.compile(r"[^\W_][-‐–]$")
_REST = re.compile(r"(?!(?:and|or|to|nor)\s)\w\S*\s*")  # "two- or three-arm" is not a broken word
#: A word too long for its cell is broken without any sign; the cells of a card hold twenty letters and more.
_LONG = re.compile(r"\S{16,}")
_LETTERS = re.compile(r"\w\S*\s*")


@dataclass(frozen=True, slots=True)
class Line:
    """Text that stands together on one line, a cell of a table apart from the next.

    `x` and `y` are points from the left and from the top of the page to where its first letter stands, `size` the
    points of that letter. Lines side by side have the same `y`. A word that the line's end breaks is whole here, and
    gone from the next line.
    """

    text: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class Page:
    """A page, counted from 1, in points. `lines` go from the top down, and from left to right on one height.

    `links` are the addresses that a click leads to, `codes` what the QR codes that are drawn on the page say.
    """

    number: int
    width: float
    height: float
    lines: tuple[Line, ...]
    links: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Why no page can be read: `found` is what the file is, in words that go on from "found"."""

    found: str


@dataclass(frozen=True, slots=True)
class _Run:
    """Text drawn in one go: its points, how far apart its letters are set, and whether they can be seen."""

    size: float
    visible: bool
    gaps: list[float] = field(default_factory=list)

    @property
    def spacing(self) -> float:
        """The letter-spacing in points; 0 for letters set tight."""
        return max(0.0, median_low(self.gaps)) if self.gaps else 0.0


@dataclass(frozen=True, slots=True)
class _Glyph:
    """A letter: where its foot stands, in points from the top left, and where it ends."""

    text: str
    x: float
    y: float
    right: float
    run: _Run


@lru_cache(maxsize=4)
def read_pdf(data: bytes) -> tuple[Page, ...] | Unreadable:
    """Return every page of a PDF as it is read on paper, or why it cannot be read.

    The file is read in a process of its own: one of a few kilobytes can ask for hours of drawing.
    """
    if len(data) > _LARGEST:
        return Unreadable(f"a PDF of {len(data) // 1024**2} MiB, more than the {_LARGEST // 1024**2} that are read")
    answer = run(Path(__file__), data)
    if isinstance(answer, str):
        return Unreadable(f"a PDF that needs {answer} to be read")
    found = json.loads(answer)
    if isinstance(found, str):
        return Unreadable(found)
    return tuple(
        Page(**{**page, "lines": tuple(Line(**line) for line in page["lines"])} | _tuples(page)) for page in found
    )


def _tuples(page: dict[str, list[str]]) -> dict[str, tuple[str, ...]]:
    return {key: tuple(page[key]) for key in ("links", "codes")}


def read_own_pdf(data: bytes) -> tuple[Page, ...] | Unreadable:  # noqa: PLR0911  each return names another fault
    """Do what `read_pdf` does in this process, for a PDF that was drawn in it: no other process need be started.

    Text that is set upright and drawn is read, whatever colour it has and whatever lies over it; turned text is not
    put together. A PDF without any text counts as unreadable.
    """
    from pypdfium2 import PdfDocument, PdfiumError, raw

    try:
        document = PdfDocument(data)
    except PdfiumError as error:
        locked = error.err_code == raw.FPDF_ERR_PASSWORD
        return Unreadable("a PDF behind a password" if locked else "a file that is no PDF, or a damaged one")
    try:
        if len(document) > _PAGES:
            return Unreadable(f"a PDF of {len(document):,} pages, more than the {_PAGES} that are read")
        if any(max(document.get_page_size(index)) > _PAPER for index in range(len(document))):
            return Unreadable("a PDF with a page larger than A0 paper")
        if (letters := sum(map(_count, document))) > _LETTERS_MOST:
            return Unreadable(f"a PDF of {letters:,} letters, more than the {_LETTERS_MOST:,} that are read")
        pages = tuple(_page(document, index) for index in range(len(document)))
    except PdfiumError:
        return Unreadable("a PDF with a damaged page")
    finally:
        document.close()
    if not any(page.lines for page in pages):
        return Unreadable("a PDF without any text, perhaps a picture of a page")
    return pages


def _count(page: PdfPage) -> int:
    return int(page.get_textpage().count_chars())


def _page(document: PdfDocument, index: int) -> Page:
    page = document[index]
    left, bottom, right, top = page.get_cropbox()
    width, height = right - left, top - bottom
    lines = tuple(_whole_words(_lines(_glyphs(page, left, top), width, height)))
    return Page(index + 1, width, height, lines, tuple(_links(document, page)), tuple(_codes(page)))


def _glyphs(page: PdfPage, left: float, top: float) -> Iterator[_Glyph]:
    """Yield what the page's text draws; what PDFium adds of its own to make words and lines is left out."""
    from pypdfium2 import raw

    text = page.get_textpage()
    runs: dict[int | None, _Run] = {}
    x, y, box = ctypes.c_double(), ctypes.c_double(), raw.FS_RECTF()
    for at in range(text.count_chars()):
        if raw.FPDFText_IsGenerated(text, at):
            continue
        drawn = raw.FPDFText_GetTextObject(text, at)
        key = ctypes.cast(drawn, ctypes.c_void_p).value
        if key not in runs:
            runs[key] = _run(text, at, drawn)
        raw.FPDFText_GetCharOrigin(text, at, x, y)
        raw.FPDFText_GetLooseCharBox(text, at, box)
        letter = chr(raw.FPDFText_GetUnicode(text, at)).translate(_AS_READ)
        yield _Glyph(letter, x.value - left, top - y.value, box.right - left, runs[key])


def _run(text: PdfTextPage, at: int, drawn: object) -> _Run:
    from pypdfium2 import raw

    matrix = raw.FS_MATRIX()
    raw.FPDFText_GetMatrix(text, at, matrix)
    scale = abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5
    size = round(raw.FPDFText_GetFontSize(text, at) * scale, 2)
    return _Run(size, size > 0 and raw.FPDFTextObj_GetTextRenderMode(drawn) not in _INVISIBLE)


def _lines(glyphs: Iterable[_Glyph], width: float, height: float) -> Iterator[tuple[Line, bool]]:
    """Yield the lines of a page of that size, in points, from the top down and from left to right.

    Each comes with whether it is one word that reaches up to the next cell.
    """
    seen = [one for one in glyphs if one.run.visible and 0 <= one.x <= width and 0 <= one.y <= height]
    for one, other in pairwise(seen):
        if one.run is other.run and one.text.strip() and other.text.strip() and one.x < other.x:
            one.run.gaps.append(other.x - one.right)
    row: list[_Glyph] = []
    for one in sorted(seen, key=lambda glyph: glyph.y):
        if row and one.y - row[0].y > _BASELINE:
            yield from _cells(row)
            row = []
        row.append(one)
    yield from _cells(row)


def _cells(row: Sequence[_Glyph]) -> Iterator[tuple[Line, bool]]:
    """Yield the texts that stand on one height, cut where a reader sees columns."""
    letters = sorted((one for one in row if one.text.strip()), key=lambda glyph: glyph.x)
    if not letters:
        return
    height = letters[0].y
    spaces = sorted(one.x for one in row if one.text.isspace())
    start, words = letters[0], letters[0].text
    for one, other in pairwise(letters):
        spaced = any(one.x < space < other.x for space in spaces)
        together = one.run is other.run
        gap = (other.x - one.right - (one.run.spacing if together else 0.0)) / max(one.run.size, other.run.size)
        if gap > (_WIDE if spaced or together else _CELLS):
            yield Line(words, start.x, height, start.run.size), gap < _FULL and bool(_LONG.fullmatch(words))
            start, words = other, other.text
        else:
            words += f" {other.text}" if spaced or gap > _WORDS else other.text
    yield Line(words, start.x, height, start.run.size), False


def _whole_words(lines: Iterable[tuple[Line, bool]]) -> Iterator[Line]:
    """Yield lines with the words that their ends break made whole; a line of nothing else is left out.

    Each line comes with whether it is one word that reaches up to the next cell.
    """
    seen = list(lines)
    left = [line for line, _ in seen]
    for at, (_, is_full) in enumerate(seen):
        line = left[at]
        goes_on = _REST if _BROKEN.search(line.text) else _LETTERS if is_full else None
        below = _below(left, at) if goes_on else None
        rest = goes_on.match(left[below].text) if goes_on and below is not None else None
        if below is None or rest is None:
            whole = line.text
        else:
            whole = line.text.removesuffix("‐") + rest[0].rstrip()
            left[below] = replace(left[below], text=left[below].text[rest.end() :])
        if whole:
            yield replace(line, text=_joined(whole))


def _joined(text: str) -> str:
    """Join the halves in which PDFium returns a letter beyond U+FFFF, as of an emoji; a half alone becomes U+FFFD."""
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


def _below(lines: Sequence[Line], at: int) -> int | None:
    """Return the index of the line that goes on under a line: as far from the left, as large, the next one down."""
    above = lines[at]
    for index in range(at + 1, len(lines)):
        line = lines[index]
        if line.y - above.y > _LEADING * above.size:
            break
        if line.y > above.y and abs(line.x - above.x) < _BASELINE and abs(line.size - above.size) < 0.1:
            return index
    return None


def _links(document: PdfDocument, page: PdfPage) -> Iterator[str]:
    """Yield the addresses of the page's link annotations, in the file's order (ISO 32000-1, 12.6.4.7)."""
    from pypdfium2 import raw

    position, link = ctypes.c_int(0), raw.FPDF_LINK()
    while raw.FPDFLink_Enumerate(page, position, link):
        action = raw.FPDFLink_GetAction(link)
        if action and (length := raw.FPDFAction_GetURIPath(document, action, None, 0)):
            address = ctypes.create_string_buffer(length)
            raw.FPDFAction_GetURIPath(document, action, address, length)
            yield address.value.decode("utf-8", "replace")


def _codes(page: PdfPage) -> Iterator[str]:
    """Photograph the page and yield what its QR codes say (ISO/IEC 18004), so that an unreadable one counts as none."""
    from zxingcpp import BarcodeFormat, BarcodeFormats, read_barcodes

    picture = page.render(scale=_DOTS / 72, grayscale=True).to_numpy()
    yield from (code.text for code in read_barcodes(picture, formats=BarcodeFormats(BarcodeFormat.QRCode)))


def _answer() -> None:
    """Read a PDF from standard input and write what `read_pdf` is to return."""
    confine()
    pages = read_own_pdf(sys.stdin.buffer.read())
    found = pages.found if isinstance(pages, Unreadable) else [asdict(page) for page in pages]
    sys.stdout.write(json.dumps(found))


if __name__ == "__main__":
    _answer()
