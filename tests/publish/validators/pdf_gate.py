"""Structural checks of a tagged PDF, on pikepdf; and its pages measured and photographed by pypdfium2.

A file without findings passes our structural checks. That is not the same as conforming to PDF/UA (ISO 14289), for
which no complete validator is at hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2  # type: ignore[import-untyped]
import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

A4 = (210 * 72 / 25.4, 297 * 72 / 25.4)  # ISO 216, in points of 1/72 inch
MM = 25.4 / 72  # a point in millimetres
LETTER = (612.0, 792.0)
LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*")  # BCP 47, the shapes in use
# The standard structure types, ISO 32000-1, 14.8.4
STANDARD_ROLES = frozenset(
    """
    Document Part Art Sect Div BlockQuote Caption TOC TOCI Index NonStruct Private P H H1 H2 H3 H4 H5 H6 L LI Lbl LBody
    Table TR TH TD THead TBody TFoot Span Quote Note Reference BibEntry Code Link Annot Ruby RB RT RP Warichu WT WP
    Figure Formula Form
    """.split()
)


def pdf_findings(path: Path) -> list[str]:
    """Return what fails our structural checks, one sentence each."""
    with pikepdf.open(path) as pdf:
        return [*_document(pdf), *_structure(pdf), *_pages(pdf), *_fonts(pdf)]


def _document(pdf: pikepdf.Pdf) -> Iterator[str]:
    root = pdf.Root
    if not bool(root.get("/MarkInfo", pikepdf.Dictionary()).get("/Marked", False)):
        yield "the document is not marked as tagged"
    if not LANGUAGE.fullmatch(str(root.get("/Lang", ""))):
        yield f"the document's language is {str(root.get('/Lang', ''))!r}"
    if not bool(root.get("/ViewerPreferences", pikepdf.Dictionary()).get("/DisplayDocTitle", False)):
        yield "the window would not show the title"
    with pdf.open_metadata() as meta:
        if not str(meta.get("dc:title", "")).strip():
            yield "the metadata has no title"
        if "pdfuaid:part" not in meta:
            yield "the metadata does not name a part of PDF/UA"


@dataclass(frozen=True, slots=True)
class Tagged:
    """A structure element: its standard role, its dictionary, and its descendants' roles."""

    role: str
    element: Any
    within: tuple[str, ...]


def _elements(pdf: pikepdf.Pdf) -> Iterator[Tagged]:
    tree = pdf.Root.get("/StructTreeRoot")
    if tree is None:
        return
    roles = {str(key)[1:]: str(value)[1:] for key, value in tree.get("/RoleMap", {}).items()}

    def walk(item: Any) -> Iterator[Tagged]:
        if isinstance(item, pikepdf.Array):
            for child in item:
                yield from walk(child)
        elif isinstance(item, pikepdf.Dictionary):
            below = list(walk(item["/K"])) if "/K" in item else []
            if "/S" in item:
                name = str(item["/S"])[1:]
                yield Tagged(roles.get(name, name), item, tuple(t.role for t in below))
            yield from below

    yield from walk(tree.get("/K", pikepdf.Array()))


def _structure(pdf: pikepdf.Pdf) -> Iterator[str]:
    if "/StructTreeRoot" not in pdf.Root:
        yield "there is no structure tree"
        return
    level = 0
    for tagged in _elements(pdf):
        if tagged.role not in STANDARD_ROLES:
            yield f"{tagged.role} is not a standard role"
        if (
            tagged.role == "Figure"
            and not str(tagged.element.get("/Alt", tagged.element.get("/ActualText", ""))).strip()
        ):
            yield "a figure has no description"
        if tagged.role == "Table" and "TH" not in tagged.within:
            yield "a table has no header cell"
        if heading := re.fullmatch(r"H([1-6])", tagged.role):
            if int(heading[1]) > level + 1:
                yield f"heading level {heading[1]} follows level {level or 'none'}"
            level = int(heading[1])
    if not level:
        yield "there is no heading"


