"""What several stages' tests share: the three samples, built once."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

# Before a landing the same examples every time, so that red means the change; by hand new ones.
# No deadline: how long an example takes says more of the machine's load than of the code.
settings.register_profile("by hand", deadline=None)
settings.register_profile("landing", parent=settings.get_profile("by hand"), derandomize=True)
settings.load_profile("landing" if os.environ.get("CI") else "by hand")

SAMPLES = Path(__file__).parents[1] / "samples"
SAMPLE_NAMES = ("boathouse-kettlebells", "school-hall-circuit", "chair-session")


@pytest.fixture(scope="session")
def built_samples(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Build every sample and return the folder of its outputs, by the name of its own folder."""
    from repslate import api

    out = tmp_path_factory.mktemp("output")
    folders = {}
    for name in SAMPLE_NAMES:
        built = api.build(SAMPLES / name, out)
        assert built.value is not None, built.findings
        folders[name] = built.value.folder
    return folders
