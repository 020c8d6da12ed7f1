"""One slip is said once: what a reader has found leaves out what only follows from it, and nothing else."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from repslate.checks import CHECKS, name_of, pages, run
from repslate.checks.causes import CAUSES
from repslate.checks.pages import read_pages
from repslate.facts import Facts
from repslate.source.finding import Finding

ReadFragment = Callable[[str], tuple[Facts | None, tuple[Finding, ...]]]

SAFE = "## Safety\nClear the floor.\n"
TWO = f"## Straight sets\n### Goblet squat\n3 × 5, rest 2 min\n### Push-up\n3 × 5, rest 2 min\n{SAFE}"
ROUNDS = "## {heading} · 3 rounds · rest 90 s\n### Goblet squat\n10 reps\n### Push-up\n10 reps\n" + SAFE
LOW = "## Straight sets\n### Push-up\n{first}\n\n{prose}\n### Plank\n3 × 30 s\n" + SAFE
FRONT = "---\nformat: 1\ntitle: T\n{line}\ngoal: power\nlevel: advanced\n---\n" + TWO
OTHERS = {
    "markers-missing", "caution-missing", "rest-unusual", "reps-unusual", "sets-unusual", "focus-differs",
    "warm-up-missing",
}  # fmt: skip

CASES = [
    ("chapters.txt:\n0:00 Welcome\n1.00 Goblet squat\n2:00 Push-up\n", TWO, ["marker-unreadable error"]),
    ("chapters.txt:\n0.00 Welcome\n1:00 Goblet squat\n2:00 Push-up\n", TWO, ["marker-unreadable error"]),
    (
        "chapters.txt:\n0:12 Welcome\n1.00 Goblet squat\n2:00 Push-up\n",
        TWO,
        ["chapters-start error", "marker-unreadable error"],
    ),
    ("chapters.txt:\n⟨FC⟩\n", TWO, ["encoding error"]),
    ("chapters.txt:\n0:00 Hello\n1:00 Goblet of fire\n2:00 Push-up\n", TWO, ["chapter-unmatched warning"]),
    (
        "chapters.txt:\n0:00 Hello\n1:00 My story\n2:00 Push-up\n",
        TWO,
        ["chapter-unmatched note", "exercise-without-chapter warning"],
    ),
    ("chapters.txt:\n0:00 Hello\n1:00 A {goblet}\n2:00 Push-up\n", TWO, ["chapter-id-unknown error"]),
    ("", ROUNDS.format(heading="Supreset A"), ["block-kind-unknown note"]),
    ("", ROUNDS.format(heading="Zwibbel"), ["block-kind-unknown note"]),
    ("", "## Zwibbel\n### Push-up\n1 × 5\n## Safety\nClear.\n", ["block-kind-unknown note"]),
    (
        "",
        ROUNDS.format(heading="Supreset A").replace("### Push-up", "## Straight sets\n### Push-up"),
        ["block-kind-unknown note", "rest-missing warning", "sets-missing warning"],
    ),
    (
        "",
        "## Zwibbel\nQuiet (block-kind-unknown): ours\n### Push-up\n10 reps, rest 2 min\n## Safety\nClear.\n",
        [],
    ),
    ("", LOW.format(first="3 × 5", prose="rest 2 min"), ["prescription-elsewhere warning", "rest-missing warning"]),
    (
        "",
        LOW.format(first="5 reps, rest 2 min", prose="3 sets"),
        ["prescription-elsewhere warning", "rest-missing warning"],
    ),
    ("", FRONT.format(line="presenter: [P, Q]"), ["wrong-value error"]),
    ("", FRONT.format(line='presenter: "Robin'), ["yaml-syntax error"]),
    ("", FRONT.format(line="presenter:"), ["presenter-missing note"]),
]


@pytest.mark.parametrize(("file", "workout", "said"), CASES)
def test_said_once(file: str, workout: str, said: list[str], read_fragment: ReadFragment) -> None:
    front = (
        ""
        if workout.startswith("---")
        else "---\nformat: 1\ntitle: T\npresenter: Robin\ngoal: power\nlevel: advanced\n---\n"
    )
    facts, findings = read_fragment(front + workout + file)
    assert facts is not None
    kept, _ = run(facts, read=findings)
    assert sorted(f"{one.check} {one.severity}" for one in kept if one.check not in OTHERS) == said


def test_the_table_names_what_there_is() -> None:
    assert set(CAUSES) <= {page.name for page in pages()} - set(map(name_of, CHECKS))
    followers = {name for causes in CAUSES.values() for cause in causes for name in cause.checks}
    assert followers <= set(map(name_of, CHECKS)) - {page.name for page in read_pages()}
