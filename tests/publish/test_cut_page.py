"""The editor's page: what it says of each chapter, before judges that know nothing of repslate, and under the keys."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lxml import html
from playwright.sync_api import Browser

from publish.validators.browser import Scheme, chromium, visit
from publish.validators.nu import nu_messages
from repslate import api
from repslate.publish.cut_page import film_link

HARBOUR = Path(__file__).parents[2] / "samples" / "harbour-cut"
OFF_THE_CUT = ("0:51.2 Incline push-up", "0:53 Incline push-up")  # 1.8 s after the shot change, 1.0 s allowed
WORKOUT = """\
---
format: 1
title: Net shed squats
presenter: Robin
goal: hypertrophy
level: intermediate
---
## Straight sets
### Goblet squat
3 × 10, rest 90 s

Caution (knees): Stop above the depth that hurts.

### One-arm row
3 × 10 per side, rest 90 s

## Safety
Stop when it hurts.
"""
CHAPTERS = "0:00 Welcome\n0:20 Goblet squat\n1:10 One-arm row\n"
SAID = """\
1
00:00:21,500 --> 00:00:23,000
Goblet <b>squats</b> & a smile.

2
00:00:50,000 --> 00:00:53,000
Now the one-arm row.
"""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Build an episode with subtitles alone, and the sample with its film, one chapter moved off the cut."""
    root = tmp_path_factory.mktemp("cut")
    spoken = root / "samples" / "spoken"
    spoken.mkdir(parents=True)
    for name, text in (("workout.md", WORKOUT), ("chapters.txt", CHAPTERS), ("subtitles.srt", SAID)):
        (spoken / name).write_text(text, "utf-8")
    filmed = root / "samples" / "filmed"
    shutil.copytree(HARBOUR, filmed)
    chapters = (filmed / "chapters.txt").read_text("utf-8")
    assert OFF_THE_CUT[0] in chapters
    (filmed / "chapters.txt").write_text(chapters.replace(*OFF_THE_CUT), "utf-8")
    found = {}
    for folder in (spoken, filmed):
        built = api.build(folder, root / "output")
        assert built.value is not None, built.findings
        found[folder.name] = built.value.folder / "cut.html"
    return found


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


def chapter(page: Path, title: str) -> str:
    """Return the text of one chapter's row, blanks made one."""
    (row,) = found(page, f"//section[.//h3[text()='{title}']]")
    return " ".join(" ".join(row.itertext()).split())


def found(page: Path, path: str) -> list[Any]:
    """Return what an XPath finds in a page."""
    answer: Any = html.document_fromstring(page.read_text("utf-8")).xpath(path)
    return list(answer)


def test_each_chapter_says_how_it_stands_against_the_words(pages: dict[str, Path]) -> None:
    squat, row = (chapter(pages["spoken"], title) for title in ("Goblet squat", "One-arm row"))
    assert "Named in time · named 1.5 s later, at 0:21.500" in squat
    assert "Goblet squats & a smile." in squat
    assert "Look at it · named 20 s earlier, at 0:50" in row
    assert "begin the chapter at 0:50" in row


def test_each_chapter_says_how_it_stands_against_the_film(pages: dict[str, Path]) -> None:
    page = pages["filmed"]
    assert "On the cut · at the film's first frame" in chapter(page, "Welcome")
    moved = chapter(page, "Incline push-up")
    assert "Look at it · 1.8 s, 45 frames, after the shot change at 0:51.200" in moved
    assert "one frame before at 0:53 proposed: 0:51.200" in moved
    chapters = len(found(page, "//section[contains(@class,'chapter')]"))
    frames = found(page, "//figure/img[starts-with(@src,'data:image/jpeg')]")
    assert len(frames) == 2 * chapters, "none before the film's first, and one more as proposed"
    assert found(page, "//video/@src") == ["../../samples/filmed/cut.mp4"]


def test_the_nu_checker_has_nothing_to_say(pages: dict[str, Path]) -> None:
    assert nu_messages(list(pages.values())) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("name", ["spoken", "filmed"])
