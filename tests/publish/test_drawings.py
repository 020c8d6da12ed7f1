"""The drawings: to scale, legible from 320 px to A4, safe without colour, and told in words."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from playwright.sync_api import Browser, Page

from publish.validators.browser import Scheme, chromium, visit
from publish.validators.nu import nu_messages
from publish.validators.pdf_gate import look_at, pdf_findings
from repslate.model import library
from repslate.model.contrast import ratio
from repslate.publish import body as figure
from repslate.publish.drawings import Bar, Kind, MuscleRow, body, muscle_bars, session_bar

TEMPLATES = Path(__file__).parents[2] / "templates"
ENGLISH = "The checker guesses the language of a page, so here are two plain sentences. Nothing else is in them. " * 3
SVG = "{http://www.w3.org/2000/svg}"


def pairs(rounds: int, work: int, rest: int) -> tuple[tuple[Kind, Fraction], ...]:
    one: tuple[tuple[Kind, Fraction], ...] = (
        ("work", Fraction(work)),
        ("change-over", Fraction(15)),
        ("work", Fraction(work)),
        ("rest", Fraction(rest)),
    )
    return (("set-up", Fraction(10)), *one * rounds)


SESSION = (
    Bar("Warm-up", "WU", "about 4 min", pairs(2, 30, 0)),
    Bar("Superset A: squat <and> row", "A", "about 11 min", pairs(3, 60, 83)),
    Bar("Superset B: hinge & push", "B", "about 10 min", pairs(3, 45, 83)),
    Bar("Finisher", "C", "about 8 min", pairs(4, 30, 68)),
    Bar("Cool-down", "CD", "about 2 min", pairs(1, 60, 0)),
)
CROWDED = (  # long names on short stretches, three of them at the very end, and one that takes no time
    Bar("Warm-up: wrists and shoulders, slowly", "WU", "20 s", (("work", Fraction(20)),)),
    Bar("Activation", "A", "20 s", (("work", Fraction(20)),)),
    Bar("Superset B: a long and winding name for two lifts", "B", "30 min", pairs(9, 60, 60)),
    *(Bar(f"Every minute {n}", f"B{n}", "15 s", (("rest", Fraction(15)),)) for n in range(1, 4)),
    Bar("As many rounds as possible", "C", "20 min", pairs(6, 60, 60)),
    Bar("Nothing yet", "D", "no time", ()),
    Bar("Walk", "WK", "10 s", (("work", Fraction(10)),)),
    Bar("Breathe", "BR", "10 s", (("work", Fraction(10)),)),
    Bar("Cool-down", "CD", "10 s", (("set-up", Fraction(10)),)),
)
LEANING = (  # at 320 px there is room for A beside C, but not past the rule of WW, whose letters stand lower
    Bar("Activation", "A", "70 s", (("work", Fraction(70)),)),
    Bar("Superset", "WW", "80 s", (("work", Fraction(80)),)),
    Bar("Circuit", "C", "30 min", (("work", Fraction(1790)),)),
)
ROWS = (
    MuscleRow("quadriceps", Fraction(10), Fraction(2), "10 sets, 4 at half"),
    MuscleRow("hamstrings", Fraction(7), Fraction(0), "7 sets"),
    MuscleRow("triceps", Fraction(0), Fraction(3), "6 at half"),
    MuscleRow("side of the ribs (serratus)", Fraction(0), Fraction(3, 2), "3–4 sets, all counted at half"),
    *(MuscleRow(f"muscle {n}", Fraction(n), Fraction(1, 2), f"{n} sets, 1 at half") for n in range(8, 0, -1)),
)
LEVELS = {"quadriceps femoris": 3, "gluteus maximus": 3, "pectoralis major": 2, "diaphragm": 1, "rotator cuff": 1}


def all_three(*, paper: bool, prefix: str = "x", bars: tuple[Bar, ...] = SESSION) -> tuple[str, str, str]:
    return (
        session_bar(bars, label="Where the time goes", prefix=f"{prefix}-bar", paper=paper),
        muscle_bars(ROWS, label="Sets per muscle", prefix=f"{prefix}-sets", paper=paper),
        body(LEVELS, label="Muscles trained", prefix=f"{prefix}-body", paper=paper),
    )


def shares(drawing: str, kind: str) -> list[tuple[float, float]]:
    """Return start and length of the session's stretches of a kind, as per cents of the drawing's width."""
    fill = {"work": 'fill="#000" ', "rest": 'fill="url(#x-hatch)" '}[kind].strip()
    found = re.findall(
        rf'<rect x="([\d.]+)%" y="1.60em" width="([\d.]+)%" height="[\d.]+em" {re.escape(fill)}/>', drawing
    )
    return [(float(x), float(width)) for x, width in found]


# --- to scale ---------------------------------------------------------------------------------------------------------

kinds = st.sampled_from(["work", "rest", "set-up", "change-over"])
segments = st.lists(st.tuples(kinds, st.fractions(1, 600, max_denominator=4)), min_size=1, max_size=12)


@given(st.lists(segments, min_size=1, max_size=5))
def test_the_session_is_drawn_to_scale(parts: list[list[tuple[Kind, Fraction]]]) -> None:
    bars = [Bar(f"Block {n}", str(n), "some time", tuple(part)) for n, part in enumerate(parts)]
    drawing = session_bar(bars, label="Time", prefix="x", paper=True)
    flat = [segment for part in parts for segment in part]
    total = sum(seconds for _, seconds in flat)
    for kind in ("work", "rest"):
        drawn = shares(drawing, kind)
        told = float(sum(seconds for k, seconds in flat if k == kind) / total * 100)
        assert sum(width for _, width in drawn) == pytest.approx(told, abs=0.001 * len(flat))
        starts = [float(sum(s for _, s in flat[:i]) / total * 100) for i, (k, _) in enumerate(flat) if k == kind]
        assert {round(x, 3) for x, _ in drawn} <= {round(x, 3) for x in starts}


def test_sets_are_drawn_to_scale_in_the_order_given() -> None:
    drawing = muscle_bars(ROWS[:3], label="Sets", prefix="x", paper=True)
    bars = re.findall(r'<rect x="([\d.]+)%" y="([\d.]+)em" width="([\d.]+)%" height="[\d.]+em" fill="([^"]+)"', drawing)
    assert [(x, width, fill) for x, _, width, fill in bars] == [
        ("0", "83.333", "#000"),  # 10 of 12
        ("83.333", "16.667", "url(#x-hatch)"),
        ("0", "58.333", "#000"),
        ("0", "25", "url(#x-hatch)"),
    ]
    assert [float(y) for _, y, _, _ in bars] == sorted(float(y) for _, y, _, _ in bars)


def test_nothing_is_drawn_of_nothing() -> None:
    assert session_bar([Bar("A", "A", "no time", ())], label="Time", prefix="x") == ""
    assert muscle_bars([], label="Sets", prefix="x") == ""


# --- the body ---------------------------------------------------------------------------------------------------------


def test_every_muscle_of_the_library_has_its_place() -> None:
    drawn = {*figure.FRONT, *figure.BACK}
    assert set(figure.SHOWN) == drawn
    lost = {name for name in library.load().muscles if not figure.regions(name)}
    assert lost == set(figure.UNSEEN)
    named = {name for names in figure.SHOWN.values() for name in names}
    assert named <= set(library.load().muscles)
    with pytest.raises(KeyError):
        body({"elbow grease": 1}, label="Muscles", prefix="x")


@pytest.mark.parametrize(("side", "shapes"), [("front", figure.FRONT), ("back", figure.BACK)])
def test_every_region_lies_within_the_outline(side: str, shapes: figure.Shapes) -> None:
    for name, outlines in shapes.items():
        out = [point for outline in outlines for point in outline if not inside(point, figure.OUTLINE)]
        assert out == [], (side, name)


def inside(point: tuple[float, float], outline: tuple[tuple[float, float], ...]) -> bool:
    """Tell whether a point lies within a polygon: a ray from it crosses the border an odd number of times."""
    x, y = point
    crossed = 0
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            crossed += 1
    return crossed % 2 == 1


def test_a_region_is_as_dark_as_its_most_trained_muscle() -> None:
    # sartorius and quadriceps share the front of the thigh; brachialis lies under the biceps
    assert body({"sartorius": 1, "vastus lateralis": 3}, label="L", prefix="x") != body(
        {"sartorius": 1}, label="L", prefix="x"
    )
    one, other = ({"sartorius": a, "quadriceps femoris": b} for a, b in ((1, 3), (3, 1)))
    assert paths(body(one, label="L", prefix="x")) == paths(body(other, label="L", prefix="x"))
    assert figure.regions("brachialis") == figure.regions("biceps brachii long head") == ("front of the upper arm",)


def paths(drawing: str) -> list[str]:
    return re.findall(r"<path [^>]+>", drawing)


@pytest.mark.parametrize(("ink", "paper"), [("#1c1b1a", "#ffffff"), ("#ece8e1", "#15161a"), ("#000000", "#ffffff")])
def test_neighbouring_tones_differ_by_three_to_one(ink: str, paper: str) -> None:
    # WCAG 2.2, 1.4.11: graphics 3:1; the hatch is ink on paper, within an outline of ink
    css = (TEMPLATES / "article.css").read_text(encoding="utf-8")
    assert ink == "#000000" or (f"--ink: {ink};" in css and f"--paper: {paper};" in css)
    assert 'fill-opacity=".5"' in body({"latissimus dorsi": 2}, label="L", prefix="x")
    grey = (
        "#" + bytes((a + b) // 2 for a, b in zip(bytes.fromhex(ink[1:]), bytes.fromhex(paper[1:]), strict=True)).hex()
    )
    assert ratio(paper, grey) >= 3
    assert ratio(grey, ink) >= 3


def test_the_four_levels_differ_in_more_than_lightness() -> None:
    looks = []
    for level in range(4):
        drawing = body({"latissimus dorsi": level}, label="L", prefix="x", paper=True)
        lats = paths(drawing)[-len(figure.BACK) :][list(figure.BACK).index("lats")]
        looks.append(re.sub(r' d="[^"]+"', "", lats))
    assert len(set(looks)) == 4
    assert "url(#x-body)" in looks[1]


# --- words ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", [False, True])
def test_each_drawing_says_in_words_what_it_shows(paper: bool) -> None:
    told = []
    for drawing in all_three(paper=paper):
        root = etree.fromstring(drawing)
        assert root.get("role") == "img"
        title, description = (
            root.find(f".//{SVG}*[@id='{name}']") for name in str(root.get("aria-labelledby")).split()
        )
        assert title is not None and description is not None
        told.append((str(title.text), str(description.text)))
    assert told[0][0] == "Where the time goes"
    assert told[0][1].startswith(
        "Warm-up: about 4 min. Superset A: squat <and> row: about 11 min. Superset B: hinge & push"
    )
    assert told[1] == ("Sets per muscle", ". ".join(f"{row.name}: {row.value}" for row in ROWS))
    assert told[2][1] == "Most: quadriceps, glutes. More: chest. Some: breathing muscles, rotator cuff"
    assert ">None</desc>" in body({"hamstrings": 0}, label="L", prefix="x")


def test_print_has_black_white_and_one_grey_and_no_variables() -> None:
    for drawing in all_three(paper=True):
        assert set(re.findall(r'(?:fill|stroke)="(#[^"]*)"', drawing)) <= {"#000", "#fff", "#777"}
        assert "var(" not in drawing and "<style" not in drawing


def test_the_same_words_give_the_same_bytes() -> None:
    assert all_three(paper=False) == all_three(paper=False)
    assert body(dict(reversed(LEVELS.items())), label="L", prefix="x").count("<path") == 1 + 1 + 1 + len(
        figure.FRONT
    ) + len(figure.BACK)


# --- on the page ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write a page with every drawing in the article's style, the crowded sessions as well."""
    css = (TEMPLATES / "article.css").read_text(encoding="utf-8")
    css = css.replace("{{ accent }}", "#1f5f4f").replace("{{ accent_dark }}", "#6fb8a3")
    drawings = [*all_three(paper=False), session_bar(CROWDED, label="A crowded session", prefix="crowded")]
    drawings.append(session_bar(LEANING, label="A session of three", prefix="leaning"))
    figures = "".join(f"<figure>{drawing}</figure>" for drawing in drawings)
    path = tmp_path_factory.mktemp("page") / "page.html"
    path.write_text(
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Drawings</title>'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{faces()}{css}</style></head>'
        f"<body><main><h1>Drawings</h1><p>{ENGLISH}</p>{figures}</main></body></html>",
        encoding="utf-8",
    )
    return path


