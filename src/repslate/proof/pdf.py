"""A PDF read back as a person sees it: its lines where they stand, its links, and its QR codes off the drawn page.

Lines come from where each glyph is drawn, not from the order or the spaces of the file, which a reader never sees.
Where the file says to which paragraph or cell a text belongs (ISO 32000-1, 14.7), lines are parted there alone.
"""

from __future__ import annotations

import ctypes
import json
import re
import sys
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field, replace
from functools import lru_cache
from itertools import groupby, pairwise
from pathlib import Path
from statistics import median_low
from typing import TYPE_CHECKING, Any

from repslate.proof.reading import UNSEEN
from repslate.source.apart import confine, run

if TYPE_CHECKING:
    from PIL.Image import Image
    from pypdfium2 import PdfDocument, PdfPage, PdfTextPage  # type: ignore[import-untyped]

_BASELINE = 1.0  # points by which the feet of letters on one line may differ
_WORDS = 0.1  # sizes between two words that no space parts
_CELLS = 0.6  # sizes between two cells: texts drawn apart; the wide space within one, after a dose, stays below
_WIDE = 1.0  # sizes that part cells whatever stands between them; justified spaces stay below
_FULL = 1.6  # sizes to the next cell from a word that fills its own: the padding between them and most of a letter
_LEADING = 1.7  # sizes from one line of a paragraph to the next, at most
_PAPER = 3371  # points of the longer side of A0 (ISO 216), the largest page that is drawn: 62 MB at DOTS
DOTS = 200  # dots an inch for the codes: five to a module of a 22 mm code with an ordinary address
_SMALLEST = 4.0  # points that can be read (our choice)
_STANDS_OUT = 64  # of 255 greys between a letter and its paper (our choice): less is a contrast below 1.9
_PAGES = 60  # of a PDF; a card has one, with a hundred exercises nine
_LETTERS_MOST = 200_000  # on all pages; sixty pages that are full have as many
LARGEST = 16 * 1024 * 1024  # bytes; a card with every picture that fits on it has one or two million
_INVISIBLE = (3, 7)  # text rendering modes that draw nothing (ISO 32000-1, table 106)
_HYPHEN = "\x02"  # what PDFium returns for a hyphen that ends a line
_AS_READ = str.maketrans({**dict.fromkeys(UNSEEN, ""), _HYPHEN: "-"})
#: A word that goes on in the next line. The true hyphen U+2010 is what hyphenation draws; writers type "-".
_BROKEN = re.compile(r"[^\W_][-‐–]$")
_REST = re.compile(r"(?!(?:and|or|to|nor)\s)\w\S*\s*")  # "two- or three-arm" is not a broken word
#: A word too long for its cell is broken without any sign; the cells of a card hold twenty letters and more.
_LONG = re.compile(r"\S{16,}")
_LETTERS = re.compile(r"\w\S*\s*")
#: A line of one word that is as long as this is a piece of a longer one: no word of a language fills a line of text.
_PIECE = 60
# Share of letters beyond ASCII that must be drawn as they are said to be: where letters join or stack, half are others.
_SAME, _SHAPED = 0.9, 0.5
_DIGITS = re.compile(r"[0-9]+")
# One shape may be drawn for several signs, and a bracket's for the other where text is read from the right.
_ALIKE = str.maketrans(
    {**dict.fromkeys(")[]{}<>", "("), **dict.fromkeys("‐‑‒–—―−", "-"), **dict.fromkeys("‘’‚′`´", "'")}
    | {**dict.fromkeys("“”„″«»", '"'), **dict.fromkeys(UNSEEN, ""), "\x02": "-"}
)
_KEYCAP = re.compile("[0-9#*]\ufe0f?\u20e3")  # a figure on a key: one emoji, drawn as a picture
FIGURE = "Figure"
#: What a line stands within, and nothing in it counts: paragraphs, cells, drawings.
_ENDS = frozenset({"P", "TD", "TH", "LI", "LBody", "Caption", FIGURE, *(f"H{level}" for level in range(1, 7))})

