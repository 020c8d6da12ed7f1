"""Which exercise is named when: names said in any way a presenter says them, and none that nobody said."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.cue import Cue
from repslate.cut.named import mentions
from repslate.model.build import build
from repslate.model.episode import Episode
from repslate.model.library import load
from repslate.model.series import Series
from repslate.source.outline import read_outline
from repslate.source.span import Span

CASES = Path(__file__).parents[1] / "cases" / "named" / "said.txt"
NAMES = (
    "Goblet squat", "Rear-foot-elevated split squat", "One-arm row", "Push-up", "90/90 hip switch", "Dead bug",
    "Kettlebell Romanian deadlift", "Single-leg calf raise",
)  # fmt: skip


def episode(*names: str) -> Episode:
    text = "## Straight sets\n" + "".join(f"### {name}\n3 × 8, rest 90 s\n\n" for name in names)
    outline, _ = read_outline(text, "workout.md")
    return build(outline, Series(), load(), folder_name="e", file="workout.md")[0]


EPISODE = episode(*NAMES)


def cases() -> list[tuple[str, list[Cue], list[str]]]:
    found = []
    for part in CASES.read_text("utf-8").split("\n\n")[1:]:
        name, *lines = part.strip().splitlines()
        cues = []
        for line in lines:
            if read := re.fullmatch(r"([\d.]+)–([\d.]+) (.*)", line):
                cues.append(Cue(Fraction(read[1]), Fraction(read[2]), read[3], Span("subtitles.srt")))
        found.append((name, cues, [line.removeprefix("> ") for line in lines if line.startswith("> ")]))
    return found


@pytest.mark.parametrize(("cues", "expected"), [case[1:] for case in cases()], ids=[case[0] for case in cases()])
def test_names_are_heard(cues: list[Cue], expected: list[str]) -> None:
    found = [f"{float(m.cue.start)} {m.exercise}{'' if m.sure else ' ?'}" for m in mentions(cues, EPISODE)]
    assert found == expected


@given(st.sampled_from(NAMES), st.lists(st.sampled_from("and then we breathe slowly please now".split()), max_size=6))
def test_every_name_is_heard_wherever_the_cues_break(name: str, before: list[str]) -> None:
    said = [*before, *name.split(), "everyone"]
    cues = [Cue(Fraction(n), Fraction(n + 1), word, Span("subtitles.srt", n + 1)) for n, word in enumerate(said)]
    found = [mention for mention in mentions(cues, episode(name)) if mention.sure]
    assert [mention.cue.start for mention in found] == [len(before)]
    assert name in found[0].words