def test_the_page_is_accessible_quiet_and_fits(
    pages: dict[str, Path], browser: Browser, name: str, width: int, scheme: Scheme
) -> None:
    seen = visit(browser, pages[name], width=width, scheme=scheme)
    assert seen.violations == ()
    assert [asked for asked in seen.requests if not asked.startswith("data:")] == [pages[name].as_uri()]
    assert seen.console == ()
    assert seen.blank_pictures == 0
    assert seen.content_width <= seen.view_width


def test_keys_go_through_the_chapters_and_can_be_turned_off(pages: dict[str, Path], browser: Browser) -> None:
    page = browser.new_page()
    page.goto(pages["spoken"].as_uri())
    visited = []
    for key in "nnpnnn":  # the last finds no chapter left
        page.keyboard.press(key)
        visited.append(page.evaluate("document.activeElement.id"))
    assert visited == [f"chapter_{number}" for number in (1, 2, 1, 2, 3, 3)]
    assert page.locator(".chapters [aria-current]").inner_text() == "3"
    page.get_by_label("Keys are on").uncheck()
    page.keyboard.press("p")
    assert page.locator(".chapters [aria-current]").inner_text() == "3"
    page.close()


def test_the_film_is_asked_for_when_it_is_played_and_starts_at_the_chapter(
    pages: dict[str, Path], browser: Browser
) -> None:
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(pages["filmed"].as_uri())
    page.keyboard.press("n")
    page.keyboard.press("n")
    assert len(asked) == 1
    page.keyboard.press("s")
    page.wait_for_function("document.querySelector('video').currentTime >= 14.4")
    assert page.evaluate("document.querySelector('video').currentTime") < 20
    film = (pages["filmed"].parents[2] / "samples/filmed/cut.mp4").as_uri()
    assert set(asked[1:]) == {film}
    page.close()


def test_errors_do_not_keep_the_page_from_the_editor(tmp_path: Path) -> None:
    folder, page = tmp_path / "episode", tmp_path / "page.html"
    shutil.copytree(HARBOUR, folder)
    shutil.copy(HARBOUR / "recut" / "cut.mp4", folder / "cut.mp4")
    checked = api.check(folder)
    assert checked.failed
    assert api.write_cut_page(checked, folder, page) == ()
    assert "Wrong · past the end of the film" in chapter(page, "Goodbye")
    assert 'src="episode/cut.mp4"' in page.read_text("utf-8")


def test_a_page_that_cannot_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "workout.md").write_text(WORKOUT, "utf-8")
    checked = api.check(tmp_path)
    (nothing,) = api.write_cut_page(checked, tmp_path, tmp_path / "page.html")
    assert "expected a film, subtitles or an edit" in nothing.message
    (tmp_path / "subtitles.srt").write_text(SAID, "utf-8")
    (unwritten,) = api.write_cut_page(api.check(tmp_path), tmp_path, tmp_path / "none" / "page.html")
    assert unwritten.check == "page-not-written"


def test_the_page_changes_nothing_that_viewers_get(pages: dict[str, Path], tmp_path: Path) -> None:
    plain = tmp_path / "spoken"
    plain.mkdir()
    for name, text in (("workout.md", WORKOUT), ("chapters.txt", CHAPTERS)):
        (plain / name).write_text(text, "utf-8")
    built = api.build(plain, tmp_path / "output")
    assert built.value is not None
    assert not (built.value.folder / "cut.html").exists(), "there is nothing to compare the chapters with"
    for name in ("article.html", "article.md", "card-a4.pdf", "description.txt"):
        assert (built.value.folder / name).read_bytes() == (pages["spoken"].parent / name).read_bytes()


@pytest.mark.parametrize(
    ("film", "page", "address"),
    [
        ("samples/one two/cut.mp4", "output/one", "../../samples/one%20two/cut.mp4"),
        ("cut.mp4", "a/b/c", "../../../cut.mp4"),
        ("cut.mp4", "a/b/c/d", None),  # further up than a page should tell
    ],
)
def test_the_link_to_the_film_is_short_and_relative(film: str, page: str, address: str | None, tmp_path: Path) -> None:
    assert film_link(tmp_path / film, tmp_path / page) == address
