"""Random episodes that must build: python tests/benchmarks/episodes.py [HOW MANY] [FIRST SEED]

Writes and builds each, and prints the refusals with what was said; an episode that `check` refuses is no refusal.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

TESTS = Path(__file__).parents[1]
sys.path.insert(0, str(TESTS))

from made_episodes import write_episode  # noqa: E402 - the path comes first
from repslate import api  # noqa: E402
from repslate.source.finding import Finding, Severity  # noqa: E402


def main() -> None:
    """Build the episodes of as many seeds, and count."""
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    counts: Counter[str] = Counter()
    for seed in range(first, first + how_many):
        with TemporaryDirectory() as place:
            kind, told = _built(Path(place), seed)
        counts[kind] += 1
        for one in told:
            print(f"{seed}: {kind}: {one.check}: {one.message[:300]}", flush=True)
            counts[f"  {kind}: {one.check}"] += 1
        if (seed - first + 1) % 50 == 0:
            print(f"{seed - first + 1} done, {counts['refused']} refused", flush=True)
    print("\n".join(f"{count:6} {kind}" for kind, count in sorted(counts.items())))


def _built(place: Path, seed: int) -> tuple[str, tuple[Finding, ...]]:
    folder = place / "series" / f"made-{seed}"
    write_episode(folder, seed)
    built = api.build(folder, place / "output")
    wrong = tuple(one for one in built.findings if one.severity is Severity.ERROR)
    if built.value is None:
        checked = {one.check for one in api.check(folder).findings if one.severity is Severity.ERROR}
        return ("check says no" if checked else "refused"), wrong
    return f"built, {len(built.value.skipped)} skipped", ()


if __name__ == "__main__":
    main()
