"""A card and a picture are held against the built ones as they are seen, however they were saved."""

from __future__ import annotations

import io
import shutil
import zlib
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageDraw

from proof.sampled import Sample
from proof.test_hostile import nested_forms
from repslate import api
from repslate.proof.pdf import Line, Page, Unreadable, read_own_pdf
from repslate.proof.rendered import compare_rendered
from repslate.source.finding import Severity

CARD = "card-a4.pdf"
EPISODE = Path(__file__).parents[2] / "samples" / "boathouse-kettlebells"
Edit = Callable[[pikepdf.Pdf, Page], object]
ERROR, WARNING = Severity.ERROR, Severity.WARNING


def edited(data: bytes, edit: Edit, **saved: object) -> bytes:
    pages = read_own_pdf(data, looked=False)
    assert not isinstance(pages, Unreadable)
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        edit(pdf, pages[0])
        pdf.save(out, **saved)  # type: ignore[arg-type]
    return out.getvalue()


def told(sample: Sample, published: bytes, name: str = CARD) -> list[tuple[Severity, str, str]]:
    found = compare_rendered(name, published, sample.files[name], sample.expected)
    return [(one.severity, one.check, one.message) for one in found]


def draw(pdf: pikepdf.Pdf, content: str, before: bytes = b"") -> None:
    page = pdf.pages[0]
    page.Resources.Font["/Own"] = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    page.contents_add(pdf.make_stream(b"q " + before), prepend=True)
    page.contents_add(pdf.make_stream(f" Q q {content} Q".encode()))


def line(page: Page, begins: str) -> Line:
    return next(one for one in page.lines if one.text.startswith(begins))


def write(words: str, size: float, *, mode: int = 0, before: str = "") -> Edit:
    """Write words at the foot of the page, or right before a line that is there."""

    def edit(pdf: pikepdf.Pdf, page: Page) -> None:
        at = line(page, before) if before else None
        x, y = (at.x - 0.62 * at.size * len(words), page.height - at.y) if at else (240, 14)
        draw(pdf, f"BT {mode} Tr /Own {size} Tf 1 0 0 1 {x} {y} Tm ({words}) Tj ET")

    return edit


def cover(begins: str, across: float, grey: float = 1) -> Edit:
    """Paint over the first points of a line."""

    def edit(pdf: pikepdf.Pdf, page: Page) -> None:
        at = line(page, begins)
        draw(pdf, f"{grey} g {at.x - 1} {page.height - at.y - 2} {across} {at.size} re f")

    return edit


def cover_code(pdf: pikepdf.Pdf, page: Page) -> None:
    draw(pdf, f"1 g {page.width - 130} 0 130 130 re f")


def note(words: str, kind: str) -> Edit:
    def edit(pdf: pikepdf.Pdf, page: Page) -> None:
        own = Dictionary(Type=Name.Annot, Subtype=Name(kind), Rect=[240, 8, 300, 20], Contents=words, F=4)
        old = pdf.pages[0].get("/Annots", Array([]))
        pdf.pages[0].Annots = Array([*old, pdf.make_indirect(own)])

    return edit


def garble(pdf: pikepdf.Pdf, page: Page) -> None:
    """Lose which letters the shapes are, as programs do that save a PDF by printing it."""
    del pdf.Root["/StructTreeRoot"]
    for font in pdf.pages[0].Resources.Font.values():
        if "/ToUnicode" in font:
            del font["/ToUnicode"]


def repack(pdf: pikepdf.Pdf, page: Page) -> None:
    for one in pdf.objects:
        if isinstance(one, pikepdf.Stream) and one.get("/Filter") == Name.FlateDecode and "/DecodeParms" not in one:
            one.write(zlib.compress(one.read_bytes(), 1), filter=Name.FlateDecode)


