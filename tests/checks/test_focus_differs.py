"""Where the focus is judged, and where it is left alone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from repslate.checks.prescription.focus_differs import find
from repslate.facts import Facts
from repslate.source.finding import Finding

Read = tuple[Facts | None, tuple[Finding, ...]]
SAMPLES = sorted(path.parent for path in (Path(__file__).parents[2] / "samples").glob("*/workout.md"))
ROW = "### Seated cable row\n3 × 10, rest 90 s\n"
CURL = "### Biceps curl\n3 × 10, rest 60 s\n"
SQUAT = "### Back squat\n{sets} × 5, rest 2 min\n"
CRUNCH = "### Crunch\n{sets} × 15, rest 60 s\n"
SETS = "## Straight sets\n"

HELPS = "expected a working set that trains it directly, found none; it helps along, which counts as 1.5 sets"
CASES = [
    ("biceps", SETS + ROW + CURL, []),
    (
        "biceps",
        SETS + ROW,
        [f"“biceps” is in the focus, {HELPS}; nearest to it: lats 3 sets, middle traps 3 sets, rhomboids 3 sets"],
    ),
    # A region is taken as it is, and so is what is no muscle; the glutes are one of three.
    ("core", SETS + ROW + "### Plank\n3 × 30 s, rest 60 s\n", []),
    ("balance", SETS + ROW, []),
    ("glutes", SETS + "### Hip abduction\n3 × 15, rest 60 s\n", []),
    # A head is enough for its muscle, and the muscle for its head; another head is not.
    ("triceps", SETS + "### Triceps pushdown\n3 × 12, rest 60 s\n", []),
    ("upper chest", SETS + "### Bench press\n3 × 8, rest 2 min\n", []),
    ("soleus", SETS + "### Standing calf raise\n3 × 12, rest 60 s\n", ["“soleus” is in the focus"]),
    # A warm-up is no work; a stretch, rounds without a number and an unreadable line are.
    ("biceps", f"## Warm-up\n{CURL}{SETS}{ROW}", ["“biceps” is in the focus"]),
    ("hamstrings", "## Straight sets\n### Hamstring stretch\n1 × 30 s per side\n", []),
    ("biceps", f"## As many rounds as possible in 8 min\n### Biceps curl\n10 reps\n{SETS}{ROW}", []),
    ("biceps", f"{SETS}{ROW}### Biceps curl\n3 × many, rest 60 s\n", []),
    # Nobody knows what it trains, or there is no work at all.
    ("biceps", SETS + ROW + "### Zwibbel lift\n3 × 5, rest 60 s\n", []),
    ("biceps", "## Warm-up\n" + CURL, []),
    # More than half of all sets, and more than what is named (our choice).
    ("abs", SETS + SQUAT.format(sets=3) + CRUNCH.format(sets=3), []),
    (
        "abs",
        SETS + SQUAT.format(sets=4) + CRUNCH.format(sets=3),
        ["most of the work goes to glutes and quadriceps, with 4 of 7 sets, expected the focus to name what gets most"],
    ),
    ("abs", SETS + SQUAT.format(sets="3–4") + CRUNCH.format(sets=3), []),
    ("abs, legs", SETS + SQUAT.format(sets=4) + CRUNCH.format(sets=3), []),
    ("heart and lungs", SETS + SQUAT.format(sets=4), []),
]


@pytest.mark.parametrize(("focus", "text", "messages"), CASES)
def test_focus(focus: str, text: str, messages: list[str], read_fragment: Callable[[str], Read]) -> None:
    facts, _ = read_fragment(f"---\nformat: 1\ntitle: A sample\nfocus: [{focus}]\n---\n{text}")
    assert facts is not None
    found = list(find(facts))
    assert len(found) == len(messages), found
    for finding, message in zip(found, messages, strict=True):
        assert finding.message.startswith(message)
        assert (finding.span.line, finding.span.column) == (4, 9)


def test_the_note_says_what_to_type(read_fragment: Callable[[str], Read]) -> None:
    facts, _ = read_fragment(f"---\nfocus: [abs]\n---\n{SETS}{SQUAT.format(sets=4)}{CRUNCH.format(sets=3)}")
    assert facts is not None
    (finding,) = find(facts)
    assert (finding.severity.value, finding.help) == ("note", "type “focus: [abs, glutes, quadriceps]”")


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: folder.name)
def test_silent_on_the_samples(folder: Path, read: Callable[[Path], Read]) -> None:
    facts, _ = read(folder)
    assert facts is not None
    assert list(find(facts)) == []
