"""The proof of the audit in figures: python tests/benchmarks/proof.py [--cards]

Builds every sample, makes every change of meaning and every harmless edit, one at a time, and prints how many the
audit found and left alone, by kind, with the time of one audit; with --cards also cards built from altered sources.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

TESTS = Path(__file__).parents[1]
sys.path[0] = str(TESTS)  # in place of this folder, where proof.py stands in the way of the tests of that name

from proof.mutations import Change, altered_cards, harmless, mutations  # noqa: E402 - the path comes first
from proof.sampled import NAMES, Sample  # noqa: E402
from repslate import api  # noqa: E402
from repslate.proof import audit_against  # noqa: E402
from repslate.proof.expected import expect  # noqa: E402

SAMPLES = TESTS.parent / "samples"


def main() -> None:
    """Print both figures, the kinds behind them, and every change that was missed or edit that was told."""
    with TemporaryDirectory() as out:
        samples = {name: _built(name, Path(out)) for name in NAMES}
        found = _run(samples, "changes of meaning found", mutations, wanted=True)
        silent = _run(samples, "harmless edits left alone", harmless, wanted=False)
        if "--cards" in sys.argv:
            _cards(samples, Path(out))
    print(f"\n{found[0]} of {found[1]} changes of meaning found, {silent[0]} of {silent[1]} harmless edits left alone")


def _built(name: str, out: Path) -> Sample:
    built = api.build(SAMPLES / name, out)
    facts = api.read(SAMPLES / name).value
    if built.value is None or facts is None:
        raise SystemExit(f"{name} does not build")
    files = {path.name: path.read_bytes() for path in built.value.folder.iterdir() if path.is_file()}
    return Sample(built.value.folder, expect(facts), files)


def _run(
    samples: dict[str, Sample], title: str, make: Callable[[Sample], Iterable[Change]], *, wanted: bool
) -> tuple[int, int]:
    right: Counter[str] = Counter()
    every: Counter[str] = Counter()
    wrong: list[str] = []
    start = process_time()
    for name, sample in samples.items():
        seen: set[tuple[str, int]] = set()
        for one in make(sample):
            if (one.file, hash(one.text)) in seen:
                continue
            seen.add((one.file, hash(one.text)))
            every[one.kind] += 1
            said = sample.told(one.file, one.text)
            right[one.kind] += bool(said) is wanted
            if bool(said) is not wanted:
                wrong.append(f"  {name} {one.file}: {one.kind}: {one.what}" + (f": {said[0].message}" if said else ""))
    each = (process_time() - start) / max(1, every.total())
    print(f"\n{title} ({each * 1000:.0f} ms each)")
    for kind, count in sorted(every.items()):
        print(f"  {kind:24} {right[kind]:5} of {count}")
    print("\n".join(wrong))
    return right.total(), every.total()


def _cards(samples: dict[str, Sample], out: Path) -> None:
    made = [
        (name, file, what, bool(audit_against(samples[name].expected, {file: data}, here=True)))
        for name in samples
        for file, what, data in altered_cards(SAMPLES / name, out / "altered" / name, every=3)
    ]
    print(f"\ncards built from an altered source found: {sum(one[3] for one in made)} of {len(made)}")
    print("\n".join(f"  {name} {file}: {what}" for name, file, what, found in made if not found))


if __name__ == "__main__":
    main()