Tag = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Line:
    """Text that stands together on one line, a cell of a table apart from the next.

    `x` and `y` are points from the left and from the top of the page to where its first letter stands, `size` the
    points of that letter. Lines side by side have the same `y`. A word that the line's end breaks is whole here, and
    gone from the next line. `within` are the elements around it, from the outside in, each with a number of its own on
    the page: up to its paragraph or cell, or the drawing; () where the file does not tell. `right` is where its last
    letter ends.
    """

    text: str
    x: float
    y: float
    size: float
    within: tuple[Tag, ...] = ()
    right: float = 0.0


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
    mark: int = -1


@dataclass(frozen=True, slots=True)
class _Leaf:
    """What the file says of a marked text: its place in the order of reading, the elements around it, its words."""

    order: int
    within: tuple[Tag, ...]
    actual: str


@lru_cache(maxsize=4)
def read_pdf(data: bytes) -> tuple[Page, ...] | Unreadable:
    """Return every page of a PDF as it is read on paper, or why it cannot be read.

    The file is read in a process of its own: one of a few kilobytes can ask for hours of drawing.
    """
    if len(data) > LARGEST:
        return Unreadable(f"a PDF of {len(data) // 1024**2} MiB, more than the {LARGEST // 1024**2} that are read")
    answer = run(Path(__file__), data)
    if isinstance(answer, str):
        return Unreadable(f"a PDF that needs {answer} to be read")
    found = json.loads(answer)
    return Unreadable(found) if isinstance(found, str) else tuple(map(page_of, found))


def page_of(told: dict[str, Any]) -> Page:
    """Return a page that a process of its own told of with `asdict`."""
    lists = {key: tuple(told[key]) for key in ("links", "codes")}
    return Page(**{**told, **lists, "lines": tuple(map(_line, told["lines"]))})


def _line(line: dict[str, Any]) -> Line:
    return Line(**{**line, "within": tuple((kind, number) for kind, number in line["within"])})


def read_own_pdf(data: bytes, *, looked: bool = True) -> tuple[Page, ...] | Unreadable:
    """Do what `read_pdf` does in this process, for a PDF that was drawn in it: no other process need be started.

    Text that is set upright is read where it can be seen: not in the colour of the paper, not under something, not
    smaller than 4 points; turned text is not put together. A PDF without any text counts as unreadable.

    Unless `looked`, letters count as seen without a look at the drawn page: our own style sheet hides none.
    """
    from pypdfium2 import PdfiumError

    try:
        with opened(data) as document:
            if isinstance(document, Unreadable):
                return document
            pages = tuple(read_page(document, index, looked=looked) for index in range(len(document)))
    except PdfiumError:
        return Unreadable("a PDF with a damaged page")
    if not any(page.lines for page in pages):
        return Unreadable("a PDF without any text, perhaps a picture of a page")
    return pages


@contextmanager
def opened(data: bytes) -> Iterator[PdfDocument | Unreadable]:
    """Give a PDF whose pages can be drawn and read, or why they cannot; PdfiumError where a page is damaged."""
    from pypdfium2 import PdfDocument, PdfiumError, raw

    try:
        document = PdfDocument(data)
    except PdfiumError as error:
        locked = error.err_code == raw.FPDF_ERR_PASSWORD
        yield Unreadable("a PDF behind a password" if locked else "a file that is no PDF, or a damaged one")
        return
    try:
        document.init_forms()  # before any page is loaded, or what is filled in is not drawn
        yield _excess(document) or document
    finally:
        document.close()


def _excess(document: PdfDocument) -> Unreadable | None:
    if len(document) > _PAGES:
        return Unreadable(f"a PDF of {len(document):,} pages, more than the {_PAGES} that are read")
    if any(max(document.get_page_size(index)) > _PAPER for index in range(len(document))):
        return Unreadable("a PDF with a page larger than A0 paper")
    if (letters := sum(map(_count, document))) > _LETTERS_MOST:
        return Unreadable(f"a PDF of {letters:,} letters, more than the {_LETTERS_MOST:,} that are read")
    return None


