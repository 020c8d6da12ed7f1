from __future__ import annotations

import subprocess
import sys

import pytest

from repslate.model.build import read_front_matter
from repslate.model.episode import FrontMatter
from repslate.source.mapping import read_mapping
from repslate.source.models import keys, places
from settings_cases import Case, cases, changed, outcome


@pytest.mark.parametrize("case", cases("front-matter.txt"), ids=lambda case: case.name)
def test_reads_what_it_can_and_tells_the_rest(case: Case) -> None:
    mapping, trouble = read_mapping(case.text, "workout.md", first_line=2)
    assert trouble == ()
    matter, findings = read_front_matter(mapping)
    assert outcome(changed(matter, FrontMatter()), findings) == case.expected


def test_every_written_key_has_its_place() -> None:
    text = cases("front-matter.txt")[0].text
    mapping, _ = read_mapping(text, "workout.md", first_line=2)
    # The first case writes all of them, in this order.
    lines = {key: at for at, key in enumerate(keys(FrontMatter), start=2)}
    assert {key: span.line for key, span in places(mapping).items()} == lines


def test_a_key_that_cannot_be_read_is_not_called_missing() -> None:
    mapping, (trouble,) = read_mapping("format: 1\ntitle: Legs: part two\nlevel: advanced\n", "workout.md")
    assert (trouble.check, set(mapping.broken)) == ("yaml-syntax", {"title"})
    assert read_front_matter(mapping)[1] == ()
    mapping, (trouble,) = read_mapping("format: 1\n title: Legs\nlevel: advanced\n", "workout.md")
    assert (trouble.check, set(mapping.broken)) == ("yaml-syntax", {"title"})
    assert read_front_matter(mapping)[1] == ()


def test_importing_it_loads_nothing_heavy() -> None:
    heavy = "{'pydantic', 'ruamel', 'ruamel.yaml', 'rapidfuzz', 'rich', 'weasyprint'}"
    code = f"import sys; import repslate.model.front_matter, repslate.model.settings; print({heavy} & set(sys.modules))"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "set()"