def faces() -> str:
    fonts = ((weight, TEMPLATES / f"fonts/source-sans-3-latin-{weight}-normal.woff2") for weight in (400, 600))
    return "".join(
        f'@font-face{{font-family:"Repslate Text";font-weight:{weight};src:url('
        f'"data:font/woff2;base64,{base64.b64encode(path.read_bytes()).decode()}")}}'
        for weight, path in fonts
    )


def test_the_nu_checker_has_nothing_to_say(page_file: Path) -> None:
    assert nu_messages([page_file]) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_the_drawings_are_accessible_and_fit(browser: Browser, page_file: Path, width: int, scheme: Scheme) -> None:
    seen = visit(browser, page_file, width=width, scheme=scheme)
    assert seen.violations == ()
    assert [asked for asked in seen.requests if not asked.startswith("data:")] == [page_file.as_uri()]
    assert seen.content_width <= seen.view_width


@pytest.mark.parametrize("font", ["latin-400", "latin-600", "latin-ext-400", "latin-ext-600"])
def test_no_letter_is_wider_than_the_layout_reckons(font: str) -> None:
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    from repslate.publish.drawings import _advance

    face = TTFont(TEMPLATES / f"fonts/source-sans-3-{font}-normal.woff2")
    widths = {chr(code): face["hmtx"][name][0] / face["head"].unitsPerEm for code, name in face.getBestCmap().items()}
    letters = {letter: width for letter, width in widths.items() if letter.isalnum() or letter in " -–—'’&.,:;()·×½"}
    assert len(letters) > 90
    assert {letter: width for letter, width in letters.items() if width > _advance(letter)} == {}


