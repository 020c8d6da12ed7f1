"""The Nu HTML checker (npm vnu-jar), run by Java without a network."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from publish.validators.modules import module, program


def nu_messages(pages: Sequence[Path]) -> list[str]:
    """Return every message of the checker on `pages` with its place, errors and hints alike; valid pages give none."""
    jar = module("vnu-jar/build/dist/vnu.jar")
    run = subprocess.run(
        [program("java"), "-Xss4m", "-jar", str(jar), "--format", "json", "--stdout", *map(str, pages)],
        capture_output=True,
        check=False,
        timeout=120,
    )
    messages: list[dict[str, Any]] = json.loads(run.stdout)["messages"]
    return [f"{m['url']}:{m.get('lastLine', 0)}: {m['message']} {m.get('extract', '')}" for m in messages]
