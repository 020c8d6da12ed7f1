"""An episode with a block of every form: it builds without a word of doubt, and no part of a heading may change."""

from __future__ import annotations

from pathlib import Path

import pytest

from proof.sampled import Sample
from repslate import api
from repslate.model.forms import BlockKind
from repslate.proof.expected import expect
from repslate.source.finding import Severity

EPISODE = Path(__file__).parents[1] / "data" / "every-form"


@pytest.fixture(scope="module")
def every(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    facts = api.read(EPISODE).value
    built = api.build(EPISODE, tmp_path_factory.mktemp("forms"))
    assert facts is not None
    assert built.value is not None, built.findings
    assert [one for one in built.findings if one.severity is not Severity.NOTE] == []
    folder = built.value.folder
    return Sample(folder, expect(facts), {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()})


def test_it_has_every_form(every: Sample) -> None:
    assert {block.block.kind for block in every.expected.blocks} == set(BlockKind)


TEXTS = ("article.md", "article.html", "caption.txt", "description.txt")


@pytest.mark.parametrize("name", TEXTS)
def test_all_of_it_reads_back(every: Sample, name: str) -> None:
    assert every.read_back(name, every.text(name)) == ()


#: What a block's line says in every text, and the same with one part changed.
LINES = [
    ("Flow** · 3 rounds", "Flow** · 4 rounds"),
    ("Every 2 min** · for 10 min", "Every 3 min** · for 10 min"),
    ("Every 2 min** · for 10 min", "Every 2 min** · for 12 min"),
    ("for 5 rounds · all every turn", "for 6 rounds · all every turn"),
    ("for 5 rounds · all every turn", "for 5 rounds · alternating"),
    ("for 5 rounds · all every turn", "for 5 rounds"),
    ("8 × 20 s on / 10 s off · alternating", "8 × 25 s on / 10 s off · alternating"),
    ("8 × 20 s on / 10 s off · alternating", "8 × 20 s on / 15 s off · alternating"),
    ("8 × 20 s on / 10 s off · alternating", "6 × 20 s on / 10 s off · alternating"),
    ("8 × 20 s on / 10 s off · alternating", "alternating"),
    ("3 sets of 5 × 2 min on / 2 min off", "4 sets of 5 × 2 min on / 2 min off"),
    ("2 min off · rest 3 min after each set", "2 min off · rest 4 min after each set"),
    ("2 min off · rest 3 min after each set", "2 min off · rest 3 min after each round"),
    ("21-15-9 reps · cap 12 min", "21-15-12 reps · cap 12 min"),
    ("21-15-9 reps · cap 12 min", "21-15-9 reps · cap 14 min"),
    ("21-15-9 reps · cap 12 min", "21-15-9 reps"),
    ("21-15-9 reps · cap 12 min", "cap 12 min"),
    ("3-6-9-12-… reps · in 10 min", "3-6-9-12 reps · in 10 min"),
    ("3-6-9-12-… reps · in 10 min", "3-6-9-12-… reps · in 12 min"),
    ("10 rounds · in pairs", "10 rounds · in teams of 4"),
    ("10 rounds · in pairs", "10 rounds"),
    ("in 6 min · in teams of 3", "in 6 min · in pairs"),
]


#: The same on the page, among its tags.
ON_PAGE = [
    ("21-15-9 reps", "21-15-12 reps"),
    ("cap 12 min", "cap 14 min"),
    ("8 × 20 s</span> on", "8 × 25 s</span> on"),
    ("10 s</span> off", "15 s</span> off"),
    ("30 s on / 15 s off", "30 s on / 20 s off"),
    (" · alternating", ""),
    ("all every turn", "alternating"),
    ("in pairs", "in teams of 4"),
    ("3-6-9-12-…", "3-6-9-12"),
]


@pytest.mark.parametrize("file", ["article.md", "caption.txt"])
@pytest.mark.parametrize(("old", "new"), LINES)
def test_no_part_of_a_heading_may_change(every: Sample, file: str, old: str, new: str) -> None:
    if file == "caption.txt":
        old, new = old.replace("**", ""), new.replace("**", "")
    found = every.changed(file, old, new)
    assert any(one.severity is Severity.ERROR for one in found), found


@pytest.mark.parametrize(("old", "new"), ON_PAGE)
def test_nor_on_the_page(every: Sample, old: str, new: str) -> None:
    found = every.changed("article.html", old, new)
    assert any(one.severity is Severity.ERROR for one in found), found
