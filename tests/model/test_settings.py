from __future__ import annotations

from pathlib import Path

import pytest

from repslate.model.contrast import PAPER, TEXT_RATIO, ratio
from repslate.model.series import PROFILES, Series, read_series
from repslate.model.settings import is_clear_disclosure
from settings_cases import Case, cases, changed, outcome


@pytest.mark.parametrize("case", cases("series.txt"), ids=lambda case: case.name)
def test_reads_what_it_can_and_tells_the_rest(case: Case, tmp_path: Path) -> None:
    (tmp_path / "series.yaml").write_text(case.text, "utf-8")
    series, findings = read_series(tmp_path)
    assert outcome(changed(series, Series()), findings) == case.expected


def test_the_nearest_file_counts(tmp_path: Path) -> None:
    episode = tmp_path / "winter" / "seven"
    episode.mkdir(parents=True)
    (tmp_path / "series.yaml").write_text("brand: Outer\naccent: '#fff'\n", "utf-8")
    series, (finding,) = read_series(episode)
    assert (series.brand, finding.span.file, finding.span.line) == ("Outer", "../../series.yaml", 2)
    (episode / "series.yaml").write_text("brand: Inner\n", "utf-8")
    series, findings = read_series(episode)
    assert (series.brand, series.span and series.span.file, findings) == ("Inner", "series.yaml", ())


def test_looks_no_higher_than_twelve_folders(tmp_path: Path) -> None:
    (tmp_path / "series.yaml").write_text("brand: Far\n", "utf-8")
    eleven_up = tmp_path.joinpath(*"abcdefghijk")
    twelve_up = eleven_up / "l"
    twelve_up.mkdir(parents=True)
    assert read_series(eleven_up)[0].brand == "Far"
    assert read_series(twelve_up) == (Series(), ())


def test_a_file_that_cannot_be_read_is_told_and_not_passed_over(tmp_path: Path) -> None:
    (tmp_path / "series.yaml").write_text("brand: Outer\n", "utf-8")
    episode = tmp_path / "seven"
    (episode / "series.yaml").mkdir(parents=True)
    series, (finding,) = read_series(episode)
    assert (series, finding.check) == (Series(), "file-unreadable")


def test_a_broken_line_and_a_wrong_value_are_both_told_in_order(tmp_path: Path) -> None:
    (tmp_path / "series.yaml").write_text("units: stones\nbrand: A: B\nsite: x\n", "utf-8")
    _, findings = read_series(tmp_path)
    assert [finding.check for finding in findings] == ["wrong-value", "yaml-syntax", "wrong-value"]


def test_the_defaults_keep_their_own_rules() -> None:
    default = Series()
    assert is_clear_disclosure(default.disclosure.replace("{sponsor}", ""))
    assert ratio(default.accent, PAPER) >= TEXT_RATIO
    assert {default.host.caption.name, default.host.description.name} <= set(PROFILES)


@pytest.mark.parametrize(
    ("text", "clear"),
    [  # FTC, Disclosures 101 for Social Media Influencers (Nov 2019): the clear words and the unclear ones
        ("Ad", True),
        ("#ad: chalk", True),
        ("Advertisement", True),
        ("This is sponsored by us", True),
        ("sp", False),
        ("spon", False),
        ("collab", False),
        ("Thanks, partner", False),
        ("ambassador", False),
        ("made in Adelaide", False),
    ],
)
def test_clear_disclosure(text: str, *, clear: bool) -> None:
    assert is_clear_disclosure(text) is clear
