"""Lines that nobody understands are published word for word, and the audit finds it where one of their words is not."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt

from proof.sampled import Sample
from repslate import api
from repslate.documents import to_json
from repslate.proof import audit_against
from repslate.proof.card import card_document
from repslate.proof.expected import Expected, expect
from repslate.proof.pdf import Unreadable, read_own_pdf
from repslate.source.finding import Severity

LINES = [
    line
    for line in (Path(__file__).parents[1] / "cases" / "typed" / "lines.txt").read_text("utf-8").splitlines()
    if not line.startswith("# ")
]
NAMES = "Goblet squat|Push-up|Plank|Barbell row|Split squat|Biceps curl|Lat pulldown|Leg press|Glute bridge|Calf raise"
TEXTS = ("article.html", "article.md", "description.txt", "caption.txt")


def workout(lines: list[str]) -> str:
    names = NAMES.split("|")
    parts = [f"### {names[at % len(names)]} {{e{at}}}\n{line}\n" for at, line in enumerate(lines)]
    head = "---\nformat: 1\ntitle: A plan as it was typed\npresenter: Robin\ngoal: strength\nlevel: intermediate\n---\n"
    return f"{head}A plan.\n\n## Straight sets\n{''.join(parts)}\n## Safety\nStop when you feel dizzy.\n"


def built_from(lines: list[str], folder: Path) -> Sample:
    folder.mkdir()
    (folder / "workout.md").write_text(workout(lines), "utf-8")
    built = api.build(folder, folder.parent / "out")
    assert built.value is not None, built.findings
    facts = api.read(folder).value
    assert facts is not None
    files = {path.name: path.read_bytes() for path in built.value.folder.iterdir() if path.is_file()}
    return Sample(folder, expect(facts), files)


@pytest.fixture(scope="module")
def typed(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    return built_from(LINES, tmp_path_factory.mktemp("typed") / "plan")


def told(document: dict[str, Any]) -> Iterator[str]:
    for block in document["blocks"]:
        for exercise in block["exercises"]:
            yield from exercise["words"]


def squeezed(text: str) -> str:
    return "".join(re.sub("[\u2066-\u2069]", "", text).split())


def test_habitual_lines_build_without_an_error(typed: Sample) -> None:
    assert len(LINES) >= 20
    facts = api.read(typed.folder)
    assert [one for one in api.check(typed.folder).findings if one.severity is Severity.ERROR] == []
    notes = [one for one in facts.findings if one.check == "dose-as-typed"]
    assert len(notes) == len(LINES), "each is said once"
    asking = {"sets-missing", "work-missing", "rest-missing", "side-missing", "nothing-to-do", "words-contradict"}
    assert asking.isdisjoint(one.check for one in api.check(typed.folder).findings)


def test_they_count_nowhere(typed: Sample) -> None:
    assert typed.expected.numbers.muscles == ()
    assert {one.reason for one in typed.expected.numbers.not_counted} == {"number of sets not written"}


def test_their_words_stand_in_every_output(typed: Sample) -> None:
    shown_in = {file: typed.text(file) for file in TEXTS}
    page = re.sub(r"<style.*?</style>|<script.*?</script>", "", shown_in["article.html"], flags=re.DOTALL)
    shown_in["article.html"] = unescape(re.sub("<[^>]*>", "", page))
    shown_in["article.md"] = unescape(re.sub("<[^>]*>", "", MarkdownIt().render(shown_in["article.md"])))
    for card in ("card-a4.pdf", "card-letter.pdf"):
        pages = read_own_pdf(typed.files[card])
        assert not isinstance(pages, Unreadable)
        shown_in[card] = " ".join(piece.text for piece in card_document(card, pages).pieces)
    shown_in["json"] = " ".join(told(json.loads(to_json(api.read(typed.folder)))))
    missing = [
        (file, line)
        for file, text in shown_in.items()
        for line in LINES
        if squeezed(line) not in squeezed(text) and not (file == "caption.txt" and len(text) > 2_000)
    ]
    assert missing == []


def test_a_word_that_is_dropped_or_changed_is_found(typed: Sample) -> None:
    missed = []
    for file in ("article.md", "description.txt", "caption.txt", "article.html"):
        text = typed.text(file)
        start = text.index("<table") if file.endswith("html") else 0
        for line in LINES:
            if line not in text[start:] or not line.isascii():
                continue
            at = text.index(line, start)
            words = line.split()
            for other in (" ".join(words[:-1]), " ".join(words[1:]), line.replace(words[-1], "otherwise"), ""):
                edited = text[:at] + other + text[at + len(line) :]
                if not typed.read_back(file, edited):
                    missed.append(("at the build", file, line, other))
                if not typed.told(file, edited):
                    missed.append(("afterwards", file, line, other))
    assert missed == []


def test_a_word_that_a_card_lacks_is_found(typed: Sample, tmp_path: Path) -> None:
    other = built_from([f"“{line.rpartition(' ')[0]}”" for line in LINES], tmp_path / "plan")
    found = audit_against(typed.expected, {"card-a4.pdf": other.files["card-a4.pdf"]})
    told = " ".join(one.message for one in found)
    for _, exercise in typed.expected.episode.exercises():
        assert f"{exercise.label} {exercise.name}" in told


def test_words_beside_figures_may_not_go_either(tmp_path: Path) -> None:
    sample = built_from(["3 × 10, rest 90 s, “add weight each round”", "3 × 8, rest 90 s"], tmp_path / "plan")
    for file in TEXTS:
        text = sample.text(file)
        for what in ("add weight each round", "weight "):
            assert what in text
            edited = text.replace(what, "")
            assert sample.read_back(file, edited), (file, what)
            assert sample.told(file, edited), (file, what)
        assert sample.read_back(file, text) == ()


def test_words_of_one_exercise_are_not_those_of_another(typed: Sample) -> None:
    first, second = typed.expected.exercises[:2]
    swapped = [replace(first.exercise, prescription=second.exercise.prescription), second.exercise]
    expected: Expected = replace(
        typed.expected,
        blocks=(
            replace(
                typed.expected.blocks[0],
                exercises=(replace(first, exercise=swapped[0]), *typed.expected.blocks[0].exercises[1:]),
            ),
        ),
    )
    assert audit_against(expected, {"article.md": typed.files["article.md"]})
