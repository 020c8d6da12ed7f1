"""The text outputs of every sample, word for word, so that a changed sentence or figure shows in a review.

After a wanted change: REPSLATE_GOLDEN=write pytest tests/publish/test_golden.py, then read the diff.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

GOLDEN = Path(__file__).parents[1] / "golden"
NAMES = ("article.md", "description.txt", "caption.txt", "chapters.txt", "chapters.vtt", "chapters.ffmeta")


@pytest.mark.parametrize("name", NAMES)
def test_text_outputs_read_as_reviewed(built_samples: dict[str, Path], name: str) -> None:
    for sample, folder in built_samples.items():
        reviewed = GOLDEN / sample / name
        text = (folder / name).read_text("utf-8")
        if os.environ.get("REPSLATE_GOLDEN") == "write":
            reviewed.parent.mkdir(parents=True, exist_ok=True)
            reviewed.write_text(text, "utf-8")
        assert text == reviewed.read_text("utf-8"), f"{sample}/{name}"
