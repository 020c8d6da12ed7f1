"""The words of the outputs: figures worded once, limits kept by whole items, nothing foreign let through."""

from __future__ import annotations

import io
import json
from fractions import Fraction
from pathlib import Path

import pytest
import regex
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from PIL import Image

from repslate.api import read
from repslate.model.clock import write_clock
from repslate.publish import OUTPUTS, look
from repslate.publish.markdown import escape, to_html, to_markdown, to_plain
from repslate.publish.templates import find
from repslate.publish.typeset import figures, unbroken
from repslate.publish.view import View, iso_duration, view
from repslate.training.numbers import compute

FRONT = "---\nformat: 1\ntitle: Net Shed Strength\ngoal: strength\nlevel: beginner\n{front}---\nA lead.\n\n"
BODY = """## Straight sets
### Goblet squat
{line}

Sit down.

Caution (knees): Stop above the depth that hurts.
"""


def words(folder: Path, line: str = "3 × 8, rest 2 min", *, front: str = "", series: str = "", more: str = "") -> View:
    (folder / "workout.md").write_text(FRONT.format(front=front) + BODY.format(line=line) + more, "utf-8")
    (folder / "series.yaml").write_text(series, "utf-8")
    facts = read(folder).value
    assert facts is not None
    return view(facts)


def published(folder: Path, made: View, name: str) -> str:
    drawn, findings = look.load(made, folder, find())
    assert not findings
    data = next(output for output in OUTPUTS if output.name == name).render(made, drawn)
    assert data is not None
    return data.decode()


@pytest.mark.parametrize(
    ("units", "line", "shown"),
    [
        # 1 lb = 0.45359237 kg exactly (international pound, 1959); rounding ours: whole pounds, half kilograms to 20.
        ("kg", "3 × 8 @ 24 kg", ("3 × 8", "@ 24 kg")),
        ("both", "3 × 8 @ 24 kg", ("3 × 8", "@ 24 kg (53 lb)")),
        ("both", "3 × 8 @ 2 × 24 kg", ("3 × 8", "@ 2 × 24 kg (2 × 53 lb)")),
        ("lb", "3 × 8 @ 24 kg", ("3 × 8", "@ 53 lb")),
        ("kg", "3 × 8 @ 50 lb", ("3 × 8", "@ 23 kg")),
        ("kg", "3 × 8 @ 15 lb", ("3 × 8", "@ 7 kg")),
        ("both", "3 × 8 @ 20–25 lb", ("3 × 8", "@ 20–25 lb (9–11.5 kg)")),
        ("both", "3 × 8 @ bodyweight + 10 kg", ("3 × 8", "@ bodyweight + 10 kg (22 lb)")),
        (
            "both",
            "4 × 6 per side, tempo 3-1-X-0, RPE 8, rest 2–3 min",
            ("4 × 6 per side", "tempo 3-1-X-0", "RPE 8", "rest 2–3 min"),
        ),
    ],
)
def test_prescription_is_worded_in_the_series_unit(
    tmp_path: Path, units: str, line: str, shown: tuple[str, ...]
) -> None:
    exercise = words(tmp_path, line, series=f"units: {units}\n").exercises[0]
    assert (exercise.main, *exercise.details) == shown


@pytest.mark.parametrize(
    ("line", "share", "last"),
    [
        # NSCA handbook table and Zourdos et al. 2016: 10, 8 and 6 with one in reserve are 11, 9 and 7 to failure.
        ("10/8/6, RPE 9, rest 2 min", "70–83 % 1RM, first to last set", ("40 kg", "28–32 kg")),
        ("3 × 8 @ 80 % 1RM, rest 2 min", "80 % 1RM", ("40 kg", "32 kg")),
    ],
)
def test_a_load_table_says_which_set_each_end_is_for(
    tmp_path: Path, line: str, share: str, last: tuple[str, str]
) -> None:
    (table,) = words(tmp_path, line).demands.loads
    assert (table.share, table.rows[-1]) == (share, last)


@pytest.mark.parametrize(
    ("line", "boxes"), [("3 × 8", "###"), ("2–4 × 8", "##--"), ("12/10/8", "###"), ("1 × 60 s", "#")]
)
def test_card_has_a_box_a_set(tmp_path: Path, line: str, boxes: str) -> None:
    exercise = words(tmp_path, line).exercises[0]
    assert "".join("#" if firm else "-" for firm in exercise.boxes) == boxes