def _count(page: PdfPage) -> int:
    return int(page.get_textpage().count_chars())


def read_page(document: PdfDocument, index: int, *, looked: bool = True) -> Page:
    """Read the page at an index; `looked` as in `read_own_pdf`."""
    page = document[index]
    left, bottom, right, top = page.get_cropbox()
    width, height = right - left, top - bottom
    picture = page.render(scale=DOTS / 72, grayscale=True).to_pil()  # NumPy takes longer to load than all of this
    lines = _read(list(_glyphs(page, left, top, picture if looked else None)), dict(leaves(page)), width, height)
    return Page(index + 1, width, height, lines, tuple(links(document, page)), tuple(_codes(picture)))


def _read(glyphs: Sequence[_Glyph], leaves: Mapping[int, _Leaf], width: float, height: float) -> tuple[Line, ...]:
    """Return the lines of a page of that size, in points, from the top down and from left to right."""
    seen = [one for one in glyphs if one.run.visible and 0 <= one.x <= width and 0 <= one.y <= height]
    for one, other in pairwise(seen):
        if one.run is other.run and one.text.strip() and other.text.strip() and one.x < other.x:
            one.run.gaps.append(other.x - one.right)
    figures = {mark for mark, leaf in leaves.items() if leaf.within[-1][0] == FIGURE}
    told = [one for one in seen if one.mark in leaves and one.mark not in figures]
    drawn = [one.y for one in seen if one.mark in figures]
    others = list(_whole_words(_lines(one for one in seen if one.mark not in leaves or one.mark in figures)))
    if drawn:  # words within a drawing may be drawn by themselves, out of any element
        top, bottom = min(drawn) - _BASELINE, max(drawn) + _BASELINE
        figure = ((FIGURE, 0),)
        others = [replace(one, within=figure) if top <= one.y <= bottom else one for one in others]
    return tuple(_level([*_told(told, leaves), *others]))


def _level(lines: Iterable[Line]) -> Iterator[Line]:
    """Yield lines in the order of a page, those side by side on one height."""
    height = None
    row: list[Line] = []
    for one in sorted(lines, key=lambda line: line.y):
        if height is None or one.y - height > _BASELINE:
            yield from sorted(row, key=lambda line: line.x)
            height, row = one.y, []
        row.append(replace(one, y=height))
    yield from sorted(row, key=lambda line: line.x)


def leaves(page: PdfPage) -> Iterator[tuple[int, _Leaf]]:
    """Yield the number of each marked text of a tagged page with what the file says of it, in the order of reading."""
    from pypdfium2 import raw

    tree = raw.FPDF_StructTree_GetForPage(page)
    if not tree:
        return
    count = 0
    roots = [raw.FPDF_StructTree_GetChildAtIndex(tree, at) for at in range(raw.FPDF_StructTree_CountChildren(tree))]
    waiting: list[tuple[object, int, tuple[Tag, ...], str]] = [(root, -1, (), "") for root in reversed(roots) if root]
    while waiting:
        one, mark, around, actual = waiting.pop()
        count += 1
        if mark >= 0:
            yield mark, _Leaf(count, around, actual)
            continue
        if not around or around[-1][0] not in _ENDS:
            around = (*around, (text_of(raw.FPDF_StructElement_GetType, one), count))
        actual = text_of(raw.FPDF_StructElement_GetActualText, one)
        inside: list[tuple[object, int, tuple[Tag, ...], str]] = []
        for at in range(raw.FPDF_StructElement_CountChildren(one)):
            child = raw.FPDF_StructElement_GetChildAtIndex(one, at)
            mark = -1 if child else raw.FPDF_StructElement_GetChildMarkedContentID(one, at)
            if child or mark >= 0:
                inside.append((child, mark, around, actual))
        waiting += reversed(inside)