HARMLESS: list[tuple[str, Edit, dict[str, object]]] = [
    ("saved anew", lambda pdf, page: None, {}),
    ("linearised", lambda pdf, page: None, {"linearize": True}),
    ("object streams", lambda pdf, page: None, {"object_stream_mode": pikepdf.ObjectStreamMode.generate}),
    ("not packed", lambda pdf, page: None, {"compress_streams": False}),
    ("packed otherwise", repack, {}),
    ("producer", lambda pdf, page: pdf.docinfo.__setitem__("/Producer", "A printer"), {}),
    ("within q and Q", lambda pdf, page: draw(pdf, ""), {}),
    ("moved by a fifth of a point", lambda pdf, page: draw(pdf, "", b"1 0 0 1 .2 .2 cm "), {}),
    ("without its text", garble, {}),
    ("white on white", lambda pdf, page: draw(pdf, "1 g 2 2 9 200 re f"), {}),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "saved"), [one[1:] for one in HARMLESS], ids=[one[0] for one in HARMLESS])
def test_what_looks_the_same_is_silent(boathouse: Sample, edit: Edit, saved: dict[str, object]) -> None:
    published = edited(boathouse.files[CARD], edit, **saved)
    assert published != boathouse.files[CARD]
    assert told(boathouse, published) == []


