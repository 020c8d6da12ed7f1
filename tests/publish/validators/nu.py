"""The Nu HTML checker (npm vnu-jar), run by Java without a network."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from publish.validators.modules import module, program

# What the checker says in error about the page's Content-Security-Policy: it does not know data: as a source of
# pictures (CSP Level 3, 6.7.2.8), and takes a block of data for a script (HTML standard, "prepare the script element":
# a data block is never run, so no policy is asked). test_article_valid.py shows that Chromium blocks neither.
MISREAD = re.compile(
    r"Resource violates Content Security Policy \(meta tag\): image “data:image/"
    r"|Inline script violates Content Security Policy .*<script type=\"application/ld\+json\">",
    re.DOTALL,
)


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
    told = ((m, f"{m['message']} {m.get('extract', '')}") for m in messages)
    return [f"{m['url']}:{m.get('lastLine', 0)}: {words}" for m, words in told if not MISREAD.match(words)]