@pytest.mark.parametrize(
    ("block", "rest"),
    [
        ("Straight sets · rest 90 s", "rest 90 s after each set"),
        ("Straight sets · 3 rounds · rest 90 s", "rest 90 s after each set"),
        ("Warm-up · rest 30 s", "rest 30 s after each set"),
        ("Warm-up · 2 rounds · rest 30 s", "rest 30 s after each round"),
        ("Finisher · 3 rounds · rest 60 s", "rest 60 s after each round"),
        ("Superset A · 3 rounds · rest 60–75 s", "rest 60–75 s after each round"),
        ("As many rounds as possible in 8 min · rest 20 s", "rest 20 s after each round"),
    ],
)
def test_a_rest_says_whether_it_comes_after_a_set_or_a_round(tmp_path: Path, block: str, rest: str) -> None:
    pair = "### Push-up\n2 × 5\n### Plank\n2 × 20 s\n"
    made = words(tmp_path, more=f"## {block}\n{pair}")
    assert made.blocks[1].facts[-1] == rest
    assert f" · {rest}" in published(tmp_path, made, "article.md")


@pytest.mark.parametrize("between", [0, 60, 120])
def test_the_time_bar_ends_with_its_headline(tmp_path: Path, between: int) -> None:
    pair = "## Superset A · 3 rounds · rest 60–75 s\n### Push-up\n8–12 reps\n### Dead bug\n8 reps\n"
    more = f"## Finisher\n### Plank\n30 s\n{pair}"
    series = f"change-over seconds:\n  blocks: {between}\n"
    made = words(tmp_path, series=series, more=more)
    facts = read(tmp_path).value
    assert facts is not None
    total = compute(facts.episode, facts.library).time.total
    drawn = sum((seconds for bar in made.demands.bars for _, seconds in bar.segments), Fraction(0))
    assert drawn == (total.low + total.high) / 2


def test_durations_are_iso_8601() -> None:
    """ISO 8601 durations, hours unlimited so that no day is needed."""
    values = {1710: "PT28M30S", 0: "PT0S", 90: "PT1M30S", 3600: "PT1H", 3723: "PT1H2M3S", 86400: "PT24H"}
    assert {seconds: iso_duration(Fraction(seconds)) for seconds in values} == values
    assert write_clock(Fraction(1710), hours=False) == "28:30"


def test_disclosure_and_notice_stand_in_every_text(tmp_path: Path) -> None:
    made = words(tmp_path, front="sponsor: Fenwick Rope\n")
    for name in ("article.html", "article.md", "description.txt", "caption.txt"):
        text = published(tmp_path, made, name)
        assert "sponsored by Fenwick Rope" in text, name
        assert "not medical advice" in text, name
    for name in ("description.txt", "caption.txt"):
        assert "sponsored by Fenwick Rope" in published(tmp_path, made, name).splitlines()[0]
    page = published(tmp_path, made, "article.html")
    assert page.index('class="disclosure"') < page.index("<h1>")


def test_no_disclosure_without_sponsor(tmp_path: Path) -> None:
    made = words(tmp_path)
    assert all("dvertisement" not in published(tmp_path, made, name) for name in ("article.html", "caption.txt"))


@pytest.mark.parametrize(("limit", "finishers"), [(2200, 3), (270, 2), (220, 0), (180, 0)])
def test_caption_is_shortened_by_whole_items(tmp_path: Path, limit: int, finishers: int) -> None:
    series = f"host:\n  caption:\n    profile: photo-feed\n    maximum: {limit}\nhashtags: [one, two, three]\n"
    more = "\n## Finisher\n### Burpee\n1 × 30 s\n" * 3
    made = words(tmp_path, series=series, front="summary: Short and heavy.\n", more=more)
    text = published(tmp_path, made, "caption.txt")
    whole = published(
        tmp_path,
        words(tmp_path, front="summary: Short and heavy.\nhashtags: [one, two, three]\n", more=more),
        "caption.txt",
    )
    assert len(regex.findall(r"\X", text)) <= limit
    assert set(text.split()) <= set(whole.split()), "an item was cut, not left out"
    assert "Net Shed Strength" in text
    assert "not medical advice" in text
    assert text.count("Finisher") == finishers


def test_description_leaves_out_whole_paragraphs_but_never_what_is_needed(tmp_path: Path) -> None:
    (tmp_path / "chapters.txt").write_text("0:00 Welcome\n1:00 Goblet squat\n9:00 Goodbye\n", "utf-8")
    full = published(tmp_path, words(tmp_path, front="sponsor: Fenwick Rope\n"), "description.txt")
    series = "host:\n  description:\n    profile: video-description\n    maximum: 620\n"
    short = published(tmp_path, words(tmp_path, series=series, front="sponsor: Fenwick Rope\n"), "description.txt")
    assert len(short) <= 620 < len(full)
    assert set(short.splitlines()) < set(full.splitlines())
    for needed in ("Advertisement", "Net Shed Strength", "1:00 Goblet squat", "not medical advice"):
        assert needed in short