def text_of(ask: Callable[[Any, Any, int], int], element: object) -> str:
    """Return the text that a function of PDFium writes of an element in UTF-16; "" where it has none."""
    length = ask(element, None, 0)
    if length <= 2:
        return ""
    text = ctypes.create_string_buffer(length)
    ask(element, text, length)
    return text.raw[: length - 2].decode("utf-16-le", "replace")


def _told(glyphs: Iterable[_Glyph], leaves: Mapping[int, _Leaf]) -> Iterator[Line]:
    """Yield the lines of texts whose paragraph or cell the file tells, in the order of reading."""
    texts: dict[int, list[_Glyph]] = {}
    for one in glyphs:
        texts.setdefault(one.mark, []).append(one)
    marks = sorted(
        (mark for mark in leaves if _is_picture(leaves[mark], texts.get(mark, ())) or _letters(texts.get(mark, ()))),
        key=lambda mark: leaves[mark].order,
    )
    for within, inside in groupby(marks, key=lambda mark: leaves[mark].within):
        rows: list[Line] = []
        last: Sequence[_Glyph] = ()
        pictures = ""  # without a place of their own, so they go with the letters behind them, or else before them
        for mark in inside:
            letters = _letters(texts.get(mark, ()))
            if not letters:
                pictures += f"{leaves[mark].actual} "
                continue
            text = pictures + _said(texts[mark], leaves[mark].actual)
            pictures = ""
            first = min(letters, key=lambda one: one.x)
            if last and abs(last[0].y - first.y) <= _BASELINE:
                apart = " " if _apart(last, letters) > _WORDS * first.run.size else ""
                right = max(rows[-1].right, *(one.right for one in letters))
                rows[-1] = replace(rows[-1], text=rows[-1].text + apart + text, x=min(rows[-1].x, first.x), right=right)
            else:
                right = max(one.right for one in letters)
                rows.append(Line(text, first.x, first.y, first.run.size, within, right))
            last = letters
        if pictures and rows:
            rows[-1] = replace(rows[-1], text=f"{rows[-1].text} {pictures}")
        yield from _whole(rows)


def _letters(glyphs: Iterable[_Glyph]) -> list[_Glyph]:
    return [one for one in glyphs if one.text.strip()]


def _is_picture(leaf: _Leaf, glyphs: Iterable[_Glyph]) -> bool:
    """Tell whether a text is nothing but emoji, which are drawn as pictures: a PDF has no letters of them."""
    return bool(leaf.actual.strip()) and not _letters(glyphs) and _is_drawn(leaf.actual, "")


def _apart(one: Sequence[_Glyph], other: Sequence[_Glyph]) -> float:
    """Return how far two texts on one line are apart, in points, whichever stands to the left."""
    ends = [(min(glyph.x for glyph in each), max(glyph.right for glyph in each)) for each in (one, other)]
    return max(ends[1][0] - ends[0][1], ends[0][0] - ends[1][1])


def _whole(rows: Sequence[Line]) -> Iterator[Line]:
    """Yield the lines of a paragraph with the words that their ends break made whole."""
    left = [replace(row, text=" ".join(row.text.split())) for row in rows]
    for at, row in enumerate(left):
        text, following = row.text, left[at + 1].text if at + 1 < len(left) else ""
        goes_on = _REST if _BROKEN.search(text) else _LETTERS if len(text) >= _PIECE and " " not in text else None
        if goes_on and (rest := goes_on.match(following)):
            text = text.removesuffix("‐") + rest[0].rstrip()
            left[at + 1] = replace(left[at + 1], text=following[rest.end() :])
        if text:
            yield replace(row, text=text)


