"""Titles and names of any script and any signs are published as they are written, and read back as the same ones."""

from __future__ import annotations

import html
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from made_episodes import write_episode
from repslate import api
from repslate.proof import audit
from repslate.proof.markdown import read_markdown
from repslate.proof.reading import seen
from repslate.proof.wording import behind, key
from repslate.publish.markdown import escape
from repslate.source.finding import Severity

LONG = "Lower body strength at home in thirty minutes with two kettlebells and a chair, slow and steady"
HEBREW = "כוח לפלג גוף תחתון בבית (שלב 2) ב-30 דקות עם שתי משקולות וכיסא אחד"
NAMES = [
    "Farmer's walk (2 bells)", "Row 45°", "Press to 90%", "Burpees!", "The “bear”", "Carry … etc.", "???", "Why?",
    "Schulterblattstabilisierungsübungsvariante", "Donaudampfschifffahrtsgesellschaftskapitänsmützenständer",
    "<b>Bold</b> & *star*", "`code` _under_ ~~gone~~", "[a](https://x.example)", "![x](y)", "&amp; &lt;", "Row | pull",
    "C:\\squat\\", "Plank 3 × 10", "Plank", "Next: up", "12 reps", "Rest 90 s", "סקוואט", "לחיצת כתפיים (2 משקולות)",
    "Goblet סקוואט 12", "تمرين القرفصاء لا", "深蹲", "ﬁt ½ x² №1", "a\u00adb\u200dc\u200fd", "No.", "@ 20 kg",
    "100 %", "What to do", "סקוואט 6®",
]  # fmt: skip
TITLES = [
    "5:2 in 30 minutes",
    "1. # - * Title #",
    "3 sets of 12 reps, 12 exercises",
    "Done on",
    "<script>T</script>",
    LONG,
    HEBREW,
]
printable = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), min_size=1, max_size=30).map(seen)
Write = Callable[[str, list[str]], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write an episode with this title and these exercises."""

    def written(title: str, names: list[str]) -> Path:
        folder = tmp_path / "series" / "episode"
        folder.mkdir(parents=True, exist_ok=True)
        caution = (
            "Caution (knees): Stop at once if it hurts.\nCaution (landing): Land softly.\nCaution (back): Keep it flat."
        )
        blocks = "\n".join(
            f"### {name}\n3 × {at} @ 20 kg, rest 90 s\n\n{caution}\n" for at, name in enumerate(names, 5)
        )
        head = f"format: 1\ntitle: {json.dumps(title)}\npresenter: <b>P</b>\ngoal: strength\nlevel: beginner"
        (folder / "workout.md").write_text(f"---\n{head}\n---\nLead.\n\n## Straight sets\n{blocks}\n## Safety\nCare.\n")
        marks = ["0:00 Welcome", *(f"{at}:00 {name}" for at, name in enumerate(names, 1))]
        (folder / "chapters.txt").write_text("\n".join(marks), "utf-8")
        (folder.parent / "series.yaml").write_text("brand: <i>B</i>\naddress: https://h.example/{slug}\n", "utf-8")
        return folder

    return written


def test_names_with_any_sign_are_published_to_the_letter(write: Write, tmp_path: Path) -> None:
    for names in (NAMES[:12], NAMES[12:24], NAMES[24:]):
        folder = write(LONG, names)
        built = api.build(folder, tmp_path / "out")
        assert built.value is not None, [one for one in built.findings if one.severity is Severity.ERROR]
        facts = api.read(folder).value
        assert facts is not None
        texts = {
            one: (built.value.folder / one).read_text("utf-8")
            for one in ("caption.txt", "chapters.txt", "article.html")
        }
        texts["article.html"] = html.unescape(texts["article.html"])
        for _, exercise in facts.episode.exercises():
            assert all(exercise.name in text for text in texts.values()), exercise.name


@pytest.mark.parametrize("title", TITLES)
def test_an_episode_with_any_title_builds(write: Write, tmp_path: Path, title: str) -> None:
    built = api.build(write(title, ["Goblet squat", "Row 45°"]), tmp_path / "out")
    assert built.value is not None, [one for one in built.findings if one.severity is Severity.ERROR]


@pytest.mark.parametrize(
    ("title", "other"),
    [
        (LONG, LONG.replace("two", "ten")), (LONG, LONG.replace("slow and steady", "slow")), ("A 12 B", "A 21 B"),
        (HEBREW, HEBREW.replace("2", "3")), (HEBREW, HEBREW.replace("כיסא", "שולחן")),
        (HEBREW, HEBREW.replace("גוף תחתון", "תחתון גוף")),
    ],
)  # fmt: skip
def test_another_title_is_found_in_every_output(write: Write, tmp_path: Path, title: str, other: str) -> None:
    built = api.build(write(title, ["Goblet squat"]), tmp_path / "out")
    assert built.value is not None
    files = {path.name: path.read_bytes() for path in built.value.folder.iterdir() if path.is_file()}
    facts = api.read(write(other, ["Goblet squat"])).value
    assert facts is not None
    said = [verdict.finding for verdict in audit(facts, files).all]
    found = {one.span.file for one in said if "the title" in one.message or "“title”" in one.message}
    assert found >= {"article.html", "article.md", "description.txt", "caption.txt", "card-a4.pdf", "card-letter.pdf"}


@settings(max_examples=6, phases=[Phase.explicit, Phase.generate])
@given(seed=st.integers(0, 10**6))
def test_an_episode_that_passes_the_check_builds(tmp_path_factory: pytest.TempPathFactory, seed: int) -> None:
    place = tmp_path_factory.mktemp("made")
    folder = place / "series" / f"made-{seed}"
    write_episode(folder, seed)
    built = api.build(folder, place / "out")
    wrong = [one for one in built.findings if one.severity is Severity.ERROR]
    if not any(one.severity is Severity.ERROR for one in api.check(folder).findings):
        assert built.value is not None, wrong


@given(name=printable.filter(bool), other=st.sampled_from([": 3 × 10", " · 3 rounds", " 3 × 10", ""]))
def test_what_stands_behind_a_name_is_found_whatever_signs_it_has(name: str, other: str) -> None:
    assert behind(name, name + other) == other


@given(name=printable.filter(bool))
def test_markdown_shows_a_name_as_it_is_written(name: str) -> None:
    (heading,) = read_markdown("x.md", f"# T {escape(name)}".encode()).pieces
    assert key(heading.text) == key(f"T {name}")
    (item,) = read_markdown("x.md", f"- A1 {escape(name)}: 3 × 10".encode()).pieces
    assert item.text == f"A1 {name}: 3 × 10"
