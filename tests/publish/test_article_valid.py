"""The article before judges that know nothing of repslate: Nu checker, axe in a browser, the schema.org vocabulary."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lxml import html
from playwright.sync_api import Browser

from publish.validators.browser import Scheme, chromium, visit
from publish.validators.modules import module
from publish.validators.nu import nu_messages
from publish.validators.schema_org import Vocabulary, read_vocabulary, schema_findings

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("boathouse-kettlebells", "school-hall-circuit", "chair-session")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return read_vocabulary(module("schema-dts/dist/schema.d.ts"))


# --- Nu HTML checker --------------------------------------------------------------------------------------------------


def test_the_nu_checker_has_nothing_to_say(built_samples: dict[str, Path]) -> None:
    assert nu_messages([folder / "article.html" for folder in built_samples.values()]) == []


def test_the_nu_checker_speaks_up_on_a_bad_page(tmp_path: Path) -> None:
    page = tmp_path / "bad.html"
    page.write_text('<html lang="en"><title></title><p id="a"><div id="a"><img src="x"></div>', encoding="utf-8")
    assert len(nu_messages([page])) >= 4  # doctype, title, id twice, alt


# --- axe-core in Chromium ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", NAMES)
def test_the_article_is_accessible_quiet_and_fits(
    built_samples: dict[str, Path], browser: Browser, name: str, width: int, scheme: Scheme
) -> None:
    page = built_samples[name] / "article.html"
    seen = visit(browser, page, width=width, scheme=scheme)
    assert seen.violations == ()
    assert [asked for asked in seen.requests if not asked.startswith("data:")] == [page.as_uri()]
    assert seen.console == ()
    assert seen.blank_pictures == 0
    assert seen.content_width <= seen.view_width


def test_axe_and_the_ruler_speak_up_on_a_bad_page(browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "bad.html"
    page.write_text(
        '<!doctype html><html lang="en"><title>t</title><style>p{color:#aaa;width:400px}'
        '@media(prefers-color-scheme:dark){p{color:#000}}</style><main><h1>t</h1><p>pale</p><img src="x.png"></main>',
        encoding="utf-8",
    )
    light = visit(browser, page, width=360, scheme="light")
    found = " ".join(light.violations)
    assert "color-contrast" in found and "2.32" in found  # #aaaaaa on white, WCAG 2.2 relative luminance
    assert "image-alt" in found
    assert light.requests == (page.as_uri(), (tmp_path / "x.png").as_uri())
    assert light.blank_pictures == 1
    assert light.content_width > light.view_width
    assert "color-contrast" not in " ".join(visit(browser, page, width=360, scheme="dark").violations)


@pytest.mark.parametrize("name", NAMES)
def test_no_words_run_into_each_other(built_samples: dict[str, Path], browser: Browser, name: str) -> None:
    shown = visit(browser, built_samples[name] / "article.html", width=360, scheme="light").text
    source = (SAMPLES / name / "workout.md").read_text(encoding="utf-8")
    for heading in re.findall(r"^### ([^·{\n]+?) *(?:[·{].*)?$", source, re.M):
        assert re.search(rf"(?<!\w){re.escape(heading)}(?!\w)", shown), heading
    assert re.findall(r"\w*[a-z](?:\d+ rounds|rest \d+)", shown) == []


# --- schema.org -------------------------------------------------------------------------------------------------------

GRAPH = {
    "@context": "https://schema.org",
    "@type": "Article",
    "headline": "h",
    "wordCount": 3,
    "author": {"@type": "Person", "name": "Maren", "url": "https://video.example/"},
    "video": {
        "@type": "VideoObject",
        "name": "n",
        "duration": "PT1M",
        "transcript": "t",
        "hasPart": [{"@type": "Clip", "name": "c", "startOffset": 1, "endOffset": 3, "url": "https://video.example/"}],
        "potentialAction": {"@type": "SeekToAction", "target": "t", "startOffset-input": "required name=s"},
    },
    "about": [
        {"@type": "ExercisePlan", "exerciseType": "e", "repetitions": 8, "workload": "w", "restPeriods": "r"},
        {"@type": "HowTo", "tool": "t", "step": [{"@type": "HowToStep", "text": "t", "timeRequired": "PT1M"}]},
    ],
}
# schema.org 30.0: the first four and "Workout" as published, HowTo.steps superseded by step
SLIPS = [
    ({"@type": "Clip", "startTime": 1}, "$.startTime: not a property of Clip"),
    ({"@type": "Clip", "duration": "PT1M"}, "$.duration: not a property of Clip"),
    ({"@type": "ExerciseAction", "repetitions": 8}, "$.repetitions: not a property of ExerciseAction"),
    ({"@type": "HowToStep", "performTime": "PT1M"}, "$.performTime: not a property of HowToStep"),
    ({"@type": "HowTo", "steps": []}, "$.steps: superseded by step"),
    ({"@type": "Workout"}, "$: type 'Workout' is unknown"),
    ({"@type": "Clip", "startOfset": 1}, "$.startOfset: property is unknown"),
    ({"@type": "Article", "video": [{"@type": "Clip", "step": 1}]}, "$.video[0].step: not a property of Clip"),
]


def test_the_validator_accepts_a_full_graph(vocabulary: Vocabulary) -> None:
    assert list(schema_findings(GRAPH, vocabulary)) == []


@pytest.mark.parametrize(("node", "finding"), SLIPS)
def test_the_validator_sees(vocabulary: Vocabulary, node: dict[str, Any], finding: str) -> None:
    assert list(schema_findings(node, vocabulary)) == [finding]


@pytest.mark.parametrize("name", NAMES)
def test_the_json_ld_keeps_to_the_vocabulary(built_samples: dict[str, Path], vocabulary: Vocabulary, name: str) -> None:
    assert list(schema_findings(read_json_ld(built_samples[name] / "article.html"), vocabulary)) == []


@pytest.mark.parametrize("name", NAMES)
def test_the_json_ld_says_what_the_page_and_the_source_say(built_samples: dict[str, Path], name: str) -> None:
    page = built_samples[name] / "article.html"
    article = read_json_ld(page)
    video = article["video"]
    length = seconds_of_clock(front_matter(name, "length"))
    starts = [seconds_of_clock(line.split()[0]) for line in lines_of(SAMPLES / name / "chapters.txt")]
    clips = video["hasPart"]

    assert article["headline"] == headings(page)[0] == front_matter(name, "title")
    assert seconds_of_duration(video["duration"]) == length
    assert article["datePublished"] == front_matter(name, "published")
    assert [clip["startOffset"] for clip in clips] == starts
    assert [clip["endOffset"] for clip in clips] == [*starts[1:], length]
    for clip in clips:
        assert 0 <= clip["startOffset"] < clip["endOffset"] <= length
        assert re.findall(r"[#?&]t=(\d+)$", clip["url"]) == [str(clip["startOffset"])]
    # the union of what search engines ask of a video (from memory, one engine's own page)
    assert {"name", "description", "thumbnailUrl", "uploadDate", "duration", "contentUrl"} <= video.keys()


def read_json_ld(page: Path) -> dict[str, Any]:
    """Return the page's one JSON-LD block, read by the strict rules of JSON."""
    blocks = parse(page).xpath("//script[@type='application/ld+json']/text()")
    assert len(blocks) == 1
    found: dict[str, Any] = json.loads(blocks[0])
    return found


def parse(page: Path) -> html.HtmlElement:
    return html.document_fromstring(page.read_text(encoding="utf-8"))


def headings(page: Path) -> list[str]:
    return [heading.text_content().strip() for heading in parse(page).xpath("//h1")]


def front_matter(name: str, key: str) -> str:
    found = re.search(rf'^{key}: "?([^"\n]+)"?$', (SAMPLES / name / "workout.md").read_text(encoding="utf-8"), re.M)
    assert found
    return found[1]


def lines_of(path: Path) -> list[str]:
    return path.read_text(encoding="utf-8").splitlines()


def seconds_of_clock(text: str) -> int:
    minutes, seconds = text.split(":")
    return int(minutes) * 60 + int(seconds)


def seconds_of_duration(text: str) -> int:
    """Read an ISO 8601 duration of hours, minutes and seconds; "P10M" would be months and is refused."""
    found = re.fullmatch(r"PT(?=\d)(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?", text)
    assert found, text
    hours, minutes, seconds = (int(part or 0) for part in found.groups())
    return hours * 3600 + minutes * 60 + seconds