def _said(glyphs: Sequence[_Glyph], actual: str) -> str:
    """Return the words of a marked text: what the file says they are, as far as this is what is drawn.

    Shaped letters, and those read from the right, can only be told from what the file says.
    """
    ordered = "".join(one.text for one in glyphs)
    if actual and _is_drawn(actual, ordered):
        return actual.translate(_AS_READ)
    if any(map(_is_turned, ordered)):
        return _joined(ordered)
    return _joined(_spelt(glyphs))


def _is_drawn(actual: str, drawn: str) -> bool:
    """Tell whether a text is what is drawn: in ASCII all of it, of other letters as many as shaping leaves.

    Of a text that is read from the right, whose parts PDFium moves, all figures and nearly all letters.
    """
    if not _KEYCAP.search(drawn):
        actual = _KEYCAP.sub("", actual)
    texts = [unicodedata.normalize("NFKC", text).casefold().translate(_ALIKE) for text in (actual, _joined(drawn))]
    turned = any(map(_is_turned, texts[0]))
    if turned:
        parts = [sorted(_DIGITS.findall(text)) for text in texts]
    else:
        parts = [[letter for letter in text if letter.isascii() and not letter.isspace()] for text in texts]
    rest = [Counter(one for one in text if one.isalpha() and (turned or not one.isascii())) for text in texts]
    share = _SHAPED if any(map(_is_shaped, actual)) else _SAME
    return parts[0] == parts[1] and (rest[0] & rest[1]).total() >= share * max(one.total() for one in rest)


def _is_shaped(letter: str) -> bool:
    return unicodedata.bidirectional(letter) == "AL" or unicodedata.category(letter).startswith("M")


