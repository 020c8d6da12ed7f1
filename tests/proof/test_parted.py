"""An exercise in several parts is published part by part, counted as a whole, and every part is read back."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

from proof.sampled import Sample
from repslate import api
from repslate.documents import to_json
from repslate.proof import audit_against
from repslate.proof.expected import expect
from repslate.proof.pdf import Unreadable, read_own_pdf
from repslate.training.duration import session_time

HEAD = "---\nformat: 1\ntitle: Parted\npresenter: Robin\ngoal: strength\nlevel: advanced\n---\nWarm up well first.\n\n"
PLAN = """## Straight sets
### Barbell row
Ramp: 5/3 @ 40/60 % 1RM, rest 60 s
Top set: 1 × 2 @ 85 % 1RM, rest 3 min
Back-offs: 4 × 4 @ 75 % 1RM, rest 2 min
Finish: until it burns x 2

Smooth and even.

Caution (back): Keep the back neutral and the load close, and stop the set when the back rounds.
### Push-up
3 × 8, rest 60 s
2 × 12, rest 90 s

## Safety
Stop when you feel dizzy.
"""
PARTS = (
    "Ramp: 1 × 5 @ 40 % 1RM", "1 × 3 @ 60 %", "Top set: 1 × 2 @ 85 %", "Back-offs: 4 × 4 @ 75 %", "until it burns x 2",
    "3 × 8", "2 × 12",
)  # fmt: skip
TEXTS = ("article.html", "article.md", "description.txt", "caption.txt")


def built_from(plan: str, folder: Path) -> Sample:
    folder.mkdir(parents=True)
    (folder / "workout.md").write_text(HEAD + plan, "utf-8")
    built = api.build(folder, folder.parent / "out")
    assert built.value is not None, built.findings
    facts = api.read(folder).value
    assert facts is not None
    return Sample(folder, expect(facts), {one.name: one.read_bytes() for one in built.value.folder.iterdir()})


@pytest.fixture(scope="module")
def parted(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    return built_from(PLAN, tmp_path_factory.mktemp("parted") / "plan")


def shown(text: str) -> str:
    page = re.sub(r"<style.*?</style>|<script.*?</script>", "", text, flags=re.DOTALL)
    return " ".join(re.sub("<[^>]*>", "", page).split())


def test_each_part_stands_in_every_output(parted: Sample) -> None:
    for file in TEXTS:
        text = shown(parted.text(file))
        for part in PARTS:
            assert (part.partition(" @")[0] if file == "caption.txt" else part) in text, (file, part)
    for part in PARTS:
        assert part in parted.text("article.html").split("ExercisePlan", 1)[1]


def test_each_part_has_a_line_of_its_own_on_the_card(parted: Sample) -> None:
    pages = read_own_pdf(parted.files["card-a4.pdf"])
    assert not isinstance(pages, Unreadable)
    rows = [
        round(line.y) for page in pages for line in page.lines if line.text.startswith(("Ramp", "Top", "Back-o", "Fin"))
    ]
    assert len(set(rows)) == 5


def test_the_document_has_each_part(parted: Sample) -> None:
    row, push = json.loads(to_json(api.read(parted.folder)))["blocks"][0]["exercises"]
    assert [part["name"] for part in row["parts"]] == ["Ramp", "Ramp", "Top set", "Back-offs", "Finish"]
    assert [part["warm_up"] for part in row["parts"]] == [True, True, False, False, False]
    assert [part["prescription"] for part in push["parts"]] == ["3 × 8, rest 60 s", "2 × 12, rest 90 s"]


def test_sets_time_and_loads_are_of_all_parts(tmp_path: Path) -> None:
    sample = built_from(PLAN.replace("Finish: until it burns x 2\n", ""), tmp_path / "plan")
    numbers = sample.expected.numbers
    sets = {row.shown: row.direct for row in numbers.muscles}
    assert sets["lats"].low == sets["lats"].high == 5, "those of the ramp are none of the work"
    assert sets["chest"].low == 5
    assert [loads.percent.low for loads in numbers.loads["barbell-row"]] == [40, 60, 85, 75]
    time = session_time(
        sample.expected.episode, set_up=Fraction(0), change_over=Fraction(0), between_blocks=Fraction(0)
    )
    # Rests: of the ramp one of 60 s after each set, of the top set 180 s, of the back-offs three between and one behind
    # of 120 s; of the push-ups two of 60 s and one before the next part, and one of 90 s.
    assert time.rest.low == 2 * 60 + 180 + 4 * 120 + 3 * 60 + 90


def test_a_part_that_is_changed_is_found(parted: Sample) -> None:
    missed = []
    changes = [
        ("4 × 4", "4 × 5"), ("1 × 2", "1 × 3"), ("Top set", "Main set"), ("Back-offs:", "Ramp:"),
        ("until it burns x 2", ""),
        ("it burns", "it stings"), ("2 × 12", "2 × 15"), ("3 × 8", ""), ("85 % 1RM, rest 3 min", "85 % 1RM"),
        ("rest 90 s", "rest 60 s"),
    ]  # fmt: skip
    for file in ("article.md", "description.txt", "caption.txt"):
        text = parted.text(file)
        for old, new in changes:
            for found in re.finditer(re.escape(old), text):
                edited = text[: found.start()] + new + text[found.end() :]
                if not parted.read_back(file, edited):
                    missed.append(("at the build", file, old, new))
                if not parted.told(file, edited):
                    missed.append(("afterwards", file, old, new))
    assert missed == []


def test_a_whole_part_that_is_dropped_is_found(parted: Sample) -> None:
    text = parted.text("article.md")
    for line in [line for line in text.split("\n") if line.startswith("- **")]:
        edited = text.replace(f"{line}\n", "", 1)
        assert parted.read_back("article.md", edited), line
        assert parted.told("article.md", edited), line
    html = parted.text("article.html")
    spans = list(re.finditer(r'<span class="part">.*?</span>(?=<span class="part">|</td>|</p>)', html, re.DOTALL))
    assert len(spans) == 14
    for span in spans:
        edited = html[: span.start()] + html[span.end() :]
        assert parted.read_back("article.html", edited), span[0]
        assert parted.told("article.html", edited), span[0]


def test_a_card_of_other_parts_is_found(parted: Sample, tmp_path: Path) -> None:
    for number, (old, new) in enumerate(
        [("4 × 4", "4 × 5"), ("Finish: until it burns x 2\n", ""), ("2 × 12", "2 × 11")]
    ):
        other = built_from(PLAN.replace(old, new), tmp_path / str(number) / "plan")
        assert audit_against(parted.expected, {"card-a4.pdf": other.files["card-a4.pdf"]}), old