def test_script_in_a_title_stays_text(tmp_path: Path) -> None:
    """HTML standard, script data state: "</script>" inside JSON-LD would end the block."""
    made = words(tmp_path, front='presenter: "</script><b>Maren"\n')
    page = published(tmp_path, made, "article.html")
    block = page.split('<script type="application/ld+json">')[1].split("</script>")[0]
    assert json.loads(block)["author"]["name"] == "</script><b>Maren"
    assert "<b>Maren" not in page


@pytest.mark.parametrize(
    ("markdown", "html", "plain"),
    [
        ("Sit *down* **now**", "<p>Sit <em>down</em> <strong>now</strong></p>\n", "Sit down now"),
        ("<script>alert(1)</script>", "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n", "<script>alert(1)</script>"),
        ("[a](javascript:alert(1))", "<p>[a](javascript:alert(1))</p>\n", "[a](javascript:alert(1))"),
        ("[a](//evil.example/x)", "<p>[a](//evil.example/x)</p>\n", "[a](//evil.example/x)"),
        ("[a](data:text/html,x)", "<p>[a](data:text/html,x)</p>\n", "[a](data:text/html,x)"),
        ("[a](&#106;avascript:x)", "<p>[a](javascript:x)</p>\n", "[a](javascript:x)"),
        ("![a bar](pictures/a.png)", "", ""),
        ("before ![a bar](pictures/a.png) after", "<p>before  after</p>\n", "before  after"),
        ("# Big", "<p>Big</p>\n", "Big"),
    ],
)
def test_markdown_lets_nothing_foreign_through(markdown: str, html: str, plain: str) -> None:
    assert to_html(markdown) == html
    assert to_plain(markdown) == plain
    assert to_html(to_markdown(markdown)) == html


def test_allowed_link_is_kept() -> None:
    html = to_html("[page](https://heronwick.example/a)")
    assert html == '<p><a href="https://heronwick.example/a" rel="noopener noreferrer">page</a></p>\n'


@pytest.mark.parametrize("text", ["3 * 4 * 5", "[A1]", "_x_ `y` <z> &amp;", "50 % & more"])
def test_escaped_words_show_unchanged(text: str) -> None:
    assert to_plain(escape(text)) == text


def test_figures_are_tied_to_their_units() -> None:
    assert str(figures("3 × 10–12 per side")) == (
        '<span class="nb">3 × 10–12</span> <span class="u nb">per side</span>'
    )
    assert str(unbroken("@ 2 × 24 kg (2 × 53 lb), tempo 3-1-1-0")).count('class="nb"') == 3


def test_pictures_lose_the_cameras_notes(tmp_path: Path) -> None:
    (tmp_path / "pictures").mkdir()
    exif = Image.Exif()
    exif[0x010E] = "taken at home"
    Image.new("RGB", (2000, 1000), "#336655").save(tmp_path / "pictures" / "goblet-squat.jpg", exif=exif)
    made = words(tmp_path, more="\n![A person squats.](pictures/goblet-squat.jpg)\n")
    drawn, findings = look.load(made, tmp_path, find())
    still = drawn.stills["pictures/goblet-squat.jpg"]
    assert not findings
    assert (still.width, still.height, still.description) == (1280, 640, "A person squats.")
    assert b"taken at home" not in still.data


def test_article_carries_the_extended_faces_only_for_words_that_need_them(tmp_path: Path) -> None:
    assert published(tmp_path, words(tmp_path), "article.html").count("@font-face") == 2
    assert published(tmp_path, words(tmp_path, front="presenter: Łucja\n"), "article.html").count("@font-face") == 4


def test_extended_faces_stay_for_each_letter_that_only_they_hold() -> None:
    def held(family: str) -> set[str]:
        names = [name for one, _, name in look.FACES if one == family]
        return {chr(code) for name in names for code in TTFont(io.BytesIO(find().read(name))).getBestCmap()}

    only_extended = held(look.LATIN_EXTENDED) - held(look.LATIN)
    assert "Ł" in only_extended
    assert [one for one in only_extended if look.IN_LATIN.fullmatch(one)] == []


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 40])
def test_broken_picture_is_a_finding(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "goblet-squat.png").write_bytes(content)
    made = words(tmp_path, more="\n![A person squats.](pictures/goblet-squat.png)\n")
    _, findings = look.load(made, tmp_path, find())
    assert [(f.check, f.span.line) for f in findings] == [("picture-unreadable", 17)]
