"""The proof: at least a thousand changes of meaning, each found; at least three hundred harmless edits, each silent."""

from __future__ import annotations

from itertools import islice
from pathlib import Path

import pytest

from proof.mutations import altered_cards, harmless, mutations
from proof.sampled import NAMES, Sample
from repslate.proof import audit_against

SAMPLES = Path(__file__).parents[2] / "samples"
_NTH = 5  # changes of meaning of which one is made here, and
_EDITS = 3  # harmless edits of which one is; tests/benchmarks/proof.py makes all


@pytest.mark.parametrize("name", NAMES)
def test_every_change_of_meaning_is_found(samples: dict[str, Sample], name: str) -> None:
    made = islice(mutations(samples[name]), 0, None, _NTH)
    missed = [(one.file, one.kind, one.what) for one in made if not samples[name].told(one.file, one.text)]
    assert missed == []


@pytest.mark.parametrize("name", NAMES)
def test_every_harmless_edit_is_silent(samples: dict[str, Sample], name: str) -> None:
    wrong = []
    for one in islice(harmless(samples[name]), 0, None, _EDITS):
        wrong += [(one.file, one.kind, one.what, said.message) for said in samples[name].told(one.file, one.text)[:1]]
    assert wrong == []


def test_the_proof_is_as_large_as_it_says(samples: dict[str, Sample]) -> None:
    made = {(name, one.file, hash(one.text)) for name in NAMES for one in mutations(samples[name])}
    edits = {(name, one.file, hash(one.text)) for name in NAMES for one in harmless(samples[name])}
    assert len(made) // _NTH >= 1000
    assert len(edits) // _EDITS >= 300
    assert not made & edits


@pytest.mark.parametrize("name", NAMES)
def test_a_card_from_another_source_is_found(samples: dict[str, Sample], name: str, tmp_path: Path) -> None:
    for file, what, data in altered_cards(SAMPLES / name, tmp_path, every=9):
        assert audit_against(samples[name].expected, {file: data}, here=True), (file, what)