LETTERING = """() => [...document.querySelectorAll('svg[role=img]')].map(svg => {
    const whole = svg.getBoundingClientRect()
    const shown = [...svg.querySelectorAll('text')].filter(t => t.getClientRects().length && t.getBBox().width)
    const box = t => { const r = t.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom] }
    const rules = [...svg.querySelectorAll('line')].filter(l => l.getClientRects().length).map(box)
    return {whole: [whole.left, whole.top, whole.right, whole.bottom], rules,
            words: shown.map(t => ({text: t.textContent, size: parseFloat(getComputedStyle(t).fontSize), box: box(t)}))}
})"""


@pytest.mark.parametrize("width", [320, 375, 607, 620, 1280])
def test_no_words_are_cut_or_meet_other_words_or_rules(browser: Browser, page_file: Path, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(page_file.as_uri())
    seen = lettering(page)
    page.close()
    assert len(seen) == 5
    assert {word["text"] for word in seen[3]["words"]} >= {"B1", "B2", "B3", "D", "WK", "BR", "CD"}


def lettering(page: Page) -> list[dict[str, list[dict[str, str]]]]:
    """Return what stands in each drawing; every word must be whole, large enough and clear of all else."""
    page.evaluate("document.fonts.ready")
    drawings = page.evaluate(LETTERING)
    for drawing in drawings:
        left, top, right, bottom = drawing["whole"]
        for index, word in enumerate(drawing["words"]):
            x0, y0, x1, y1 = word["box"]
            assert left - 1 <= x0 and x1 <= right + 1 and top - 3 <= y0 and y1 <= bottom + 3, word
            assert word["size"] >= 14.4 - 0.01  # the page's --small: .8rem of 18 px
            lean = 3  # px: a line box is higher than its letters
            for other in drawing["words"][index + 1 :]:
                a0, b0, a1, b1 = other["box"]
                assert a0 >= x1 or a1 <= x0 or b0 >= y1 - lean or b1 <= y0 + lean, (word, other)
            for a0, b0, a1, b1 in drawing["rules"]:
                assert a0 >= x1 or a1 <= x0 or b0 >= y1 - 2 * lean or b1 <= y0 + 2 * lean, (word, a0)
    found: list[dict[str, list[dict[str, str]]]] = drawings
    return found


# --- on paper ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("inline", [True, False])
def test_weasyprint_draws_them(tmp_path: Path, inline: bool) -> None:
    import pypdfium2  # type: ignore[import-untyped]
    import weasyprint

    drawings = all_three(paper=True)
    if not inline:
        drawings = tuple(  # type: ignore[assignment]
            f'<img alt="a drawing" src="data:image/svg+xml;base64,{base64.b64encode(drawing.encode()).decode()}">'
            for drawing in drawings
        )
    path = tmp_path / "card.pdf"
    weasyprint.HTML(
        string=f'<html lang="en"><title>Card</title><style>@page{{size:A4;margin:12mm}}{faces()}</style><h1>Card</h1>'
        + "".join(f"<p>{drawing}</p>" for drawing in drawings)
    ).write_pdf(path, pdf_variant="pdf/ua-1")
    assert pdf_findings(path) == []
    (page,) = look_at(path)
    assert page.smallest >= 8 - 0.01
    assert page.outside == ()
    for words in ("Superset A: squat <and> row", "quadriceps", "6 at half", "Front", "Back", "most"):
        assert words in page.text
    document = pypdfium2.PdfDocument(path)
    picture = document[0].render(scale=2).to_pil().convert("L")
    document.close()
    lower = picture.crop((0, picture.height // 2, picture.width, picture.height))
    assert lower.histogram()[0] > 500  # the thighs' ink
    assert lower.histogram()[127] + lower.histogram()[128] > 500  # the chest's grey
