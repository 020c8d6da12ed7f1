"""Where the checkers that come from npm lie: `npm install --prefix tests --no-package-lock --ignore-scripts`."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

HERE = Path(__file__).parents[2]


def module(path: str) -> Path:
    """Return a file of tests/node_modules; the test fails, with what to type, where it is missing."""
    found = HERE / "node_modules" / path
    if not found.exists():
        pytest.fail(f"{path} is missing: npm install --prefix tests --no-package-lock --ignore-scripts")
    return found


def program(name: str) -> str:
    """Return the path of a program; the test fails where the machine has none."""
    found = shutil.which(name)
    if found is None:
        pytest.fail(f"no program {name!r} on the path")
    return found