HARMFUL: list[tuple[str, Edit, Severity, str, str]] = [
    ("a figure covered", cover("8–10 reps", 5), ERROR, "audit-figure", "A2 One-arm row"),
    ("a caution covered", cover("Caution (wrists)", 300), ERROR, "audit-caution", "caution on wrists"),
    ("a caution shaded", cover("Caution (wrists)", 300, grey=0.4), ERROR, "audit-caution", "caution on wrists"),
    ("a name covered", cover("Goblet squat", 70), ERROR, "audit-missing", "A1 Goblet squat"),
    ("the disclosure covered", cover("Advertisement", 400), ERROR, "audit-disclosure", "the disclosure"),
    ("the code covered", cover_code, ERROR, "audit-link", "the QR code on page 1: found none"),
    ("a digit before a dose", write("1", 9, before="8–10 reps"), ERROR, "audit-figure", "found “1 8–10"),
    ("tiny words", write("Then 50 burpees", 4), ERROR, "audit-drawn", "Then 50 burpees"),
    ("tinier words", write("Then 50 burpees", 3), ERROR, "audit-drawn", "cannot be read"),
    ("a sponsor", write("Thanks to our sponsor Quillmere", 8), ERROR, "audit-drawn", "sponsor Quillmere"),
    ("other words", write("Well met", 8), WARNING, "audit-added", "Well met"),
    ("words that nobody sees", write("Then 50 burpees", 9, mode=3), WARNING, "audit-copied", "Then 50 burpees"),
    ("words pinned on", note("Skip the cautions", "/FreeText"), ERROR, "audit-drawn", "Skip the cautions"),
    ("a square pinned on", note("", "/Square"), ERROR, "audit-drawn", "cannot be read"),
    ("a page more", lambda pdf, page: pdf.add_blank_page(page_size=(595, 842)), ERROR, "audit-drawn", "a page 2"),
    ("the page twice", lambda pdf, page: pdf.pages.append(pdf.pages[0]), ERROR, "audit-drawn", "page 1 once more"),
    ("cut off", lambda pdf, page: pdf.pages[0].__setattr__("CropBox", [0, 90, 595, 842]), ERROR, "audit-drawn", "mm"),
    ("turned", lambda pdf, page: pdf.pages[0].rotate(180, relative=True), ERROR, "audit-drawn", "throughout"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("edit", "severity", "check", "says"), [one[1:] for one in HARMFUL], ids=[one[0] for one in HARMFUL]
)
def test_what_looks_otherwise_is_told(boathouse: Sample, edit: Edit, severity: Severity, check: str, says: str) -> None:
    found = told(boathouse, edited(boathouse.files[CARD], edit))
    assert any(one[:2] == (severity, check) and says in one[2] for one in found), found
    assert len(found) <= 3 or says == "throughout", found
    assert severity is ERROR or all(one[0] is not ERROR for one in found), found


def test_every_figure_that_is_covered_is_found_where_it_stands(boathouse: Sample) -> None:
    pages = read_own_pdf(boathouse.files[CARD], looked=False)
    assert not isinstance(pages, Unreadable)
    doses = [one for one in pages[0].lines if one.text[0].isdigit() and "rep" in one.text]
    chosen = doses[1::3][:5]
    edits = [f"1 g {one.x - 1} {pages[0].height - one.y - 2} 5 {one.size} re f" for one in chosen]
    found = told(boathouse, edited(boathouse.files[CARD], lambda pdf, page: draw(pdf, "\n".join(edits))))
    assert len([one for one in found if one[0] is ERROR]) == len(chosen), found
    for one in chosen:
        down = [f"{(one.y - 0.8 * one.size + off) * 25.4 / 72:.0f} mm from the top" for off in (0, 1.5, 3)]
        assert any(place in message for _, _, message in found for place in down), (one, found)


def test_a_page_that_is_gone_is_told(samples: dict[str, Sample], tmp_path: Path) -> None:
    """No sample has two pages: a card of two is as good as a built one to whoever compares."""
    sample = samples["boathouse-kettlebells"]
    other = pikepdf.open(io.BytesIO(samples["chair-session"].files[CARD]))
    two = edited(sample.files[CARD], lambda pdf, page: pdf.pages.extend(other.pages))
    first = edited(two, lambda pdf, page: pdf.pages.__delitem__(0))
    turned = edited(two, lambda pdf, page: pdf.pages.reverse())
    for published, says in ((first, "page 1 is gone"), (turned, "page 1 is drawn otherwise throughout")):
        found = compare_rendered(CARD, published, two, sample.expected)
        assert any(says in one.message for one in found), found


def test_a_costly_card_is_told(boathouse: Sample) -> None:
    ((severity, check, message),) = told(boathouse, nested_forms())
    assert (severity, check) == (ERROR, "audit-unreadable")
    assert "to be drawn" in message


def picture(data: bytes, change: Callable[[Image.Image], Image.Image], quality: int) -> bytes:
    out = io.BytesIO()
    with Image.open(io.BytesIO(data)) as old:
        change(old.convert("RGB")).save(out, "JPEG", quality=quality)
    return out.getvalue()


def stamped(image: Image.Image) -> Image.Image:
    ImageDraw.Draw(image).rectangle((20, 20, 20 + image.width // 8, 20 + image.height // 16), fill="red")
    return image


@pytest.mark.parametrize(
    ("change", "quality", "expected"),
    [
        (lambda image: image, 60, None),
        (lambda image: image.resize((image.width // 2, image.height // 2)), 80, "audit-resized"),
        (stamped, 90, "audit-drawn"),
        (lambda image: image.rotate(180), 90, "audit-drawn"),
        (lambda image: image.crop((0, 0, image.width * 3 // 4, image.height)), 90, "audit-drawn"),
    ],
    ids=["saved anew", "smaller", "stamped", "turned", "cut"],
)
def test_a_picture_is_compared_as_it_is_seen(
    boathouse: Sample, change: Callable[[Image.Image], Image.Image], quality: int, expected: str | None
) -> None:
    name = next(name for name in boathouse.files if name.endswith(".jpg"))
    found = told(boathouse, picture(boathouse.files[name], change, quality), name)
    assert [one[1] for one in found] == ([expected] if expected else [])
    assert all((one[0] is ERROR) == (one[1] == "audit-drawn") for one in found)


def test_the_audit_compares_what_was_changed_with_what_it_would_build(boathouse: Sample, tmp_path: Path) -> None:
    built = Path(shutil.copytree(boathouse.folder, tmp_path / boathouse.folder.name))
    (built / CARD).write_bytes(edited(boathouse.files[CARD], HARMLESS[1][1], linearize=True))
    letter = built / "card-letter.pdf"
    letter.write_bytes(edited(letter.read_bytes(), cover("8–10 reps", 5)))
    found = api.audit(EPISODE, built.parent).findings
    said = {(one.span.file, one.check) for one in found}
    assert said == {
        (CARD, "audit-changed"),
        ("card-letter.pdf", "audit-figure"),
    }