def _pages(pdf: pikepdf.Pdf) -> Iterator[str]:
    for number, page in enumerate(pdf.pages, 1):
        annotations = list(page.obj.get("/Annots", []))
        if annotations and str(page.obj.get("/Tabs", "")) != "/S":
            yield f"page {number}: the tab order does not follow the structure"
        for annotation in annotations:
            if str(annotation.get("/Subtype")) == "/Link" and not str(annotation.get("/Contents", "")).strip():
                yield f"page {number}: a link has no description"


def _fonts(pdf: pikepdf.Pdf) -> Iterator[str]:
    for item in pdf.objects:
        if not isinstance(item, pikepdf.Dictionary) or str(item.get("/Type", "")) != "/Font":
            continue
        kind, name = str(item.get("/Subtype", "")), str(item.get("/BaseFont", "unnamed"))
        if kind.startswith("/CIDFont"):
            continue  # reached through the composite font above it
        if "/ToUnicode" not in item:
            yield f"font {name} does not say which characters its glyphs are"
        holder = item["/DescendantFonts"][0] if kind == "/Type0" else item
        if kind != "/Type3" and not any(
            key in holder.get("/FontDescriptor", {}) for key in ("/FontFile", "/FontFile2", "/FontFile3")
        ):
            yield f"font {name} is not embedded"


@dataclass(frozen=True, slots=True)
class PageSeen:
    """A page as a reader meets it, all lengths in points.

    `size` is the page's, `smallest` that of the smallest lettering, `outside` what leaves the page, `boxes` the widths
    and heights of all drawn shapes that a figure could be written in: 8 to 20 by 6 to 15 mm, outlines included.
    """

    size: tuple[float, float]
    text: str
    smallest: float
    outside: tuple[str, ...]
    boxes: tuple[tuple[float, float], ...]


def look_at(path: Path) -> list[PageSeen]:
    """Return every page, measured."""
    document = pypdfium2.PdfDocument(path)
    seen = [_look(document[index]) for index in range(len(document))]
    document.close()
    return seen


def _look(page: pypdfium2.PdfPage) -> PageSeen:
    left, bottom, right, top = page.get_mediabox()
    text = page.get_textpage()
    slack = 0.5  # points; anti-aliased hairlines on the very edge
    outside, boxes = [], []
    for item in page.get_objects(max_depth=8):
        x0, y0, x1, y1 = _bounds(item)
        if x0 < left - slack or y0 < bottom - slack or x1 > right + slack or y1 > top + slack:
            outside.append(f"object of kind {item.type} at {x0:.1f} {y0:.1f} {x1:.1f} {y1:.1f}")
        if item.type == pdfium.FPDF_PAGEOBJ_PATH and 8 < (x1 - x0) * MM < 20 and 6 < (y1 - y0) * MM < 15:
            boxes.append((x1 - x0, y1 - y0))
    words: str = text.get_text_bounded()
    return PageSeen((right - left, top - bottom), words, _smallest(text), tuple(outside), tuple(boxes))


def _bounds(item: pypdfium2.PdfObject) -> tuple[float, float, float, float]:
    """Return where on the page an object lies; PDFium measures what is inside a form in the form's own units."""
    box: tuple[float, float, float, float] = item.get_bounds()
    while (item := item.container) is not None:
        box = item.get_matrix().on_rect(*box)
    return box


def _smallest(text: pypdfium2.PdfTextPage) -> float:
    """Return the size of the smallest visible lettering, in points, transformations included."""
    smallest = float("inf")
    matrix = pdfium.FS_MATRIX()
    for index in range(text.count_chars()):
        if chr(pdfium.FPDFText_GetUnicode(text, index)).isspace() or pdfium.FPDFText_IsGenerated(text, index):
            continue
        if pdfium.FPDFText_GetMatrix(text, index, matrix):
            scale = abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5
            smallest = min(smallest, pdfium.FPDFText_GetFontSize(text, index) * scale)
    return smallest


def qr_texts(path: Path, page: int = 0) -> list[str]:
    """Photograph a page at 200 dots an inch and return what the QR codes on it say (ISO/IEC 18004)."""
    import zxingcpp

    document = pypdfium2.PdfDocument(path)
    picture = document[page].render(scale=200 / 72).to_pil().convert("L")
    document.close()
    return [code.text for code in zxingcpp.read_barcodes(picture)]
