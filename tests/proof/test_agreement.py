"""Good builds are silent, every output has a reader, and every finding has a page."""

from __future__ import annotations

import pytest

from proof.sampled import NAMES, Sample
from repslate.checks import pages
from repslate.proof import READERS, audit_against, differences
from repslate.publish import OUTPUTS


@pytest.mark.parametrize("name", NAMES)
def test_a_good_build_is_silent(samples: dict[str, Sample], name: str) -> None:
    sample = samples[name]
    assert audit_against(sample.expected, sample.files, here=True) == ()


def test_every_output_is_read_back() -> None:
    assert set(READERS) == {output.name for output in OUTPUTS}


def test_every_finding_has_a_page_and_every_page_a_finding() -> None:
    given = set(differences.FIX) | {
        "audit-file-missing",
        "audit-changed",
        "audit-stale",
        "audit-left-out",
        "audit-doubt",
    }
    assert {page.name for page in pages() if page.name.startswith("audit-")} == given
    shown = [page for page in pages() if page.name in given]
    assert len(shown) == len(given)
    assert all(all((page.asks, page.why, page.source, page.fix)) for page in shown)