def _is_turned(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("R", "AL")


def _glyphs(page: PdfPage, left: float, top: float, picture: Image | None) -> Iterator[_Glyph]:
    """Yield what the page's text draws, as its `picture` shows it; what PDFium adds to make words is left out."""
    from pypdfium2 import raw

    text, is_upright = page.get_textpage(), page.get_rotation() == 0
    runs: dict[int | None, _Run] = {}
    marks: dict[int | None, int] = {}
    x, y, box = ctypes.c_double(), ctypes.c_double(), raw.FS_RECTF()
    for at in range(text.count_chars()):
        if raw.FPDFText_IsGenerated(text, at):
            continue
        drawn = raw.FPDFText_GetTextObject(text, at)
        key = ctypes.cast(drawn, ctypes.c_void_p).value
        if key not in runs:
            runs[key] = _run(text, at, drawn)
            marks[key] = raw.FPDFPageObj_GetMarkedContentID(drawn)
        raw.FPDFText_GetCharOrigin(text, at, x, y)
        raw.FPDFText_GetLooseCharBox(text, at, box)
        unknown = raw.FPDFText_HasUnicodeMapError(text, at) == 1
        letter = "" if unknown else chr(raw.FPDFText_GetUnicode(text, at)).translate(_AS_READ)
        if picture is not None and is_upright and letter.isalnum() and not _stands_out(picture, box, left, top):
            continue
        yield _Glyph(letter, x.value - left, top - y.value, box.right - left, runs[key], marks[key])


def _stands_out(picture: Any, box: Any, left: float, top: float) -> bool:
    """Tell whether a letter stands out where it should be on the picture of its page."""
    scale = DOTS / 72
    up, down = (int((top - end) * scale) for end in (box.top, box.bottom))
    begin, end = (int((end - left) * scale) for end in (box.left, box.right))
    place = max(0, begin), max(0, up), min(picture.width, end + 1), min(picture.height, down + 1)
    if place[0] >= place[2] or place[1] >= place[3]:
        return True
    darkest, lightest = picture.crop(place).getextrema()
    return bool(lightest - darkest >= _STANDS_OUT)


def _run(text: PdfTextPage, at: int, drawn: object) -> _Run:
    from pypdfium2 import raw

    matrix = raw.FS_MATRIX()
    raw.FPDFText_GetMatrix(text, at, matrix)
    scale = abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5
    size = round(raw.FPDFText_GetFontSize(text, at) * scale, 2)
    return _Run(size, size >= _SMALLEST and raw.FPDFTextObj_GetTextRenderMode(drawn) not in _INVISIBLE)


def _lines(glyphs: Iterable[_Glyph]) -> Iterator[tuple[Line, bool]]:
    """Yield the lines that glyphs make, from the top down and from left to right.

    Each comes with whether it is one word that reaches up to the next cell.
    """
    row: list[_Glyph] = []
    for one in sorted(glyphs, key=lambda glyph: glyph.y):
        if row and one.y - row[0].y > _BASELINE:
            yield from _cells(row)
            row = []
        row.append(one)
    yield from _cells(row)


def _cells(row: Sequence[_Glyph]) -> Iterator[tuple[Line, bool]]:
    """Yield the texts that stand on one height, cut where a reader sees columns."""
    first = min((one for one in row if one.text.strip()), key=lambda glyph: glyph.x, default=None)
    if first is None:
        return
    start, words, last = first, first.text, first
    for one, last, gap, is_spaced in _steps(row):
        if gap > (_WIDE if is_spaced or one.run is last.run else _CELLS):
            line = Line(words, start.x, first.y, start.run.size, right=one.right)
            yield line, gap < _FULL and bool(_LONG.fullmatch(words))
            start, words = last, last.text
        else:
            words += f" {last.text}" if is_spaced or gap > _WORDS else last.text
    yield Line(words, start.x, first.y, start.run.size, right=last.right), False


def _spelt(row: Sequence[_Glyph]) -> str:
    """Return all that stands on one height as one text, its words parted where a reader sees it."""
    words = min(row, key=lambda glyph: (not glyph.text.strip(), glyph.x)).text
    for _, other, gap, is_spaced in _steps(row):
        words += f" {other.text}" if is_spaced or gap > _WORDS else other.text
    return words


def _steps(row: Sequence[_Glyph]) -> Iterator[tuple[_Glyph, _Glyph, float, bool]]:
    """Yield each letter with the next, how far apart they are in sizes, and whether a blank is drawn between them."""
    letters = sorted((one for one in row if one.text.strip()), key=lambda glyph: glyph.x)
    spaces = sorted(one.x for one in row if one.text.isspace())
    for one, other in pairwise(letters):
        spacing = one.run.spacing if one.run is other.run else 0.0
        gap = (other.x - one.right - spacing) / max(one.run.size, other.run.size)
        yield one, other, gap, any(one.x < space < other.x for space in spaces)


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


def links(document: PdfDocument, page: PdfPage) -> Iterator[str]:
    """Yield the addresses of the page's link annotations, in the file's order (ISO 32000-1, 12.6.4.7)."""
    from pypdfium2 import raw

    position, link = ctypes.c_int(0), raw.FPDF_LINK()
    while raw.FPDFLink_Enumerate(page, position, link):
        action = raw.FPDFLink_GetAction(link)
        if action and (length := raw.FPDFAction_GetURIPath(document, action, None, 0)):
            address = ctypes.create_string_buffer(length)
            raw.FPDFAction_GetURIPath(document, action, address, length)
            yield address.value.decode("utf-8", "replace")


def _codes(picture: Image) -> Iterator[str]:
    """Yield what the QR codes on the picture of a page say (ISO/IEC 18004); an unreadable one counts as none."""
    from zxingcpp import BarcodeFormat, BarcodeFormats, read_barcodes

    yield from (code.text for code in read_barcodes(picture, formats=BarcodeFormats(BarcodeFormat.QRCode)))


def _answer() -> None:
    """Read a PDF from standard input and write what `read_pdf` is to return."""
    confine()
    pages = read_own_pdf(sys.stdin.buffer.read())
    found = pages.found if isinstance(pages, Unreadable) else [asdict(page) for page in pages]
    sys.stdout.write(json.dumps(found))


if __name__ == "__main__":
    _answer()
