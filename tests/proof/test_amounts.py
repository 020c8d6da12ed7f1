"""Every kind of work, load and rest that the notation has, built and read back: a changed figure of any is found."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from proof.mutations import mutations
from proof.sampled import Sample
from repslate import api
from repslate.proof.expected import expect
from repslate.source.finding import Severity

EPISODE = Path(__file__).parents[1] / "data" / "amounts"
_FIGURES = ("figure", "digits swapped", "unit or side")


@pytest.fixture(scope="module")
def amounts(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    source = tmp_path_factory.mktemp("amounts") / "all"
    shutil.copytree(EPISODE, source)
    built = api.build(source, tmp_path_factory.mktemp("built"))
    assert built.value is not None, built.findings
    assert not [one for one in built.findings if one.check.startswith("audit") and one.severity is Severity.ERROR]
    facts = api.read(source).value
    assert facts is not None
    files = {path.name: path.read_bytes() for path in built.value.folder.iterdir() if path.is_file()}
    return Sample(built.value.folder, expect(facts), files)


@pytest.mark.parametrize("file", ["description.txt", "article.md"])
def test_every_changed_figure_of_a_dose_is_found(amounts: Sample, file: str) -> None:
    lines = amounts.text(file).split("\n")
    doses = [line for line in lines if re.match(r"(?:- )?(?:[A-Z]{1,2}\d+ .*: |\*\*\d)", line)]
    made = [one for one in mutations(amounts) if one.file == file and one.kind in _FIGURES]
    changed = [one for one in made if any(line not in one.text.split("\n") for line in doses)]
    assert len(changed) >= 60
    missed = [(one.kind, one.what) for one in changed if not amounts.read_back(file, one.text)]
    assert missed == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("last set max", "last set"), (", last set max", ""), ("rest as needed", "rest 60 s"), ("% TM", "% 1RM"),
        ("5 s hold each", "6 s hold each"), ("of the top set", "of working load"), ("of snatch", "of bench press"),
        ("24 / 16 kg", "24–16 kg"), ("red band", "blue band"), ("empty bar", "20 kg"), ("15 cal", "15 breaths"),
        ("(7 + 7 + 7)", "(8 + 7 + 6)"), ("(1 + 2)", "(2 + 1)"), ("3 s down", "3 s up"), ("@ light", "@ heavy"),
        ("as heavy as possible", "as light as possible"), ("2 lengths", "2 km"), ("1.5 km", "1.5 m"),
        ("2 drops", "2 drops of 20 %"), (" + 6 partials", ""), ("8RM", "8 kg"), ("of bodyweight", "1RM"),
    ],
)  # fmt: skip
def test_a_changed_kind_is_found(amounts: Sample, old: str, new: str) -> None:
    assert amounts.changed("description.txt", old, new)
