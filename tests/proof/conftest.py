"""What the audit's tests share: the samples, built once, as facts and as bytes."""

from __future__ import annotations

from pathlib import Path

import pytest

from proof.sampled import Sample
from repslate import api
from repslate.proof.expected import expect

SAMPLES = Path(__file__).parents[2] / "samples"


def _sample(name: str, built: Path) -> Sample:
    facts = api.read(SAMPLES / name).value
    assert facts is not None
    return Sample(built, expect(facts), {path.name: path.read_bytes() for path in built.iterdir() if path.is_file()})


@pytest.fixture(scope="session")
def samples(built_samples: dict[str, Path], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Sample]:
    """Every sample: those that other stages share, and the one with a film."""
    built = api.build(SAMPLES / "harbour-cut", tmp_path_factory.mktemp("cut"))
    assert built.value is not None, built.findings
    return {
        name: _sample(name, folder) for name, folder in {**built_samples, "harbour-cut": built.value.folder}.items()
    }


@pytest.fixture(scope="session")
def boathouse(samples: dict[str, Sample]) -> Sample:
    return samples["boathouse-kettlebells"]


@pytest.fixture(scope="session")
def harbour(samples: dict[str, Sample]) -> Sample:
    return samples["harbour-cut"]
